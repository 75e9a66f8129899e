"""Dimensions that stand on layout are shown on the outline that was traced from it."""

from __future__ import annotations

import ezdxf
import pytest

from sketcher.board.board import Board
from sketcher.drafting.measured import MeasuredLength, MeasuredRound, measured
from sketcher.drafting.paper_view import View
from sketcher.drafting.sheet import pages
from sketcher.drafting.traced import Traced
from sketcher.exchange.dxf_cut import write_cut
from sketcher.exchange.svg import svg_text
from sketcher.part.edits.trace import trace
from sketcher.part.value import Binding, Part
from sketcher.part.whole import curve_value
from sketcher.solve import solve
from tests.hands import BoardHands
from tests.inspected import inspected
from tests.layouts import grid
from tests.scribed import gate_strap


@pytest.fixture(scope="module")
def strap() -> Part:
    hands = BoardHands(Board(), 1.2)
    gate_strap(hands)
    return hands.board.part


def test_a_dimension_moves_to_the_outline(strap: Part) -> None:
    traced = Traced(strap)
    for name, binding in strap.bindings.items():
        shown = traced.shown(binding)
        if binding.kind != "radius":
            continue
        assert shown is not None
        (curve,) = shown.of
        assert strap.curves[curve].role == "outline", name
        there, wanted = (curve_value(strap, strap.curves[n]) for n in (curve, binding.of[0]))
        assert there.radius == pytest.approx(wanted.radius)
        assert there.center == pytest.approx(wanted.center)


def test_what_only_ends_a_layout_line_is_not_printed(strap: Part) -> None:
    traced = Traced(strap)
    gone = {b.value for b in strap.bindings.values()
            if b.value is not None and traced.shown(b) is None}
    assert gone == {"130", "70"}  # the axis and the base line; 24 ends at the lost corner


def test_a_part_without_layout_keeps_its_dimensions() -> None:
    part = solve(trace(grid((0.0, 40.0), (0.0, 25.0)), [(20.0, 12.0)]).part).part
    for binding in (Binding("distance", ("e1",), "40"), Binding("run", ("p9", "p10"), "40")):
        assert Traced(part).shown(binding) is binding
    offset = Binding("offset", ("s1", "s2"), "40")
    shown = Traced(part).shown(offset)
    assert shown is not None
    assert {part.curves[n].role for n in shown.of} == {"outline"}


def test_leaders_touch_the_outline_and_lengths_end_on_it(strap: Part) -> None:
    found = measured(strap, View())
    rounds = [m for m in found if isinstance(m, MeasuredRound)]
    outline = [curve_value(strap, c) for c in strap.curves.values() if c.role == "outline"]
    assert len(rounds) == 6  # one callout for the rounds of 8 at foot and window
    assert all(any(m.curve == curve for curve in outline) for m in rounds)
    lengths = [m for m in found if isinstance(m, MeasuredLength)]
    assert len(lengths) == 9


def test_layout_is_neither_cut_nor_printed(strap: Part, tmp_path) -> None:  # type: ignore[no-untyped-def]
    inspection = inspected(strap)
    path = tmp_path / "strap.dxf"
    write_cut(inspection, path)
    document = ezdxf.readfile(path)
    contours = list(document.modelspace())
    assert len(contours) == 5  # outside, window, three holes
    without = strap.having(curves={n: c for n, c in strap.curves.items() if c.role != "layout"},
                           bindings={})
    bare = strap.having(bindings={})
    assert [svg_text(p) for p in pages(bare)] == [svg_text(p) for p in pages(without)]
