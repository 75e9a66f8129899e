"""Images that were pressed where a dimension takes drawn curves."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.board.readout.readout_content import shown
from sketcher.board.steps.bench import Bench
from sketcher.errors import SketcherError
from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.part import kinds
from sketcher.part.edits.draft import Draft
from sketcher.part.image_id import read_image_id
from sketcher.part.kinds import KINDS
from sketcher.part.value import Part

SAME = 1e-9  # share of a value within which two are one


def differs(bench: Bench, kind: str, ids: Sequence[str], pressed: Sequence[str]) -> str:
    """Return why drawn curves do not measure what was pressed; empty where they do.

    Parameters
    ----------
    bench : Bench
    kind : str
        The dimension.
    ids : sequence of str
        The drawn points and curves that it would take.
    pressed : sequence of str
        What was pressed for each: itself, or an image of it.
    """
    if len(ids) < 2 or all(read_image_id(name).drawn for name in pressed):
        return ""
    part, of, by_id = bench.part, list[str](), bench.derived.picker().by_id
    for name in pressed:
        if name in by_id:
            part, name = with_image(part, name, by_id[name].curve)
        of.append(name)
    try:
        there = kinds.measure(part, kinds.bind(part, kind, of))
        drawn = kinds.measure(part, kinds.bind(part, kind, ids))
    except SketcherError:
        return f"No dimension fits {' and '.join(pressed)}: press what is drawn."
    if abs(there - drawn) <= SAME * max(1.0, abs(drawn)):
        return ""
    quantity = KINDS[kind].quantity or "length"
    return (f"{' to '.join(pressed)}: {kind} {shown(bench, quantity, there)}, but "
            f"{' to '.join(ids)}, which are drawn: {shown(bench, quantity, drawn)}. "
            "Press what is drawn.")


def with_image(part: Part, image: str, curve: Curve) -> tuple[Part, str]:
    """Return the part with an image as a curve of its own, and the id of that; drawn ones stay."""
    if read_image_id(image).drawn:
        return part, image
    draft = Draft(part)
    if isinstance(curve, Line):
        name = draft.line(curve.start, curve.end, "layout")
    elif isinstance(curve, Arc):
        name = draft.arc(curve.start, curve.end, draft.point(curve.center),
                         "ccw" if curve.ccw else "cw", "layout")
    else:
        assert isinstance(curve, Circle)
        name = draft.circle(draft.point(curve.center), curve.radius, "layout")
    return draft.done(), name
