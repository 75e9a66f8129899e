"""Curves that follow a moving part are those that are made anew from it."""

from __future__ import annotations

import numpy as np
import pytest

from sketcher.board.places.moving_pieces import Pieces
from sketcher.part.edits.draft import Draft
from sketcher.part.value import CircleCurve, Mirror, Part, PolarPattern, frozen
from sketcher.part.whole import whole


def half(mirrors: int = 1) -> Part:
    """A chain of lines and an arc beside a plumb axis, circles, one of them on the axis."""
    draft = Draft(Part())
    low, high, left, right = (draft.point(at) for at in
                              ((0.0, -50.0), (0.0, 50.0), (-50.0, -20.0), (50.0, -20.0)))
    axes = (draft.line(low, high, "axis"), draft.line(left, right, "axis"))
    a, b, c, d = (draft.point(at) for at in ((0.0, 30.0), (20.0, 30.0), (25.0, 0.0), (10.0, -10.0)))
    draft.line(a, b)
    draft.line(b, c)
    draft.arc(c, d, draft.point((16.0, 4.0)), "cw")
    draft.circle((0.0, 5.0), 3.0)
    draft.circle((9.0, 12.0), 2.0)
    draft.circle((9.0, 12.0), 4.0)
    return draft.done().having(mirrors=tuple(Mirror(axis, "outline") for axis in axes[:mirrors]))


def moved(part: Part, name: str, dx: float, dy: float) -> Part:
    x, y = part.points[name]
    return part.having(points={**part.points, name: (x + dx, y + dy)})


@pytest.mark.parametrize("mirrors", [0, 1, 2])
def test_every_point_can_move_and_the_images_follow(mirrors: int) -> None:
    part, random = half(mirrors), np.random.default_rng(7)
    pieces = Pieces.of(part)
    for _ in range(12):
        for name in part.points:
            part = moved(part, name, *random.uniform(-1.0, 1.0, 2).tolist())
            pieces = pieces.after(part)
            assert pieces.all == whole(part)


def test_what_stays_is_the_same_object_and_what_moved_is_told() -> None:
    part = half()
    before = Pieces.of(part)
    line = next(p for p in before.all if p.id == "e2")
    after = before.after(moved(part, part.curves["e2"].points[1], 1.0, 2.0))
    assert after.follows == before.serial
    told = {after.all[k].id for k in after.changed}
    assert {"e2", "e2'"} < told
    for k, (old, new) in enumerate(zip(before.all, after.all, strict=True)):
        assert (old is new) == (k not in after.changed)
    assert line in before.all
    assert line not in after.all


def test_a_radius_alone_moves_its_circle_and_the_image() -> None:
    part = half()
    name = [n for n, c in part.curves.items() if isinstance(c, CircleCurve)][1]
    curve = part.curves[name]
    assert isinstance(curve, CircleCurve)
    bigger = part.having(curves={**part.curves, name: CircleCurve(curve.center, 2.5, curve.role)})
    pieces = Pieces.of(part).after(bigger)
    assert {pieces.all[k].id for k in pieces.changed} == {name, f"{name}'"}
    assert pieces.all == whole(bigger)


def test_images_come_and_go_with_what_they_would_lie_on() -> None:
    part = half()
    circles = [n for n, c in part.curves.items() if isinstance(c, CircleCurve)]
    center = part.curves[circles[0]].points[0]
    pieces = Pieces.of(part)
    assert f"{circles[0]}'" not in {p.id for p in pieces.all}
    for dx in (6.0, -6.0, 3.0):  # off the axis, back onto it, off again
        part = moved(part, center, dx, 0.0)
        pieces = pieces.after(part)
        assert pieces.all == whole(part)
    # a layout circle of the other side leaves the place of an image that it stood for
    draft = Draft(half())
    twin = draft.point((-9.0, 12.0))
    draft.circle(twin, 2.0)
    part = draft.done()
    last = list(part.curves)[-1]
    part = part.having(mirrors=(Mirror(part.mirrors[0].axis, (circles[1],)),))
    pieces = Pieces.of(part)
    assert f"{circles[1]}'" not in {p.id for p in pieces.all}
    part = moved(part, part.curves[last].points[0], 1.0, 0.0)
    pieces = pieces.after(part)
    assert f"{circles[1]}'" in {p.id for p in pieces.all}
    part = moved(part, part.curves[last].points[0], -1.0, 0.0)
    pieces = pieces.after(part)
    assert pieces.all == whole(part)


def test_patterns_move_with_their_center_and_axes_with_their_ends() -> None:
    part = half()
    circle = [n for n, c in part.curves.items() if isinstance(c, CircleCurve)][1]
    middle = next(iter(part.points))
    part = part.having(patterns=frozen({"r": PolarPattern((circle,), middle, 3, "90")}))
    pieces = Pieces.of(part)
    for name in (*part.points, part.curves[circle].points[0], middle):
        part = moved(part, name, 0.5, 0.25)
        pieces = pieces.after(part)
        assert pieces.all == whole(part)


def test_an_axis_without_length_leaves_what_is_drawn() -> None:
    part = half()
    low, high = part.curves[part.mirrors[0].axis].points
    flat = part.having(points={**part.points, low: part.points[high]})
    pieces = Pieces.of(part).after(flat)
    assert {p.id for p in pieces.all} == set(part.curves)
    assert pieces.after(part).all == whole(part)
