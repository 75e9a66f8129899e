"""Draws an angle: an arc about the vertex, extension lines along its sides, level lettering."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import atan2, cos, dist, pi, sin, tau

from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.layout.runouts import Runouts
from sketcher.drafting.measured import MeasuredAngle, Wedge
from sketcher.drafting.primitives import Item, Stroke, arrowhead, circle_arc, line
from sketcher.drafting.sizes import Sizes
from sketcher.geometry.curves import XY

ROOM_BETWEEN, ARROWS_OUTSIDE = 9.8, 1.5
"""mm of arc from which the arrowheads of usual size stand between the sides, and what it costs that
they do not."""
RADII = (10.0, 14.0, 19.0, 25.0, 32.0, 40.0, 50.0, 62.0, 76.0, 92.0)


def wedges(options: Sequence[Wedge]) -> Iterator[tuple[float, int, float]]:
    """Return places for an angle: own cost, number of the wedge, and radius of its arc."""
    for number, wedge in enumerate(options):
        far = max(span[1] for span in wedge.spans)
        near = max(span[0] for span in wedge.spans)
        beside = (0.55 * far, 0.75 * far, far + 8.0, far + 15.0, near + 8.0, near + 15.0,
                  near + 24.0, 0.5 * (near + far), near - 8.0, near - 15.0)
        for radius in sorted({*RADII, *(r for r in beside if r > RADII[0])}):
            beyond = sum(max(0.0, radius - span[1], span[0] - radius) for span in wedge.spans)
            small = 0.0 if radius * _sector(wedge)[1] >= ROOM_BETWEEN else ARROWS_OUTSIDE
            yield 0.6 * number + 0.03 * radius + 0.05 * beyond + small, number, radius


def opposite(wedge: Wedge, runouts: Runouts) -> Wedge:
    """Return the vertical angle of one to level, beyond the end of the line that is drawn there.

    A center line carries the side on past the outline: the angle stands out there, clear of the
    part, in place of a level line from the middle of it.
    """
    (level, ray), (x, y) = wedge.rays, wedge.vertex
    way = (-ray[0], -ray[1])
    reach = runouts.reach(wedge.vertex, way)
    return Wedge((x + reach * way[0], y + reach * way[1]), ((-level[0], -level[1]), way),
                 ((0.0, 0.0), (0.0, 0.0)))


def draw_angle(
    measured: MeasuredAngle, wedge: Wedge, radius: float, sizes: Sizes, runouts: Runouts
) -> Drawn:
    """Draw an angle."""
    source = f"dimension:{measured.id}"
    start, sweep = _sector(wedge)
    length = sizes.arrow[0]
    items: list[Item] = []
    for ray, span in zip(wedge.rays, wedge.spans, strict=True):
        items += _side(wedge.vertex, ray, span, radius, sizes, runouts, source)
    inside = radius * sweep >= 2.8 * length
    turn = length / radius
    middle, gap = _lettering(measured, wedge, radius, start, sweep, sizes)
    items += _arrows(wedge.vertex, radius, start, sweep, inside, sizes, source)
    arcs = [(start, start + sweep)] if inside else [
        (start - 2.0 * turn, start + sweep + 2.0 * turn)]
    if gap is not None:
        arcs = [(start, gap[0]), (gap[1], start + sweep)]
    items += [Stroke(circle_arc(wedge.vertex, radius, a, b), "dimension", source)
              for a, b in arcs if b > a]
    items += measured.wording.texts(middle, (1.0, 0.0), sizes.height, source)
    x, y = wedge.vertex
    at = [(x + radius * cos(a), y + radius * sin(a))
          for a in (start, start + sweep, start + 0.5 * sweep)]
    return Drawn(measured.id, "angle", (wedge.vertex, *at), 0.0, measured.wording.plain, middle,
                 tuple(items), measured.stands_for)


def wedge_at(
    measured: MeasuredAngle, options: Sequence[Wedge], place: XY, sizes: Sizes
) -> tuple[Wedge, float]:
    """Return the wedge and radius that bring the lettering nearest to a place."""
    def off(wedge: Wedge) -> float:
        start, sweep = _sector(wedge)
        angle = atan2(place[1] - wedge.vertex[1], place[0] - wedge.vertex[0])
        turn = (angle - start - 0.5 * sweep + pi) % tau - pi
        return abs(turn)

    wedge = min(options, key=off)
    away = dist(place, wedge.vertex)
    start, sweep = _sector(wedge)
    push = _push(measured, start + 0.5 * sweep, sizes) if sizes.practice == "ISO" else 0.0
    return wedge, max(away - push, sizes.arrow[0])


def _sector(wedge: Wedge) -> tuple[float, float]:
    """Return the start and the sweep of the sector, counter-clockwise, below half a turn."""
    one, other = (atan2(y, x) for x, y in wedge.rays)
    sweep = (other - one) % tau
    return (one, sweep) if sweep <= pi else (other, tau - sweep)


def _push(measured: MeasuredAngle, angle: float, sizes: Sizes) -> float:
    """Return how far outside its arc level lettering stands, to its middle."""
    width, height = sizes.lettering(measured.wording)
    return (sizes.clear + 0.4 + 0.5 * width * abs(cos(angle)) + 0.5 * height * abs(sin(angle)))


def _lettering(
    measured: MeasuredAngle, wedge: Wedge, radius: float, start: float, sweep: float, sizes: Sizes
) -> tuple[XY, tuple[float, float] | None]:
    """Middle of the lettering, and the break of the arc around it in ASME practice."""
    angle = start + 0.5 * sweep
    (x, y), away = wedge.vertex, radius + _push(measured, angle, sizes)
    if sizes.practice == "ASME":
        width, height = sizes.lettering(measured.wording)
        across = min((0.5 * width + 1.0) / max(abs(sin(angle)), 1e-6),
                     (0.5 * height + 1.0) / max(abs(cos(angle)), 1e-6))
        half = across / radius
        if sweep * radius >= 2.0 * across + 2.0 * sizes.arrow[0] + 2.0:
            middle = (x + radius * cos(angle), y + radius * sin(angle))
            return middle, (angle - half, angle + half)
    return (x + away * cos(angle), y + away * sin(angle)), None


def _arrows(
    vertex: XY, radius: float, start: float, sweep: float, inside: bool, sizes: Sizes, source: str
) -> Iterator[Item]:
    x, y = vertex
    # Along the chord of the arrowhead, so that its back lies on the arc as well.
    lean = 0.5 * sizes.arrow[0] / radius
    for angle, sign in ((start, -1.0), (start + sweep, 1.0)):
        sense = sign if inside else -sign
        tangent = angle - sense * lean
        yield arrowhead((x + radius * cos(angle), y + radius * sin(angle)),
                        (-sense * sin(tangent), sense * cos(tangent)), source, *sizes.arrow)


def _side(
    vertex: XY, ray: XY, span: tuple[float, float], radius: float, sizes: Sizes,
    runouts: Runouts, source: str,
) -> Iterator[Item]:
    """Return the extension line along one side, where the drawn line does not reach the arc."""
    near, far = span
    tip = (vertex[0] + far * ray[0], vertex[1] + far * ray[1])
    # Beyond the vertex a side is carried on from its edge, across the vertex.
    begin = far + runouts.begins(tip, ray, radius - far, sizes.gap, carried=far == 0.0)
    end = radius + sizes.past
    if near > radius:
        tip = (vertex[0] + near * ray[0], vertex[1] + near * ray[1])
        back = (-ray[0], -ray[1])
        begin = max(0.0, radius - sizes.past)
        end = near - runouts.begins(tip, back, near - radius, sizes.gap)
    if end - begin > 0.3:
        yield line((vertex[0] + begin * ray[0], vertex[1] + begin * ray[1]),
                   (vertex[0] + end * ray[0], vertex[1] + end * ray[1]), "extension", source)
