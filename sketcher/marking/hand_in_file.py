"""Read a hand-in from its file: a part file, or a DXF of any origin."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from sketcher.marking.hand_in import HandCurve, HandIn, LayerRole


def read_hand_in(path: str | Path, layers: Mapping[str, LayerRole] | None = None) -> HandIn:
    """Return what a file holds; nothing is repaired.

    Parameters
    ----------
    path : str or Path
    layers : mapping of str to LayerRole, optional
        What layers are for, by name in lower case, where a class agreed on it.

    Raises
    ------
    SketcherError
        When it cannot be read.
    """
    path = Path(path)
    if path.suffix.lower() == ".json":
        return _part_file(path)
    return _dxf(path, layers or {})


def _dxf(path: Path, layers: Mapping[str, LayerRole]) -> HandIn:
    from sketcher.exchange.dxf_read import read_dxf

    content = read_dxf(path)
    curves = tuple(HandCurve(each.curve, each.entity, layers.get(
        each.layer.lower(), "center" if "center" in each.layer.lower() else "outline"))
        for each in content.curves)
    return HandIn(path.name, curves, content.unit, content.factor, content.entities,
                  content.dimensions, content.words, content.mended, content=content)


def _part_file(path: Path) -> HandIn:
    from sketcher.inspect.sketched import solve_sketch
    from sketcher.part.store import load
    from sketcher.part.whole import whole

    solution = solve_sketch(load(path))
    curves = tuple(HandCurve(piece.curve, number) for number, piece in enumerate(
        (p for p in whole(solution.part) if p.role == "outline"), 1))
    return HandIn(path.name, curves, solution.part.unit, part=solution.part,
                  report=solution.report)
