"""Where details are wanted: their letters, the largest scale, and none without something to say."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketcher.drafting.dimension_text import Wording
from sketcher.drafting.measured import MeasuredRound
from sketcher.drafting.paper_view import View
from sketcher.drafting.sheet import pages
from sketcher.drafting.views.detail_rings import LARGEST, LETTERS, DetailRing, lettered, rings_of
from sketcher.geometry.curves import Circle
from sketcher.part import store
from sketcher.part.value import Drawing, LineCurve, Part, frozen
from sketcher.part.whole import whole
from sketcher.shipped import shipped
from sketcher.solve import solve

RING = DetailRing("", (0.0, 0.0), 1.0, 5.0, frozenset())


def test_letters_leave_out_those_that_look_like_numbers_and_those_that_name_an_edge() -> None:
    """I, O and Q are not used (ISO 128-3, ASME Y14.3; from memory)."""
    named = MeasuredRound("letter A", Circle((0.0, 0.0), 1.0), True, Wording("A"))
    letters = [ring.letter for ring in lettered([RING] * 25, [named])]
    assert letters[:3] == ["B", "C", "D"]
    assert letters[-3:] == ["AA", "AB", "AC"]
    assert not {"A", "I", "O", "Q"} & set(letters)
    assert len(LETTERS) == 23


@pytest.mark.parametrize("own", [0.2, 1.0, 5.0])
def test_a_ring_can_be_seen_and_its_detail_held_however_small_the_feature(own: float) -> None:
    """A step of 0.02 mm would need 100:1; the largest standard scale that the ring allows is taken.
    """
    points = {"a": (0.0, 0.0), "b": (40.0, 0.0), "c": (40.0, 20.0), "d": (20.0, 20.0),
              "e": (20.0, 19.98), "f": (0.0, 19.98)}
    names = list(points)
    curves = {f"e{k}": LineCurve((names[k], names[(k + 1) % 6])) for k in range(6)}
    part = Part(points=frozen(points), curves=frozen(curves), drawing=Drawing())
    view = View(own)
    (ring,) = rings_of(part, view, whole(part), ())
    assert ring.circle(view).radius >= 0.7 - 1e-9
    assert 2.0 * ring.radius * ring.scale <= LARGEST + 1e-9
    assert ring.scale > own


def test_no_detail_is_drawn_that_says_nothing() -> None:
    """At 1:5 the arm has small rounds in two places; one callout with a count is for both."""
    part = solve(store.load(shipped("demo_parts", "shift-arm.profile.json"))).part
    part = part.having(drawing=replace(part.drawing, scale="1:5", practice="ISO"))
    details = pages(part)[0].details
    assert details
    assert all(detail.dimensions for detail in details)
