"""Random closed profiles of lines and arcs go through the cutting DXF unchanged, or are refused."""

from __future__ import annotations

from math import cos, pi, sin
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sketcher.errors import ExportError
from sketcher.exchange.dxf_curves import arc_from_bulge
from sketcher.exchange.dxf_cut import write_cut
from sketcher.exchange.dxf_read import read_dxf
from sketcher.geometry.loops import find_loops
from sketcher.part.value import Part
from tests.plates import looked_at, plate
from tests.seldom import examples

bulges = st.floats(-0.9, 0.9).map(lambda b: 0.0 if abs(b) < 0.05 else b)


@st.composite
def profiles(draw: st.DrawFn) -> Part:
    """A ring of corners about a place, joined by lines and arcs, with some round holes."""
    count = draw(st.integers(3, 12))
    x0, y0 = draw(st.tuples(st.floats(-1e3, 1e3), st.floats(-1e3, 1e3)))
    size = draw(st.sampled_from([0.5, 10.0, 300.0]))
    radii = draw(st.lists(st.floats(0.6, 1.0), min_size=count, max_size=count))
    bends = draw(st.lists(bulges, min_size=count, max_size=count))
    at = [(x0 + size * r * cos(2 * pi * k / count), y0 + size * r * sin(2 * pi * k / count))
          for k, r in enumerate(radii)]
    points = {f"p{k}": place for k, place in enumerate(at)}
    curves: dict[str, tuple[object, ...]] = {}
    for k, bend in enumerate(bends):
        ends = (f"p{k}", f"p{(k + 1) % count}")
        if bend:
            points[f"c{k}"] = arc_from_bulge(at[k], at[(k + 1) % count], bend).center
            curves[f"a{k}"] = (*ends, f"c{k}", "ccw" if bend > 0 else "cw")
        else:
            curves[f"e{k}"] = ends
    for k in range(draw(st.integers(0, 3))):
        points[f"h{k}"] = (x0 + size * draw(st.floats(-0.2, 0.2)),
                           y0 + size * draw(st.floats(-0.2, 0.2)))
        curves[f"r{k}"] = (f"h{k}", size * draw(st.floats(0.01, 0.1)))
    return plate(points, curves)


@examples(50, 150)
@given(part=profiles(), pieces=st.booleans())
def test_what_is_cut_is_what_was_drawn(part: Part, pieces: bool) -> None:
    inspection = looked_at(part)
    with TemporaryDirectory() as folder:
        path = Path(folder) / "cut.dxf"
        if not inspection.sound:
            with pytest.raises(ExportError):
                write_cut(inspection, path, pieces)
            assert not path.exists()
            return
        write_cut(inspection, path, pieces)
        content = read_dxf(path)
    # Joined as loosely as the part itself is judged: single arcs are stored by center and angles.
    loops = find_loops([(str(k), c.curve) for k, c in enumerate(content.curves)], inspection.tol)
    assert loops.sound
    assert len(loops.loops) == len(inspection.profile.loops)
    assert loops.moments.area == pytest.approx(inspection.profile.area, rel=1e-9)
    # At most a thousand from the origin on a size of a half: three digits are lost there.
    assert sorted(loop.perimeter for loop in loops.loops) == pytest.approx(
        sorted(loop.perimeter for loop in inspection.profile.loops), rel=1e-9)


@examples(20, 40)
@given(part=profiles())
def test_most_random_profiles_are_really_written(part: Part) -> None:
    inspection = looked_at(part)
    assume(inspection.sound)
    assert inspection.profile.closed
