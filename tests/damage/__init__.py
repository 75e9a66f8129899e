"""Drawings spoiled on purpose, taken in by the command, and judged against what they began as.

A part's whole outline (`original`) becomes plain strokes, each module of `ways/` spoils them in one
way, `spoiled_dxf` writes them with ezdxf. `taking` calls ``sketcher import`` and `verdicts` judges
what it wrote. Of the program only the whole outline of a solved part is used, and what its commands
write; all else is plain trigonometry, numpy, shapely and ezdxf. ``python -m tests.damage`` prints
the table.
"""
