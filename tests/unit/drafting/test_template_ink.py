"""What a template shows of the part: sizes of drills, crosses of slots, the whole of a half."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketcher.drafting.template.template_ink import template_ink
from sketcher.errors import SketcherError
from sketcher.part.value import Binding, Part
from tests.plates import plate, rectangle


def test_holes_that_differ_by_rounding_are_drilled_by_one_drill() -> None:
    points, lines = rectangle(6.0, 4.0)
    part = plate({**points, "a": (1.0, 1.0), "b": (4.0, 3.0)},
                 {**lines, "h": ("a", 0.140625), "k": ("b", 0.140625 - 1e-13)},
                 Binding("diameter", ("h",), "9/32"), unit="in")
    assert [punch.words for punch in template_ink(part).punches] == ["A1 Ø9/32", "A2 Ø9/32"]


def test_a_slot_is_punched_at_both_ends_and_named_once() -> None:
    """Ends at 10 and 30, 4 wide; the back side has them at -10 and -30."""
    points, lines = rectangle(60.0, 40.0)
    slot = {"a": (10.0, 18.0), "b": (30.0, 18.0), "c": (30.0, 22.0), "d": (10.0, 22.0),
            "m": (10.0, 20.0), "n": (30.0, 20.0)}
    part = plate({**points, **slot},
                 {**lines, "s": ("a", "b"), "t": ("c", "d"), "u": ("b", "c", "n", "ccw"),
                  "v": ("d", "a", "m", "ccw")})
    for mirrored, sign in ((False, 1.0), (True, -1.0)):
        punches = template_ink(part, mirrored).punches
        assert sorted(sign * p.at[0] for p in punches) == pytest.approx([10.0, 30.0])
        assert [p.at[1] for p in punches] == pytest.approx([20.0, 20.0])
        assert [p.words for p in punches] == ["A1 Ø4", ""]
        assert [p.radius for p in punches] == pytest.approx([2.0, 2.0])


def test_a_half_that_the_sheet_shows_is_whole_on_the_template() -> None:
    points = {"p1": (0.0, 0.0), "p2": (30.0, 0.0), "p3": (30.0, 20.0), "p4": (0.0, 20.0),
              "q": (0.0, -5.0), "r": (0.0, 25.0)}
    lines = {"e1": ("p1", "p2"), "e2": ("p2", "p3"), "e3": ("p3", "p4"), "ax": ("q", "r")}
    part = plate(points, lines, roles={"ax": "axis"}, axis="ax")
    half = part.having(drawing=replace(part.drawing, show_half=True))
    assert len(template_ink(half).outline) == 6
    assert template_ink(half).outline == template_ink(part).outline


def test_a_part_without_outline_is_refused() -> None:
    with pytest.raises(SketcherError, match="no outline for a template; draw the part first"):
        template_ink(Part())
