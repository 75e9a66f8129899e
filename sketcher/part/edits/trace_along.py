"""Make outline of a walk along spans of the layout."""

from __future__ import annotations

from collections.abc import Sequence
from math import dist

from sketcher.errors import EditError
from sketcher.part.arranged import arranged
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.inherit import Inheritance, follow_mirrors
from sketcher.part.splice import finished
from sketcher.part.tracing import ends_of_run, pieces_of
from sketcher.part.value import Part


def trace_along(part: Part, halves: Sequence[int]) -> Edited:
    """Make outline of half-edges of the part's arrangement that follow each other.

    The outline is bound to the layout as that of `trace`. A walk that does not close ends on what
    crosses there, or at the end of its layout curve.

    Parameters
    ----------
    part : Part
        The part.
    halves : sequence of int
        Half-edges of ``arranged(part).arrangement``, each beginning where the one before it ends.

    Raises
    ------
    EditError
        When there are none, they do not follow each other, or all of them are outline already.
    """
    known = arranged(part)
    count = 2 * len(known.arrangement.net.edges)
    if not halves or any(not 0 <= half < count for half in halves):
        raise EditError("trace", "no span is chosen", "point along the spans of the outline")
    try:
        spans = known.arrangement.walk(halves)
    except ValueError as error:
        raise EditError("trace", str(error), "choose spans that follow each other") from error
    pieces = pieces_of(known, spans, False)
    closed = dist(*ends_of_run(pieces)) <= 10.0 * known.tol
    if closed:
        pieces = pieces_of(known, spans, True)
    draft = Draft(part)
    made = Inheritance(draft, known, pieces, closed).put()
    if not made.curves:
        raise EditError("trace", "these spans are outline already", "choose others")
    follow_mirrors(draft, made.curves)
    plural = "" if len(made.curves) == 1 else "s"
    return finished(draft, f"traced {len(made.curves)} curve{plural}",
                    *made.curves, *made.bindings)
