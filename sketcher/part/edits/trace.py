"""Make the boundary of regions outline."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.errors import EditError
from sketcher.geometry.arrangement import OUTSIDE
from sketcher.geometry.curves import XY
from sketcher.part.arranged import Arranged, arrange, arranged
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.inherit import Inheritance, follow_mirrors
from sketcher.part.mirror import reflector, taken
from sketcher.part.splice import finished
from sketcher.part.tracing import pieces_of
from sketcher.part.value import Part
from sketcher.part.whole import curve_value


def trace(part: Part, places: Sequence[XY]) -> Edited:
    """Make outline of the boundary of the regions under places, taken together.

    Layout and outline curves bound the regions, and the axis of a mirror, without a mirror every
    axis; what lies on the axis becomes no outline, nor does what is outline already. Holes become
    inner loops. The new outline is bound to the layout as `sketcher.part.inherit` says; the layout
    stays. Outline that was drawn and of which a piece lies between two of the regions, or runs on
    past them, becomes layout, so that what is bound to it stays bound, and its other pieces are
    traced. Outline with layout below all of it comes from an earlier trace: it is removed where it
    lies between, and left alone where it runs on.

    Parameters
    ----------
    part : Part
        The part.
    places : sequence of tuple of float
        A place in each region; two in one region take it away again.

    Returns
    -------
    Edited
        `made` holds the new curves, then their bindings.

    Raises
    ------
    EditError
        When there is no region, or its boundary is outline already.
    """
    known = arranged(part)
    faces = known.faces_at(places)
    if not faces or OUTSIDE in faces:
        raise EditError("trace", "nothing closes a region round this place",
                        "scribe the lines that are missing, or close the half with an axis")
    draft = Draft(part)
    gone = _without_between(draft, known, faces)
    if gone:
        known = arrange(draft.done())
        faces = known.faces_at(places)
    loops = [pieces_of(known, loop.spans, True) for loop in known.outline(faces)]
    curves: list[str] = []
    bindings: list[str] = []
    for loop in loops:
        made = Inheritance(draft, known, loop, True).put()
        curves += made.curves
        bindings += made.bindings
    if not curves and not gone:
        raise EditError("trace", "the boundary of this region is outline already",
                        "choose another region")
    follow_mirrors(draft, curves)
    inner = sum(1 for loop in known.outline(faces) if loop.hole)
    return finished(draft, _said(curves, inner), *curves, *bindings)


def _without_between(draft: Draft, known: Arranged, faces: Sequence[int]) -> list[str]:
    """Take outline between regions out of the outline; return its ids."""
    net, curves = known.arrangement, draft.curves
    repeated = {name for pattern in draft.patterns.values() for name in pattern.curves}
    layout = [n for n in net.ids if curves[n].role == "layout"]
    inner, over = net.between(faces), net.overhanging(faces) - _own_images(draft)
    met = [n for n in sorted(inner | over) if curves[n].role == "outline" and n not in repeated]
    traced = {n for n in met if net.covered(n, layout)}
    between = [n for n in met if n in inner or n not in traced]
    gone = [n for n in between if n in traced]
    for name in between:
        if name not in gone:
            draft.change_curve(name, role="layout")
    if gone:
        draft.remove(*gone)
    return between


def _own_images(draft: Draft) -> frozenset[str]:
    """Return the outline that mirrors leave as it is: its other side is no piece that runs on."""
    part = draft.done()
    return frozenset(
        name for mirror in part.mirrors for name in taken(part, mirror)
        if reflector(part, mirror).keeps(curve_value(part, part.curves[name])))


def _said(curves: list[str], inner: int) -> str:
    count = f"{len(curves)} curve{'' if len(curves) == 1 else 's'}"
    holes = f", {inner} inner loop{'' if inner == 1 else 's'}" if inner else ""
    return f"traced {count}{holes}"
