"""Broken views of long parts read back from written files: true ends, true numbers, larger scale.

The bar is invented; pdfplumber, an XML parser and ezdxf read what was written.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from sketcher.drafting.paper_choice import likely_scale
from sketcher.drafting.paper_view import Cut, View
from sketcher.drafting.sheet import pages
from sketcher.exchange.sheet_file import WRITERS
from sketcher.part.atomic import write_bytes
from sketcher.part.value import Binding, CircleCurve, Drawing, LineCurve, Part, frozen
from sketcher.solve import solve
from tests.sheet_reader import read_pdf, read_svg

LONG, WIDE = 700.0, 24.0
HOLES = ((12.0, 8.0), (690.0, 12.0))
RADIUS = 4.0


def bar(rise: float = 0.0, upright: bool = False, **drawing) -> Part:
    """A bar with a hole at each end; its upper edge may rise."""
    corners = [(0.0, 0.0), (LONG, 0.0), (LONG, WIDE + rise), (0.0, WIDE)]
    if upright:
        corners = [(WIDE - y, x) for x, y in corners]
    points = {f"p{k}": at for k, at in enumerate(corners, 1)}
    curves = {f"e{k}": LineCurve((f"p{k}", f"p{k % 4 + 1}")) for k in range(1, 5)}
    run, rising, level, plumb = (("rise", "run", "plumb", "level") if upright
                                 else ("run", "rise", "level", "plumb"))
    bindings = {"f": Binding("fixed", ("p1",)), "d1": Binding(level, ("e1",)),
                "d2": Binding(plumb, ("e2",)), "d4": Binding(plumb, ("e4",)),
                "long": Binding(run, ("p1", "p2"), f"{LONG:g}"),
                "right": Binding(rising, ("p2", "p3"), f"{WIDE + rise:g}"),
                "left": Binding(rising, ("p1", "p4"), f"{WIDE:g}")}
    for k, (x, y) in enumerate(HOLES, 1):
        points[f"k{k}"] = (WIDE - y, x) if upright else (x, y)
        curves[f"h{k}"] = CircleCurve(f"k{k}", RADIUS)
        end = f"p{k}"
        bindings |= {f"x{k}": Binding(run, (f"k{k}", end), f"{abs(LONG * (k - 1) - x):g}"),
                     f"y{k}": Binding(rising, (f"k{k}", end), f"{y:g}"),
                     f"s{k}": Binding("diameter", (f"h{k}",), f"{2 * RADIUS:g}")}
    return solve(Part(name="Bar", points=frozen(points), curves=frozen(curves),
                      bindings=frozen(bindings), drawing=Drawing(**drawing))).part


def written(page, path):
    WRITERS[path.suffix]([page], path, write_bytes)
    return path


@pytest.mark.parametrize("upright", [False, True], ids=["lying", "upright"])
@pytest.mark.parametrize("practice", ["ISO", "ASME"])
def test_both_ends_are_true_to_scale_and_nearer_to_each_other(practice, upright, tmp_path) -> None:
    page = pages(bar(upright=upright, practice=practice))[0]
    ink = read_pdf(written(page, tmp_path / "s.pdf"))
    factor = page.view.factor
    rounds = [d for d in ink.of("wide") if d.center is not None
              and d.radius == pytest.approx(factor * RADIUS, abs=0.01)]
    assert len(rounds) == 2
    one, other = sorted((d.center for d in rounds), key=lambda c: c[upright])
    apart = other[upright] - one[upright]
    assert apart < 0.5 * factor * (HOLES[1][0] - HOLES[0][0])
    assert abs(other[1 - upright] - one[1 - upright]) == pytest.approx(
        factor * (HOLES[1][1] - HOLES[0][1]), abs=0.02)
    # Each hole stands as far from its end of the bar as on the part.
    ends = sorted(p[upright] for d in ink.of("wide") if d.center is None
                  and abs(d.length - factor * WIDE) < 0.02 for p in (d.start,))
    assert [min(abs(end - c[upright]) for end in ends) for c in (one, other)] == pytest.approx(
        [factor * HOLES[0][0], factor * (LONG - HOLES[1][0])], abs=0.02)


@pytest.mark.parametrize("practice", ["ISO", "ASME"])
def test_break_lines_run_past_both_edges_and_dimension_lines_run_on(practice, tmp_path) -> None:
    page = pages(bar(practice=practice))[0]
    read = read_svg(written(page, tmp_path / "s.svg"))
    lines = read.of("break")
    edges = sorted({round(d.start[1], 3) for d in read.of("visible") if d.source == "curve:e1"}
                   | {round(d.start[1], 3) for d in read.of("visible") if d.source == "curve:e3"})
    low, high = edges
    assert min(p[1] for d in lines for p in (d.start, d.end)) == pytest.approx(low - 3.0, abs=0.01)
    assert max(p[1] for d in lines for p in (d.start, d.end)) == pytest.approx(high + 3.0, abs=0.01)
    # In the gap there is no edge; its two ends lie on the break lines, 3 mm apart.
    ends = sorted(x for d in read.of("visible") if d.source == "curve:e1"
                  for x in (d.start[0], d.end[0]))
    assert len(ends) == 4
    assert ends[2] - ends[1] == pytest.approx(3.0, abs=0.01)
    wide = [d for d in read.of("dimension") if d.source == "dimension:long"]
    spans = sorted((min(d.start[0], d.end[0]), max(d.start[0], d.end[0])) for d in wide)
    middle = 0.5 * (ends[1] + ends[2])
    lettering = next(t for t in read.lettering if t.source == "dimension:long")
    xs = [x for x, _ in lettering.corners]
    assert (any(a < middle < b for a, b in spans)
            or min(xs) - 2.0 < middle < max(xs) + 2.0)  # broken for its own number alone


def test_numbers_stay_true_and_the_dxf_drawing_measures_them(tmp_path) -> None:
    import ezdxf

    page = pages(bar())[0]
    said = {d.id: d.text for d in page.dimensions}
    assert said["long"] == f"{LONG:g}"
    document = ezdxf.readfile(written(page, tmp_path / "s.dxf"))
    found = {}
    for entity in document.modelspace().query("DIMENSION"):
        factor = entity.override().get("dimlfac", 1.0)
        found[round(entity.get_measurement() * factor, 6)] = factor
    assert found[LONG] > 2.0
    assert found[WIDE] == found[12.0] == found[10.0] == 1.0
    assert "BREAK" in {e.dxf.layer for e in document.modelspace()}


def test_the_scale_grows_by_two_steps_or_more_on_no_larger_sheet() -> None:
    """ISO 5455: 1:2 to 1:1 is a step, to 2:1 the next."""
    whole, broken = (pages(bar(breaks=breaks))[0] for breaks in ("off", "auto"))
    assert whole.view.cuts == ()
    assert broken.view.cuts != ()
    steps = [0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0]
    assert steps.index(broken.view.factor) >= steps.index(whole.view.factor) + 2
    assert math.prod(broken.size) <= math.prod(whole.size)


def test_a_bar_with_an_edge_at_a_slant_stays_whole() -> None:
    """Its edge would not run on beyond the break."""
    assert pages(bar(rise=6.0))[0].view.cuts == ()


def test_no_break_goes_through_a_feature() -> None:
    part = replaced(bar(), "h2", (350.0, 12.0))
    cuts = pages(part)[0].view.cuts
    assert len(cuts) == 2
    for cut in cuts:
        assert not cut.low - RADIUS < 350.0 < cut.high + RADIUS


def replaced(part: Part, hole: str, at) -> Part:
    center = part.curves[hole].center
    bindings = {k: b for k, b in part.bindings.items() if center not in b.of}
    bindings["x2"] = Binding("run", ("p1", center), f"{at[0]:g}")
    bindings["y2"] = Binding("rise", ("p1", center), f"{at[1]:g}")
    return solve(part.having(points={**part.points, center: at}, bindings=bindings)).part


def test_places_of_a_broken_view_are_found_back() -> None:
    view = View(2.0, 30.0, 40.0, (Cut(0, 20.0, 300.0, 3.0), Cut(0, 350.0, 600.0, 3.0)))
    for at in ((0.0, 0.0), (20.0, 5.0), (150.0, 1.0), (320.0, 7.0), (400.0, 2.0), (700.0, 9.0)):
        assert view.back(view.point(at)) == pytest.approx(at)
    assert view.point((320.0, 0.0))[0] - view.point((20.0, 0.0))[0] == pytest.approx(3.0 + 40.0)
    assert replace(view, cuts=()).point((20.0, 5.0)) == view.point((20.0, 5.0))


@pytest.mark.parametrize("upright", [False, True])
def test_the_screen_knows_the_scale_of_a_broken_view(upright: bool) -> None:
    part = bar(upright=upright)
    assert likely_scale(part) == pages(part)[0].view.factor
