"""Words behind the size of a hole: its thread, and that it is drilled and not cut."""

from __future__ import annotations

from sketcher.inspect.drilled_holes import DrilledHoles
from sketcher.part.value import CircleCurve, Part

DRILL = {"ISO": "drill", "ASME": "DRILL"}
"""How a hole is called out to be drilled (from memory: older practice of both; today's drawings
mostly leave the process to the shop, which here has a cutter that must not cut it)."""


def hole_note(part: Part, drilled: DrilledHoles | None, source: str) -> str:
    """Return the words behind the size of a hole; none for what is no whole circle.

    Parameters
    ----------
    part : Part
    drilled : DrilledHoles or None
        Which holes are drilled, where the drawing names a process.
    source : str
        Curve that was drawn for the hole.
    """
    thread = part.drawing.threads.get(source, "")
    curve = part.curves[source]
    drill = ""
    if drilled is not None and isinstance(curve, CircleCurve) and curve.role == "outline":
        drill = DRILL[part.drawing.practice] if drilled.why({source}, 2.0 * curve.radius) else ""
    return " ".join(filter(None, (thread, drill)))
