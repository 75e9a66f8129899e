"""Where dimensions stand on the sheet: rows around the geometry at the zoom in use.

Lines, gaps and overhangs follow the drawing practice of ISO 129-1 (from memory): an extension line
starts a little off the geometry and runs a little past the dimension line; the nearest row is the
shortest dimension.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import atan2, cos, dist, hypot, inf, pi, sin

from sketcher.board.dimensions.desk_room import LETTER, Layout, crosses
from sketcher.board.dimensions.dimension_lines import Arrow, DimLines
from sketcher.drafting.dimension_text import wording
from sketcher.errors import SketcherError
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import midpoint
from sketcher.geometry.meet import meet
from sketcher.geometry.project import nearest
from sketcher.part.dimension_form import (
    Angular,
    DimensionForm,
    Linear,
    Radial,
    Side,
    unknown_form,
)
from sketcher.part.kinds import KINDS
from sketcher.part.value import Binding, Part
from sketcher.part.whole import curve_value
from sketcher.progress import counted
from sketcher.solve.solve_report import SolveReport

GAP, PAST, FIRST = 4.0, 6.0, 26.0
"""Pixels: geometry to extension line, past the dimension line, to the first row."""
ARC_RADIUS, LEADER = 46.0, 34.0
BESIDE = 16.0
"""Pixels from a short dimension line to the text beside it."""
LONGEST = 260.0
"""Pixels that an extension line may run through the half to the row outside."""
PLACES = (0.5, 0.35, 0.65, 0.2, 0.8)
"""Shares of an arc, or of a dimension line, at which its text is tried, the best first."""


def lay_out(part: Part, report: SolveReport, px: float) -> tuple[DimLines, ...]:
    """Return every dimension of the part as lines and text.

    Parameters
    ----------
    part : Part
        The half as it stands; places of dragged texts come from its drawing.
    report : SolveReport
        Tells which bindings clash or are said twice.
    px : float
        One pixel in the part's unit, at the zoom in use.
    """
    layout = Layout(part, px)
    clashing = {name for clash in report.clashes for name in clash}
    found = []
    for name, at in part.drawing.placed.items():
        if name in part.bindings:  # what a person placed stays; the others keep off it
            layout.take(at, said(part, part.bindings[name]), 0.0)
    for name, binding in counted(part.bindings.items()):
        if KINDS[binding.kind].quantity is None:
            continue
        state = "clashing" if name in clashing else (
            "doubled" if name in report.doubled else "ok")
        found.append(lines_of(layout, name, binding, state))
    return tuple(found)


def lines_of(layout: Layout, name: str, binding: Binding, state: str = "ok") -> DimLines:
    """Return one dimension; `name` may be empty for one that is not in the part yet."""
    placed = layout.part.drawing.placed.get(name)
    text = said(layout.part, binding)
    frame = _Frame(layout, name, binding, text, state, placed)
    return _drawn(frame, KINDS[binding.kind].dimension(layout.part, binding.of)) or _noted(frame)


def said(part: Part, binding: Binding) -> str:
    """Return a dimension's text; what cannot be evaluated stands as it was typed."""
    try:
        return wording(part, binding).plain
    except SketcherError:
        return binding.value or "?"


@dataclass(frozen=True)
class _Frame:
    """What a drawer needs of one dimension."""

    layout: Layout
    name: str
    binding: Binding
    text: str
    state: str
    placed: XY | None

    @property
    def px(self) -> float:
        return self.layout.px

    def curve(self, name: str) -> Curve:
        return curve_value(self.layout.part, self.layout.part.curves[name])

    def made(
        self, extensions: tuple[Line, ...], curves: tuple[Curve, ...], arrows: tuple[Arrow, ...],
        anchor: XY, turn: float = 0.0, leader: tuple[XY, XY] | None = None,
    ) -> DimLines:
        if self.placed is None:
            self.layout.take(anchor, self.text, turn, leader)
        return DimLines(self.name, extensions, curves, arrows, self.text, anchor, upright(turn),
                        self.binding.drives, self.state)


def upright(turn: float) -> float:
    """Return a reading direction within (-pi/2, pi/2], so that no text stands on its head."""
    turn = (turn + pi) % (2.0 * pi) - pi
    if turn > 0.5 * pi + 1e-9:
        turn -= pi
    elif turn <= -0.5 * pi + 1e-9:
        turn += pi
    return turn


def _straight(frame: _Frame, a: XY, b: XY, direction: XY, outward: bool = False) -> DimLines:
    """Return a dimension along a unit direction between two places.

    `outward` puts it outside the half; otherwise it stands beside the two places.
    """
    (ux, uy), px = direction, frame.px
    nx, ny = -uy, ux
    middle = frame.layout.middle

    def height(place: XY) -> float:
        return (place[0] - middle[0]) * nx + (place[1] - middle[1]) * ny

    def along(place: XY) -> float:
        return (place[0] - middle[0]) * ux + (place[1] - middle[1]) * uy

    low, high = sorted((along(a), along(b)))
    stands = _text_stands(frame, low, high)
    heights = height(a), height(b)

    def place(s: float, h: float) -> XY:
        return (middle[0] + s * ux + h * nx, middle[1] + s * uy + h * ny)

    def covers(start: float, end: float, h: float) -> bool:
        return any(crosses(place(start, h), place(end, h), box) for box in frame.layout.texts)

    if frame.placed is not None:
        level, text_at = height(frame.placed), along(frame.placed)
    else:
        level = _level(frame, (nx, ny), heights, low, max(high, stands[0]), outward, covers)
        anchors = ((place(s, level), atan2(uy, ux), None) for s in stands)
        text_at = stands[frame.layout.clear(anchors, frame.text)]

    extensions = tuple(
        Line(place(s, h + _toward(h, level, GAP * px)), place(s, level + _toward(
            h, level, PAST * px)))
        for s, h in ((along(a), heights[0]), (along(b), heights[1]))
        if abs(level - h) > GAP * px
    )
    tips = place(low, level), place(high, level)
    start, end = min(low, text_at), max(high, text_at)
    inside = high - low > 30.0 * px
    sign = 1.0 if inside else -1.0
    arrows = (Arrow(tips[0], (-sign * ux, -sign * uy)), Arrow(tips[1], (sign * ux, sign * uy)))
    if not inside:
        start, end = min(start, low - 14.0 * px), max(end, high + 14.0 * px)
    anchor = place(text_at, level)
    line = Line(place(start, level), place(end, level))
    return frame.made(extensions, (line,), arrows, anchor, atan2(uy, ux), (line.start, line.end))


def _text_stands(frame: _Frame, low: float, high: float) -> list[float]:
    """Return where along a dimension line its text may stand: within, or beside what is short."""
    wide = LETTER * len(frame.text) * frame.px
    if wide < high - low:
        return [low + share * (high - low) for share in PLACES]
    beyond = 0.5 * wide + BESIDE * frame.px
    return [high + beyond, low - beyond]


def _toward(start: float, end: float, size: float) -> float:
    return size if end >= start else -size


def _level(
    frame: _Frame, normal: XY, heights: tuple[float, float], low: float, high: float,
    outward: bool, covers: Callable[[float, float, float], bool],
) -> float:
    """Return the height of the dimension line: beyond the geometry, in a row that is free.

    `covers` tells whether a line from low to high at a height would run through a text.
    """
    layout, px = frame.layout, frame.px
    mean = 0.5 * (heights[0] + heights[1])
    side = 1.0 if mean >= 0.0 else -1.0
    facing = normal[0] * layout.away[0] + normal[1] * layout.away[1]
    if outward and abs(facing) > 0.5:  # keep off the reflection
        side = 1.0 if facing > 0.0 else -1.0
    base = max(side * h for h in heights)
    if outward:
        reach = [side * ((x - layout.middle[0]) * normal[0] + (y - layout.middle[1]) * normal[1])
                 for x, y in layout.part.points.values()]
        edge = max(reach, default=base)
        # From a place deep inside a big part the way out is long: stay beside it.
        base = edge if edge - base <= LONGEST * px else base
    key = (side * normal[0], side * normal[1])
    return side * layout.free_row(
        key, low, high, base + FIRST * px, lambda h: covers(low, high, side * h)
    )


def _drawn(frame: _Frame, form: DimensionForm | None) -> DimLines | None:
    """Return a dimension of a form; None where the geometry leaves it no shape."""
    match form:
        case None:
            return None
        case Radial():
            return _round(frame, form.curve)
        case Angular():
            return _angle(frame, list(form.lines))
        case Linear(around=Arc() | Circle() as around):
            return _ring(frame, around, form)
        case Linear():
            return _length(frame, form)
    raise unknown_form(form)


def _length(frame: _Frame, form: Linear) -> DimLines | None:
    """Return a length between two places; of a line that place where the other one's foot is."""
    far = _middle(form.second)
    near = form.first.places[0]
    if len(form.first.places) > 1:
        near = nearest(Line(*form.first.places), far).point
    (ux, uy), (x, y) = form.direction, (far[0] - near[0], far[1] - near[1])
    size = x * ux + y * uy
    if size == 0.0 and not form.coordinate:
        return None
    way = (ux, uy) if form.coordinate or size > 0.0 else (-ux, -uy)
    return _straight(frame, near, far, way, form.coordinate)


def _middle(side: Side) -> XY:
    (ax, ay), (bx, by) = side.places[0], side.places[-1]
    return (0.5 * (ax + bx), 0.5 * (ay + by))


def _ring(frame: _Frame, around: Arc | Circle, form: Linear) -> DimLines:
    """Return the radial distance of two concentric rounds."""
    center = around.center
    small, big = sorted(dist(center, side.places[0]) for side in (form.first, form.second))
    at = frame.placed or _leader_end(frame, around, big, small)
    turn = atan2(at[1] - center[1], at[0] - center[0])
    ux, uy = cos(turn), sin(turn)
    a = (center[0] + small * ux, center[1] + small * uy)
    b = (center[0] + big * ux, center[1] + big * uy)
    return frame.made((), (Line(a, at),), (Arrow(a, (-ux, -uy)), Arrow(b, (ux, uy))), at,
                      leader=(a, at))


def _outward(curve: Circle, layout: Layout) -> float:
    """Return the direction in which a circle's leader leaves the part, on the half's own side."""
    x, y = curve.center[0] - layout.middle[0], curve.center[1] - layout.middle[1]
    against = x * layout.away[0] + y * layout.away[1]
    if against < 0.0:  # keep off the reflection
        x, y = x - 2.0 * against * layout.away[0], y - 2.0 * against * layout.away[1]
    return atan2(y, x) if hypot(x, y) > 1e-9 * curve.radius else 0.25 * pi


def _round(frame: _Frame, curve: Arc | Circle) -> DimLines:
    """Return a leader from outside a round toward its center."""
    center = curve.center
    if frame.placed is not None:
        anchor = frame.placed
    else:
        anchor = _leader_end(frame, curve, curve.radius, curve.radius)
    turn = atan2(anchor[1] - center[1], anchor[0] - center[0])
    ux, uy = cos(turn), sin(turn)
    tip = (center[0] + curve.radius * ux, center[1] + curve.radius * uy)
    inside = hypot(anchor[0] - center[0], anchor[1] - center[1]) < curve.radius
    sign = 1.0 if inside else -1.0
    extensions: tuple[Line, ...] = ()
    if isinstance(curve, Arc) and nearest(curve, tip).distance > 1e-6 * curve.radius:
        extensions = (Line(nearest(curve, tip).point, tip),)
    return frame.made(extensions, (Line(tip, anchor),), (Arrow(tip, (sign * ux, sign * uy)),),
                      anchor, leader=(tip, anchor))


def _leader_end(frame: _Frame, curve: Arc | Circle, radius: float, begin: float) -> XY:
    """Return where the text of a leader stands that begins and leaves at radii from the center."""
    x, y = curve.center
    ends = list(_leader_ends(frame, curve, radius))
    anchors = (((x + reach * cos(turn), y + reach * sin(turn)), 0.0,
                (x + begin * cos(turn), y + begin * sin(turn))) for turn, reach in ends)
    turn, reach = ends[frame.layout.clear(anchors, frame.text)]
    return (x + reach * cos(turn), y + reach * sin(turn))


def _leader_ends(
    frame: _Frame, curve: Arc | Circle, radius: float
) -> Iterator[tuple[float, float]]:
    """Give direction and distance from the center, the best first: near, then further out."""
    if isinstance(curve, Arc):
        turns = [curve.start_angle + share * curve.sweep for share in PLACES]
    else:
        first = _outward(curve, frame.layout)
        turns = [first + step * pi / 180.0 for step in (0, 30, -30, 60, -60, 120, -120)]
    for further in (1.0, 1.7):
        for turn in turns:
            yield turn, radius + further * LEADER * frame.px


def _angle(frame: _Frame, lines: list[Line]) -> DimLines | None:
    """Return the arc between two lines, or between a line and level."""
    if len(lines) == 1:
        vertex = lines[0].start
        rays = [(1.0, 0.0), (-1.0, 0.0)], [lines[0].direction]
    else:
        crossings = meet(lines[0], lines[1], bounded=False)
        if not crossings:
            return None
        vertex = crossings[0].point
        rays = _rays(lines[0], vertex), _rays(lines[1], vertex)
    return _wedge(frame, lines, vertex, rays)


def _rays(line: Line, vertex: XY) -> list[XY]:
    """Return the direction from the vertex over the line first, then the opposite one."""
    x, y = midpoint(line)[0] - vertex[0], midpoint(line)[1] - vertex[1]
    ux, uy = line.direction
    return [(ux, uy), (-ux, -uy)] if x * ux + y * uy >= 0.0 else [(-ux, -uy), (ux, uy)]


def _wedge(
    frame: _Frame, lines: list[Line], vertex: XY, rays: tuple[list[XY], list[XY]]
) -> DimLines | None:
    from sketcher.part.kinds import measure

    wanted = measure(frame.layout.part, frame.binding) * pi / 180.0
    best, error = None, inf
    for one in rays[0]:
        for other in rays[1]:
            turn = atan2(one[0] * other[1] - one[1] * other[0],
                         one[0] * other[0] + one[1] * other[1])
            off = min(abs(abs(turn) - wanted), abs(2.0 * pi - abs(turn) - wanted))
            if off < error - 1e-9:
                best, error = (one, other, turn), off
    if best is None:
        return None
    one, other, turn = best
    (px, at) = frame.px, frame.placed
    reach = _reach(lines, vertex)
    if at is not None:
        radius = hypot(at[0] - vertex[0], at[1] - vertex[1])
    else:
        radius = _free_radius(frame, vertex, one, other, max(ARC_RADIUS * px,
                                                             min(0.6 * reach, 90 * px)))
    first, second = (one, other) if turn >= 0.0 else (other, one)
    start = (vertex[0] + radius * first[0], vertex[1] + radius * first[1])
    end = (vertex[0] + radius * second[0], vertex[1] + radius * second[1])
    if start == end:
        return None
    arc = Arc(vertex, start, end, True)
    middle = arc.start_angle + 0.5 * arc.sweep
    anchor = at or (vertex[0] + radius * cos(middle), vertex[1] + radius * sin(middle))
    extensions = tuple(
        Line(vertex if len(lines) == 1 else _near_end(lines, tip, vertex), tip)
        for tip in (start, end) if _uncovered(lines, tip, px)
    )
    arrows = (Arrow(start, (first[1], -first[0])), Arrow(end, (-second[1], second[0])))
    return frame.made(extensions, (arc,), arrows, anchor)


def _free_radius(frame: _Frame, vertex: XY, one: XY, other: XY, base: float) -> float:
    """Return the radius of an angle's arc whose text covers no other."""
    x, y = one[0] + other[0], one[1] + other[1]
    size = hypot(x, y)
    x, y = (x / size, y / size) if size > 1e-9 else (-one[1], one[0])
    radii = [base * factor for factor in (1.0, 1.45, 0.7, 1.9, 2.4)]
    anchors = (((vertex[0] + r * x, vertex[1] + r * y), 0.0, None) for r in radii)
    return radii[frame.layout.clear(anchors, frame.text)]


def _reach(lines: list[Line], vertex: XY) -> float:
    return min(max(hypot(p[0] - vertex[0], p[1] - vertex[1]) for p in (line.start, line.end))
               for line in lines)


def _uncovered(lines: list[Line], tip: XY, px: float) -> bool:
    return all(nearest(line, tip).distance > GAP * px for line in lines)


def _near_end(lines: list[Line], tip: XY, vertex: XY) -> XY:
    """Return the drawn end nearest to an arrow's tip on the line that carries it."""
    line = min(lines, key=lambda each: nearest(each, tip, bounded=False).distance)
    return min((line.start, line.end), key=lambda p: hypot(p[0] - tip[0], p[1] - tip[1]))


def _noted(frame: _Frame) -> DimLines:
    """Return the text with a leader from the first operand, for what has no form of its own."""
    part, name = frame.layout.part, frame.binding.of[0]
    at = part.points[name] if name in part.points else midpoint(frame.curve(name))
    anchor = frame.placed or (at[0] + LEADER * frame.px, at[1] + LEADER * frame.px)
    return frame.made((), (Line(at, anchor),), (), anchor)
