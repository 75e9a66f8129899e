"""Dimensions on the screen, judged by what is on it at three sizes of words."""

from __future__ import annotations

from math import hypot

import pytest

from sketcher.board.dimensions.desk_layout import lay_out_on_desk, lines_of, scale_of
from sketcher.board.dimensions.shown_center_lines import center_lines
from sketcher.drafting.layout.choose import FRAME
from sketcher.drafting.lettering import text_width
from sketcher.part.edits.draft import Draft
from sketcher.part.store import load
from sketcher.part.value import Binding, Part
from sketcher.part.whole import whole
from sketcher.shipped import shipped
from sketcher.solve import solve
from sketcher.solve.solve_report import SolveReport
from tests.dimension_checker import Faults, faults, of_desk
from tests.seldom import some_of

DEMOS = ("gate-strap", "shift-arm", "roof-gusset", "pump-flange", "shelf-bracket")


def pixel(part: Part) -> float:
    """As a window of some 700 pixels fits the part."""
    xs, ys = zip(*part.points.values(), strict=True)
    return max(max(xs) - min(xs), max(ys) - min(ys)) / 450.0


def seen(part: Part, dims, size: float) -> Faults:
    pieces = [("outline", p.curve) for p in whole(part) if p.role == "outline"]
    pieces += [("center", dash) for line in center_lines(part) if not line.off
               for dash in line.dashes]
    return faults(of_desk(pieces, dims, pixel(part), size))


@pytest.mark.parametrize(("name", "size"), some_of(
    [(name, size) for name in DEMOS for size in (13, 20, 32)],
    lambda case: case[1] == 20 or case[0] in ("shift-arm", "gate-strap")))
def test_words_keep_off_everything_at_any_size(name: str, size: int) -> None:
    solution = solve(load(shipped("demo_parts", f"{name}.profile.json")))
    part = solution.part
    layout = lay_out_on_desk(part, solution.report, pixel(part), size, center_lines(part))
    found = seen(part, layout.lines, size)
    assert (found.text_on_line, found.text_on_outline, found.text_on_text, found.over_centers) == (
        0, 0, 0, 0)
    if size < 32:  # of words of 32 pixels there are too many on so small a part
        assert layout.badly == ()
    assert {d.binding for d in layout.lines} >= {
        name for name, b in part.bindings.items() if b.value is not None}


def test_rows_and_gaps_grow_with_the_words() -> None:
    draft = Draft(Part())
    draft.line((0, 0), (300, 0))
    draft.bind("run", ("e1",), "300")
    for size in (13, 26):
        (dim,) = lay_out_on_desk(draft.done(), SolveReport(), 1.0, size).lines
        assert abs(dim.curves[0].start[1]) == pytest.approx(
            10.0 / scale_of(1.0, size).factor)  # the first row of ASME Y14.5M-1994, 1.7.1


def test_a_text_wider_than_its_dimension_stands_beside_it() -> None:
    draft = Draft(Part())
    draft.line((0, 0), (3, 0))
    draft.bind("run", ("e1",), "3.125")
    (dim,) = lay_out_on_desk(draft.done(), SolveReport(), 0.2).lines
    half = 0.5 * text_width("3.125", 3.5) / scale_of(0.2, 13).factor
    assert dim.anchor[0] > 3.0 + half or dim.anchor[0] < -half


def test_in_the_next_frame_everything_keeps_its_place_but_what_moved() -> None:
    solution = solve(load(shipped("demo_parts", "gate-strap.profile.json")))
    part = solution.part
    first = lay_out_on_desk(part, solution.report, pixel(part), 13, center_lines(part))
    again = lay_out_on_desk(part, solution.report, pixel(part), 13, center_lines(part),
                            first.places, FRAME)
    assert again == first


def test_a_dimension_in_hand_has_its_text_where_the_pointer_is() -> None:
    draft = Draft(Part())
    circle = draft.circle((0, 0), 10.0)
    part = draft.done()
    part = part.having(drawing=part.drawing.__class__(placed={"": (25.0, 20.0)}))
    dim = lines_of(part, Binding("diameter", (circle,), "20"), 0.1)
    assert dim.anchor == pytest.approx((25.0, 20.0))
    assert hypot(*dim.arrows[0].tip) == pytest.approx(10.0)


def test_a_value_that_cannot_be_read_is_shown_as_it_was_typed() -> None:
    draft = Draft(Part())
    circle = draft.circle((0, 0), 10.0)
    part = draft.done().having(bindings={"b": Binding("diameter", (circle,), "wall*2")})
    (dim,) = lay_out_on_desk(part, SolveReport(), 0.1).lines
    assert dim.text == "wall*2"


def test_a_clashing_dimension_has_room_for_the_mark_behind_it() -> None:
    draft = Draft(Part())
    circle = draft.circle((0, 0), 10.0)
    draft.bind("diameter", (circle,), "20")
    (plain,) = lay_out_on_desk(draft.done(), SolveReport(), 0.1).lines
    (dim,) = lay_out_on_desk(draft.done(), SolveReport(clashes=(("b1",),)), 0.1).lines
    assert (dim.state, dim.text) == ("clashing", "Ø20")
    assert dim.anchor[0] > plain.anchor[0]
