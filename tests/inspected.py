"""Inspect a part as it was sketched: solved first, as a file is that the program opens."""

from __future__ import annotations

from sketcher.inspect.inspection import Inspection, inspect_part
from sketcher.inspect.sketched import solve_sketch
from sketcher.part.value import Part


def inspected(part: Part) -> Inspection:
    """Return the inspection of the solution of a part."""
    solution = solve_sketch(part)
    return inspect_part(solution.part, solution.report)
