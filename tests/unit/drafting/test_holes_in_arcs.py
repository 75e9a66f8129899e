"""What is a hole for the table: any closed round that is not the plate's own edge."""

from __future__ import annotations

from sketcher.drafting.features import shown_pieces
from sketcher.drafting.hole_list import holes_of
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part


def widths(part: Part) -> list[float]:
    """Diameters of the holes of a part."""
    return [round(hole.width, 9) for hole in holes_of(shown_pieces(part, alone=True))]


def test_the_edge_of_a_round_plate_is_none_and_its_bore_is_one() -> None:
    draft = Draft(Part())
    draft.circle((0.0, 0.0), 50.0)
    draft.circle((0.0, 0.0), 48.0)
    assert widths(draft.done()) == [96.0]


def test_a_hole_in_arcs_is_one_and_an_edge_in_arcs_is_none() -> None:
    draft = Draft(Part())
    for radius in (50.0, 10.0):
        draft.arc((radius, 0.0), (-radius, 0.0), (0.0, 0.0), "ccw")
        draft.arc((-radius, 0.0), (radius, 0.0), (0.0, 0.0), "ccw")
    assert widths(draft.done()) == [20.0]
    draft.arc((30.0, 0.0), (40.0, 0.0), (35.0, 0.0), "cw")
    draft.line((30.0, 0.0), (40.0, 0.0))
    assert widths(draft.done()) == [20.0]  # half a circle and its chord are no hole
