"""A corner that is cut and healed is the corner that was; the cut is exact on the way."""

from __future__ import annotations

from math import cos, hypot, pi, radians, sin, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sketcher.part.edits import EDITS
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from sketcher.part.whole import half


def wedge(interior: float, turned: float) -> Part:
    """Two lines of 100 that meet at an interior angle (degrees), turned about their corner."""
    draft = Draft(Part())
    corner = draft.point((13.0, -7.0))
    for name, angle in (("e1", turned), ("e2", turned + interior)):
        at = (13 + 100 * cos(radians(angle)), -7 + 100 * sin(radians(angle)))
        draft.line(corner, at, name=name)
        draft.bind("distance", [name], "100", name=f"long_{name}")
    return draft.done()


@given(st.floats(20, 160), st.floats(0, 360), st.floats(0.5, 15))
@settings(max_examples=100)
def test_fillet_against_the_route_curve_formulas(interior, turned, radius) -> None:
    # T = R cot(phi/2), arc R (180 - phi): route-surveying texts (Engineering Surveying, 6th ed.,
    # ch. 10: tangent length, length of curve).
    part = wedge(interior, turned)
    edited = EDITS["fillet"](part, "e1", "e2", radius)
    values = half(edited.part)
    arc = values[edited.made[0]]
    assert arc.length == pytest.approx(radius * (pi - radians(interior)), rel=1e-9)
    for name in ("e1", "e2"):
        cut = 100 - values[name].length
        assert cut == pytest.approx(radius / tan(radians(interior) / 2), rel=1e-9)
    corner = part.curves["e1"].ends[0]
    assert edited.part.points[corner] == part.points[corner]
    assert edited.part.bindings["long_e1"].of == part.curves["e1"].ends
    healed = EDITS["delete"](edited.part, edited.made[0], heal=True).part
    assert healed.points == part.points
    assert healed.curves == part.curves


@given(st.floats(20, 160), st.floats(0, 360), st.floats(0.5, 30), st.floats(0.5, 30))
@settings(max_examples=100)
def test_chamfer_against_the_law_of_cosines(interior, turned, one, other) -> None:
    part = wedge(interior, turned)
    edited = EDITS["chamfer"](part, "e1", "e2", one, other)
    cut = half(edited.part)[edited.made[0]]
    wanted = (one**2 + other**2 - 2 * one * other * cos(radians(interior))) ** 0.5
    assert cut.length == pytest.approx(wanted, rel=1e-9)
    x, y = part.points[part.curves["e1"].ends[0]]
    assert hypot(cut.start[0] - x, cut.start[1] - y) == pytest.approx(one, rel=1e-9)
    healed = EDITS["delete"](edited.part, edited.made[0], heal=True).part
    assert healed.points == part.points
    assert healed.curves == part.curves
