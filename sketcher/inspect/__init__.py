"""Inspection: every dimension, joint, loop and cutting rule of the whole part, measured.

`inspection.inspect_part(part, report)` measures a solved part; `Inspection.as_dict` is its JSON.
`sketched.solve_sketch(part)` solves what was drawn by hand. `cleanup.defects(part)` tells
leftovers, each with the edit that would mend it; `cleanup.mend_all(part)` takes those that are
sure. `release` decides what may leave with findings.

A part is never changed here but by its edits, and nothing is drawn. Questions about many curves
ask `interrupt.check` once a curve, a hole or a step.
"""
