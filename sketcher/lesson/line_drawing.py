"""Lines of the part drawn by their direction and what they go through or touch."""

from __future__ import annotations

from math import dist
from typing import TYPE_CHECKING

from sketcher.geometry.curves import XY
from sketcher.lesson.board_lines import BoardLine
from sketcher.lesson.constructions.angle_at import angle_at
from sketcher.lesson.constructions.common_tangent import common_tangent
from sketcher.lesson.constructions.parallel_through import parallel_at, parallel_through
from sketcher.lesson.constructions.set_off import set_off
from sketcher.lesson.constructions.square_at import square_through
from sketcher.lesson.constructions.sum_of_lengths import compass
from sketcher.lesson.constructions.tangent_from import tangent_from
from sketcher.lesson.slate import NotDrawn
from sketcher.part.loci import (
    AnyWay,
    AtAngle,
    Clear,
    Course,
    LyingAlong,
    ParallelTo,
    Passing,
    PlumbOrLevel,
    SquareTo,
    SquareToRay,
)

if TYPE_CHECKING:
    from sketcher.lesson.board_drawing import BoardDrawing


def draw_line(board: BoardDrawing, name: str) -> None:
    """Draw a line of the part."""
    slate, courses = board.slate, board.facts.of_line(name)
    for course in courses:
        if isinstance(course, LyingAlong):
            board.locus(course.locus, board.part.points[course.point], name)
            if name not in slate.lines:
                raise NotDrawn(f"{name} lies along a circle")
            slate.say(f"Draw {name} there.")
            return
    near = [c for c in courses if isinstance(c, (Passing, Clear))]
    ways = [c for c in courses if not isinstance(c, (Passing, Clear))]
    if len(near) == 2:
        _by_two(board, name, near[0], near[1])
    elif len(near) == 1 and ways:
        _by_way(board, name, ways[0], near[0])
    else:
        for course in ways:
            if isinstance(course, ParallelTo) and course.amount is not None:
                parallel_at(slate, course.line, compass(slate, course.amount), course.side,
                            name)
                return
        raise NotDrawn(f"{name} has no point to go through")


def _by_two(board: BoardDrawing, name: str, one: Course, other: Course) -> None:
    slate = board.slate
    if isinstance(one, Passing) and isinstance(other, Passing):
        slate.rule(one.point, other.point, name)
        slate.say(f"Join {one.point} and {other.point} by {name}.")
    elif isinstance(one, Clear) and isinstance(other, Clear):
        rings = _ring(board, one), _ring(board, other)
        touches = _touch(board, name, one), _touch(board, name, other)
        common_tangent(slate, rings, touches, (one.amount.text, other.amount.text), name)
    elif isinstance(one, Clear):
        _by_two(board, name, other, one)
    elif isinstance(one, Passing) and isinstance(other, Clear):
        touch = _touch(board, name, other)
        ring = _ring(board, other)
        if dist(slate.points[one.point], touch) <= 1e-6 * slate.size:
            # the point is where it touches: square to the radius
            square_through(slate, slate.rule(other.point, one.point), one.point, name)
            return
        tangent_from(slate, ring, one.point, touch, name)


def _ring(board: BoardDrawing, course: Clear) -> str:
    if course.ring:
        return course.ring
    return board.slate.swing(course.point, compass(board.slate, course.amount))


def _touch(board: BoardDrawing, line: str, course: Clear) -> XY:
    """Where a line touches a circle about a point."""
    one, other = board.facts.words.line(line)
    apart = dist(one, other)
    at = BoardLine(one, ((other[0] - one[0]) / apart, (other[1] - one[1]) / apart))
    return at.foot(board.part.points[course.point])


def _by_way(board: BoardDrawing, name: str, way: Course, near: Course) -> None:
    """Line with a direction, through a point or clear of one."""
    slate = board.slate
    if isinstance(near, Passing):
        through(board, way, near.point, name)
        return
    assert isinstance(near, Clear)
    touch = _touch(board, name, near)
    spoke = square_to(board, way, near.point)
    ring = near.ring if near.ring in slate.rings else ""
    if ring:
        foot = slate.cross(spoke, ring, touch)
        slate.say(f"{spoke} cuts the circle of {ring} at {foot}.")
    else:
        foot = set_off(slate, spoke, near.point, compass(slate, near.amount), touch)
    square_through(slate, spoke, foot, name)


def through(board: BoardDrawing, way: Course, point: str, name: str) -> str:
    """Draw a line through a point that runs as a course says."""
    slate = board.slate
    match way:
        case PlumbOrLevel(axis):
            return board.straight(point, axis, name)
        case ParallelTo(line):
            return parallel_through(slate, line, point, name)
        case SquareTo(line):
            return square_through(slate, line, point, name)
        case SquareToRay(one, other):
            return square_through(slate, slate.rule(one, other), point, name)
        case AtAngle(line, degrees, text):
            base = line or board.level
            return angle_at(slate, base, point, degrees, text, name)
        case AnyWay():
            ends = [board.part.points[p] for p in board.part.curves[name].points]
            far = max(ends, key=lambda p: dist(p, slate.points[point]))
            other = slate.mark(slate.letter(), far)
            slate.rule(point, other, name)
            slate.say(f"Mark {other} anywhere and join {point} and {other} by {name}.")
            return name
    raise NotDrawn(f"nothing says how {name or 'a line'} runs")


def square_to(board: BoardDrawing, way: Course, point: str) -> str:
    """Draw the line through a point square to a course."""
    slate = board.slate
    match way:
        case PlumbOrLevel(axis):
            return board.straight(point, 1 - axis)
        case ParallelTo(line):
            return square_through(slate, line, point)
        case SquareTo(line):
            return parallel_through(slate, line, point)
        case SquareToRay(one, other):
            return parallel_through(slate, slate.rule(one, other), point)
    return square_through(slate, through(board, way, point, ""), point)
