"""Free curves in an intake: within the chord, told, refusable; shapely and formulas check."""

from __future__ import annotations

from math import pi

import pytest

from sketcher.exchange.dxf_content import DxfContent, FileSpline
from sketcher.geometry.moments import signed_area
from sketcher.geometry.spline import ellipse_spline
from sketcher.intake.drawn_lines import drawn_lines
from sketcher.intake.free_curves import as_drawn, free_curves_to_arcs
from sketcher.intake.linework import Linework
from sketcher.intake.unit_evidence import unit_verdict
from sketcher.intake.wishes import Wishes

ELLIPSE = DxfContent("oval", (), "mm", splines=(
    FileSpline(ellipse_spline((30, 40), (50, 0), (0, 20), 0.0, 2 * pi), 3, "A"),))


def lines(wishes: Wishes) -> Linework:
    """The ellipse as it comes to the step, in mm."""
    return drawn_lines(ELLIPSE, unit_verdict(ELLIPSE, Wishes(unit="mm")), wishes)


@pytest.mark.parametrize("chord", [None, 0.2, 1e-3])
def test_an_ellipse_is_arcs_within_the_chord(chord: float | None) -> None:
    wishes = Wishes(chord=chord)
    done = free_curves_to_arcs(lines(wishes), wishes)
    (repair,) = done.repairs
    within = chord or 0.01
    assert 0.0 < repair.size <= within
    assert (repair.name, repair.taken, done.splines) == ("curve-3", True, ())
    assert repair.text == f"a free curve, made {len(done.curves)} arcs"
    assert all(each.entities == (3,) for each in done.curves)
    # Area of an ellipse by its half axes; off by no more than a strip along 220.5 round it
    # (Ramanujan's formula, from memory).
    area = signed_area([each.curve for each in done.curves])
    assert area == pytest.approx(pi * 50 * 20, abs=221 * repair.size)


def test_refused_it_is_followed_closer_and_told() -> None:
    wishes = Wishes(keep=frozenset({"curve-3"}))
    done = free_curves_to_arcs(lines(wishes), wishes)
    (repair,) = done.repairs
    assert not repair.taken
    assert repair.size <= 1e-4
    assert [each.curve for each in done.curves] == list(repair.before)
    assert len(repair.after) < len(repair.before)
    assert as_drawn(lines(wishes), wishes) == done.curves


def test_layers_choose_free_curves_too() -> None:
    assert lines(Wishes(layers=("B",))).splines == ()
    assert len(lines(Wishes(layers=("A",))).splines) == 1
