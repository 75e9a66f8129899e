"""Dimensions go along with what they measure while a gesture moves the part."""

from __future__ import annotations

from dataclasses import replace
from itertools import chain
from math import cos, hypot, pi, sin

import pytest

from sketcher.board.dimensions import kept_dimensions
from sketcher.board.dimensions.desk_layout import DeskLayout, lay_out_on_desk
from sketcher.board.dimensions.dimension_lines import DimLines
from sketcher.board.dimensions.following import Following
from sketcher.board.dimensions.shown_center_lines import center_lines
from sketcher.board.steps.bench import Bench
from sketcher.geometry.bounds import Box, bounds_of
from sketcher.geometry.curves import XY, Line
from sketcher.part.edits.draft import Draft
from sketcher.part.store import load
from sketcher.part.value import CircleCurve, Part
from sketcher.part.whole import whole
from sketcher.shipped import shipped
from sketcher.solve import Drag, solve
from sketcher.solve.solve_report import SolveReport
from tests.later import Later

DEMOS = ("gate-strap", "latch-plate", "pump-flange", "roof-gusset", "shelf-bracket", "shift-arm")


def extent(part: Part) -> Box:
    return bounds_of(piece.curve for piece in whole(part) if piece.role == "outline")


def laid_out(part: Part, px: float) -> tuple[DeskLayout, Following]:
    report, centers = SolveReport(), center_lines(part)
    layout = lay_out_on_desk(part, report, px, 13, centers)
    return layout, Following(part, report, px, 13, centers, layout)


def places(dim: DimLines) -> list[XY]:
    """Every place of a dimension."""
    curves = (*dim.extensions, *(c for c in dim.curves if isinstance(c, Line)))
    return [*chain.from_iterable((c.start, c.end) for c in curves),
            *(arrow.tip for arrow in dim.arrows), dim.anchor]


def shifted(part: Part, dx: float, dy: float) -> Part:
    return part.having(points={name: (x + dx, y + dy) for name, (x, y) in part.points.items()})


@pytest.mark.parametrize("practice", ["ASME", "ISO"])
@pytest.mark.parametrize("name", DEMOS)
def test_a_part_that_is_shifted_takes_its_dimensions_along(name: str, practice: str) -> None:
    part = solve(load(shipped("demo_parts", f"{name}.profile.json"))).part
    part = part.having(drawing=replace(part.drawing, practice=practice, placed={}))
    x0, y0, x1, y1 = extent(part)
    px, (dx, dy) = max(x1 - x0, y1 - y0) / 600, (7.25, -3.5)
    layout, following = laid_out(part, px)
    moved = shifted(part, dx, dy)
    lines = following.at(moved, lambda: extent(moved))
    assert lines is not None
    assert len(lines) == len(layout.lines) > 5
    for was, now in zip(layout.lines, lines, strict=True):
        assert (now.binding, now.text, now.turn) == (was.binding, was.text, pytest.approx(was.turn))
        assert len(now.extensions) == len(was.extensions)
        for (x, y), at in zip(places(was), places(now), strict=True):
            assert at == pytest.approx((x + dx, y + dy), abs=0.02 * px)


def plate() -> Part:
    """A plate of 60 by 30 with a hole, its width in a row below and its hole in one beside."""
    draft = Draft(Part())
    corners = [draft.point(at) for at in ((0, 0), (60, 0), (60, 30), (0, 30))]
    for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
        draft.line(a, b)
    hole = draft.circle((20.0, 12.0), 4.0)
    center = draft.done().curves[hole].points[0]
    draft.bind("run", (corners[0], corners[1]), "60")
    draft.bind("rise", (corners[0], center), "12")
    draft.bind("diameter", (hole,), "8")
    return draft.done()


def test_a_row_keeps_its_distance_from_the_part() -> None:
    part = plate()
    layout, following = laid_out(part, 0.1)
    run, _, diameter = layout.lines
    side = 1.0 if run.anchor[1] > 15.0 else -1.0
    far = "p3" if side > 0 else "p1"  # a corner on the side of the row
    x, y = part.points[far]
    moved = part.having(points={**part.points, far: (x, y + 5.0 * side)})
    lines = following.at(moved, lambda: extent(moved))
    assert lines is not None
    assert lines[0].anchor[1] - run.anchor[1] == pytest.approx(5.0 * side)
    assert lines[2] is diameter  # nothing that it measures has moved


def test_what_has_not_moved_is_the_very_same() -> None:
    part = plate()
    layout, following = laid_out(part, 0.1)
    circle = next(n for n, c in part.curves.items() if isinstance(c, CircleCurve))
    grown = part.having(curves={**part.curves, circle: replace(part.curves[circle], radius=4.5)})
    lines = following.at(grown, lambda: extent(grown))
    assert lines is not None
    assert lines[:2] == layout.lines[:2]
    assert all(a is b for a, b in zip(lines[:2], layout.lines[:2], strict=True))
    hub = part.points[part.curves[circle].points[0]]
    assert hypot(lines[2].arrows[0].tip[0] - hub[0],
                 lines[2].arrows[0].tip[1] - hub[1]) == pytest.approx(4.5)


@pytest.mark.parametrize("sense", [1.0, -1.0])
def test_a_length_that_turns_past_plumb_stays_on_its_side(sense: float) -> None:
    draft = Draft(Part())
    line = draft.line((0, 0), (40, 0))
    draft.bind("distance", draft.done().curves[line].ends, "40")
    part = draft.done()
    layout, following = laid_out(part, 0.1)
    away = layout.lines[0].arrows[0].tip[1]
    assert abs(away) > 1.0
    for step in range(1, 37):
        turn = sense * step * pi / 18
        end = (40.0 * cos(turn), 40.0 * sin(turn))
        moved = part.having(points={**part.points, "p2": end})
        lines = following.at(moved, lambda moved=moved: extent(moved))
        assert lines is not None
        tips = [arrow.tip for arrow in lines[0].arrows]
        assert [-x * sin(turn) + y * cos(turn) for x, y in tips] == pytest.approx([away] * 2)
        assert sorted(x * cos(turn) + y * sin(turn) for x, y in tips) == pytest.approx(
            [0.0, 40.0], abs=1e-9)
        assert -pi / 2 < lines[0].turn < pi / 2 + 1e-9  # read from below or from the right


def test_a_text_that_a_person_has_put_stays_there() -> None:
    part = plate()
    name = next(n for n, b in part.bindings.items() if b.kind == "run")
    part = part.having(drawing=replace(part.drawing, placed={name: (30.0, -20.0)}))
    _, following = laid_out(part, 0.1)
    moved = part.having(points={**part.points, "p2": (66.0, 0.0)})
    lines = following.at(moved, lambda: extent(moved))
    assert lines is not None
    assert lines[0].anchor == pytest.approx((30.0, -20.0))
    assert max(arrow.tip[0] for arrow in lines[0].arrows) == pytest.approx(66.0)


def test_a_gesture_lays_nothing_out_and_rest_does(monkeypatch: pytest.MonkeyPatch) -> None:
    bench, worker, made = Bench(plate()), Later(), []
    bench.worker = worker
    real = kept_dimensions.laid_out

    def counted(*given):
        made.append(given)
        return real(*given)

    monkeypatch.setattr(kept_dimensions, "laid_out", counted)
    bench.derived.dimensions(0.1)
    assert len(made) == 1
    drag = Drag(bench.part, ("p2",))
    for n in range(5):
        bench.gesture.shift(drag.to({"p2": (60.0, 2.0 + n)}))
        shown = bench.derived.dimensions(0.1)
        assert bench.derived.dimensions(0.1) is shown
    assert len(made) == 1
    bench.gesture.settle("Drag")
    rest = bench.derived.dimensions(0.1)
    assert len(made) == 2
    fresh = lay_out_on_desk(bench.part, bench.report, 0.1, bench.settings["text_size"],
                            center_lines(bench.part), made[-1][1], made[-1][2])
    assert rest == fresh.lines


def test_going_back_shows_the_layout_before_the_gesture() -> None:
    bench = Bench(plate())
    before = bench.derived.dimensions(0.1)
    drag = Drag(bench.part, ("p2",))
    bench.gesture.shift(drag.to({"p2": (60.0, 6.0)}))
    assert bench.derived.dimensions(0.1) != before
    bench.gesture.restore()
    assert bench.derived.dimensions(0.1) == before
