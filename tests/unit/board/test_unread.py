"""Which dimensions cannot be read: covered, cut off or lost; lines that only cross are not."""

from __future__ import annotations

from sketcher.board.dimensions.dimension_lines import DimLines
from sketcher.board.dimensions.kept_dimensions import KeptDimensions, Shown, laid_out
from sketcher.board.dimensions.unread import unread
from sketcher.board.job import AtOnce
from sketcher.drafting.layout.choose import FULL
from sketcher.geometry.curves import XY, Line
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from sketcher.solve.solve_report import SolveReport


def dim(name: str, a: XY, b: XY, text: XY) -> DimLines:
    """A dimension line with its text anywhere; one pixel is one unit."""
    return DimLines(name, (), (Line(a, b),), (), "25", text)


LEVEL = dim("b1", (0.0, 0.0), (100.0, 0.0), (20.0, 0.0))


def told(*dims: DimLines, within: tuple[float, float, float, float] | None = None) -> set[str]:
    return set(unread({one.binding for one in dims}, dims, 1.0, 13.0, within))


def test_lines_that_cross_leave_both_texts_readable() -> None:
    assert told(LEVEL, dim("b2", (60.0, -50.0), (60.0, 50.0), (60.0, 30.0))) == set()


def test_a_text_under_another_or_under_a_line_is_told() -> None:
    assert told(LEVEL, dim("b2", (0.0, 4.0), (100.0, 4.0), (24.0, 4.0))) == {"b1", "b2"}
    assert told(LEVEL, dim("b2", (20.0, -50.0), (20.0, 50.0), (20.0, 30.0))) == {"b1"}


def test_a_text_that_is_cut_off_is_told() -> None:
    assert told(LEVEL, within=(0.0, -50.0, 100.0, 50.0)) == set()
    assert told(LEVEL, within=(18.0, -50.0, 100.0, 50.0)) == {"b1"}


def test_a_line_across_many_others_is_lost_among_them() -> None:
    across = [dim(f"b{n}", (20.0 * n, -50.0), (20.0 * n, 50.0), (20.0 * n, 30.0))
              for n in (2, 3, 4)]
    assert told(LEVEL, *across[:2]) == set()
    assert told(LEVEL, *across) == {"b1"}


def test_only_asked_for_dimensions_are_told() -> None:
    other = dim("b2", (0.0, 4.0), (100.0, 4.0), (24.0, 4.0))
    assert unread(("b2",), (LEVEL, other), 1.0, 13.0) == ("b2",)


def test_what_a_layout_counts_as_bad_is_not_told_where_it_can_be_read() -> None:
    draft = Draft(Part())
    for n in range(40):  # of two pixels, in a field of forty: their leaders cross each other
        draft.bind("diameter", (draft.circle((5.0 * (n % 8), 5.0 * (n // 8)), 1.0),), "2")
    shown, kept = Shown(draft.done(), SolveReport(), 1.0), KeptDimensions()
    kept.at_hand(shown, AtOnce())
    assert 0 < len(kept.badly(shown)) < len(laid_out(shown, {}, FULL).badly)
