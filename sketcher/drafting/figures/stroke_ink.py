"""What a figure of the hand moves of one step shows: every stroke, on what stood before in grey.

A helper has the name that its move calls it by; one that no move speaks of has none. What an
earlier step drew and this one uses stands in thin line, whatever it was drawn for.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from math import atan2

from sketcher.drafting.figures.figure_ink import (
    AXIS,
    HEAVY,
    STOOD,
    THIN,
    FigureInk,
    FigureName,
    InkLine,
    ends_of,
    finished_pieces,
    opened,
    ringed,
)
from sketcher.drafting.figures.figure_steps import FigureSteps, made_in, names_in
from sketcher.drafting.primitives import circle_arc
from sketcher.geometry.bounds import Box, bounds, bounds_of
from sketcher.geometry.clip import visible
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.geometry.evaluate import point_at
from sketcher.geometry.project import distance, parameter_at
from sketcher.lesson.order_step import OrderStep
from sketcher.lesson.strokes import (
    Angled,
    Crossed,
    GivenLine,
    GivenPoint,
    Named,
    Ruled,
    Stroke,
    Swung,
)
from sketcher.part.value import Part

NAME = re.compile(r"\d+[A-Z]+|[^\W\d]\w*(?:#\d+)?'*")
"""A helper, a thing of the part, or an image of one."""
NEAR = 0.1
"""A crossing further than this share of a short stroke from what is drawn of a round has a piece of
its own."""
DRAWN = (GivenPoint, GivenLine, Ruled, Angled, Swung, Crossed, Named)
LEAST = 0.2
"""A figure shows at least this share of the part's size: less would not be known again (by trial
on the demo parts)."""


@dataclass
class StrokeInk:
    """The strokes of a step and of those before it, by name.

    Parameters
    ----------
    figure : FigureSteps
        Of one step.
    """

    figure: FigureSteps

    @property
    def part(self) -> Part:
        """The part."""
        return self.figure.part

    @cached_property
    def now(self) -> list[Stroke]:
        """The strokes of the step, without those that only go over what is drawn."""
        return _strokes(self.figure.steps)

    @cached_property
    def strokes(self) -> dict[str, Stroke]:
        """All strokes so far."""
        return {stroke.name: stroke for stroke in _strokes(self.figure.told)}

    @cached_property
    def own(self) -> dict[str, Curve]:
        """The curves of the part that are drawn by now, images among them."""
        return {piece.id: piece.curve for piece in finished_pieces(self.figure)}

    @cached_property
    def used(self) -> list[str]:
        """What the strokes make or start from, each once, and the axis that a step is about."""
        found = [name for stroke in self.now for name in (*_needs(stroke), stroke.name)]
        found += [name for step in self.figure.steps for name in names_in(self.part, step.text)
                  if name in self.own and self.part.curves[name].role == "axis"]
        return list(dict.fromkeys((*found, *made_in(self.figure.steps))))

    @cached_property
    def said(self) -> set[str]:
        """What the moves speak of."""
        texts = [move.text for step in self.figure.steps for move in step.moves]
        return {name for text in texts
                for name in (*NAME.findall(text), *names_in(self.part, text))}

    def point(self, name: str) -> XY | None:
        """Return where a point is; None for what is none."""
        if name in self.part.points:
            return self.part.points[name]
        stroke = self.strokes.get(name)
        if isinstance(stroke, Named):
            return self.point(stroke.of)
        return stroke.at if isinstance(stroke, Crossed | GivenPoint) else None

    def curves(self, name: str, past: float) -> tuple[tuple[Curve, str], ...]:
        """Return what is seen of a line or round, and in which line class."""
        own, look = self._drawn(name, past), self.look(name)
        drawn = tuple((curve, look) for curve in own)
        spots = self.crossings.get(name, ())
        if not drawn or not spots or not past:
            return drawn
        first = own[0]
        if isinstance(first, Line):
            return (*drawn, *((piece, THIN) for piece in _beyond(first, spots, past)))
        bare = [at for at in spots if min(distance(one, at) for one in own) > NEAR * past]
        return (*drawn, *((_short_arc(first, at, past), THIN) for at in bare))

    def _drawn(self, name: str, past: float) -> tuple[Curve, ...]:
        if name in self.own:
            loose = not self._ended(name)
            return (opened(self.own[name], past) if loose else self.own[name],)
        stroke = self.strokes.get(name)
        if isinstance(stroke, GivenLine | Ruled | Angled):
            return (Line(*stroke.ends),)
        if isinstance(stroke, Swung):
            radius = stroke.opening.amount
            return tuple(circle_arc(stroke.at, radius, start, start + turn)
                         for start, turn in stroke.spans) or (Circle(stroke.at, radius),)
        return ()

    def _ended(self, name: str) -> bool:
        """Tell whether the ends of a curve of the part are found; an image is drawn with them."""
        curve = self.part.curves.get(name)
        return curve is None or not any(end in self.figure.later for end in ends_of(curve))

    @cached_property
    def crossings(self) -> dict[str, tuple[XY, ...]]:
        """Where the strokes of this step cross each thing."""
        found: dict[str, tuple[XY, ...]] = {}
        for stroke in self.now:
            if isinstance(stroke, Crossed):
                for name in stroke.of:
                    found[name] = (*found.get(name, ()), stroke.at)
        return found

    def look(self, name: str) -> str:
        """Return the line class of a line or round."""
        if name in self.own and name not in self.part.curves:
            return HEAVY if name in made_in(self.figure.steps) else THIN
        curve = self.part.curves.get(name)
        if curve is None or curve.role == "layout":
            return THIN
        if curve.role == "axis":
            return AXIS
        made = made_in(self.figure.steps)
        new = name in made or made.intersection(ends_of(curve))
        return HEAVY if new and self._ended(name) else THIN

    def box(self) -> Box:
        """Return what has to be seen: the strokes of this step, and the points that they use."""
        spots = [at for name in self.used if (at := self.point(name)) is not None]
        made = {stroke.name for stroke in self.now} | made_in(self.figure.steps)
        boxes = [bounds(curve) for name in made for curve, _ in self.curves(name, 0.0)]
        boxes += [(x, y, x, y) for x, y in spots]
        x0, y0, x1, y1 = (min(b[0] for b in boxes), min(b[1] for b in boxes),
                          max(b[2] for b in boxes), max(b[3] for b in boxes))
        a, b, c, d = bounds_of(self.own.values())
        wide, tall = LEAST * (c - a), LEAST * (d - b)
        side = max(wide, tall)
        mid = (0.5 * (x0 + x1), 0.5 * (y0 + y1))
        half_wide, half_tall = max(0.5 * (x1 - x0), 0.5 * side), max(0.5 * (y1 - y0), 0.5 * side)
        return (mid[0] - half_wide, mid[1] - half_tall, mid[0] + half_wide, mid[1] + half_tall)

    def ink(self, past: float) -> FigureInk:
        """Return all of the figure; a line without ends runs on by `past`."""
        found = FigureInk(self.box())
        x0, y0, x1, y1 = found.box
        window = (x0 - past, y0 - past, x1 + past, y1 + past)
        shown = [name for name in self.used if self.curves(name, past)]
        stood = made_in(self.figure.every[:self.figure.first])
        for name in self.own:
            role = self.part.curves[name].role if name in self.part.curves else "outline"
            if name in stood and name not in shown and role == "outline":
                found.lines += [InkLine(seen, STOOD, name)
                                for seen in visible(self.curves(name, past)[0][0], window)]
        for name in shown:
            found.lines += [InkLine(seen, look, name) for curve, look in self.curves(name, past)
                            for seen in visible(curve, window)]
        found.take(self._names(found))
        return found

    def _names(self, ink: FigureInk) -> Iterator[FigureName]:
        rings, made = ringed(self.figure), made_in(self.figure.steps)
        cell = 1e-6 * max(ink.box[2] - ink.box[0], ink.box[3] - ink.box[1])
        there: dict[tuple[int, int], list[str]] = {}
        for name in self.used:
            at = self.point(name)
            if at is not None and (name in self.said or name in made):
                there.setdefault((round(at[0] / cell), round(at[1] / cell)), []).append(name)
        for ids in there.values():
            numbers = sorted(n for name in ids for n in rings.get(name, ()))
            yield FigureName(tuple(ids), tuple(numbers), any(n in made for n in ids),
                             self.point(ids[0]))
        for name in dict.fromkeys(one.name for one in ink.lines if one.look != STOOD):
            if name in self.said or name in made:
                curves = tuple(one.curve for one in ink.lines if one.name == name)
                yield FigureName((name,), tuple(rings.get(name, ())), name in made, curves=curves)


def _strokes(steps: Iterable[OrderStep]) -> list[Stroke]:
    return [stroke for step in steps for move in step.moves for stroke in move.strokes
            if isinstance(stroke, DRAWN)]


def _beyond(line: Line, spots: Iterable[XY], past: float) -> Iterator[Line]:
    """Give the pieces by which a line runs on to reach past places on it."""
    shares = [parameter_at(line, at) for at in spots]
    more = past / max(line.length, 1e-12)
    if min(shares) < 0.0:
        yield Line(point_at(line, min(shares) - more), line.start)
    if max(shares) > 1.0:
        yield Line(line.end, point_at(line, max(shares) + more))


def _short_arc(curve: Arc | Circle, at: XY, past: float) -> Arc | Circle:
    """Return a piece of a round's circle about a place on it."""
    middle = atan2(at[1] - curve.center[1], at[0] - curve.center[0])
    reach = min(0.5 * past / max(curve.radius, 1e-12), 1.0)
    return circle_arc(curve.center, curve.radius, middle - reach, middle + reach)


def _needs(stroke: Stroke) -> tuple[str, ...]:
    """Return the names that a stroke starts from."""
    if isinstance(stroke, Ruled):
        return stroke.through
    if isinstance(stroke, GivenLine):
        return (stroke.through,)
    if isinstance(stroke, Angled):
        return (stroke.at, stroke.base)
    if isinstance(stroke, Swung):
        return (stroke.center, *(stroke.opening.span or ()))
    if isinstance(stroke, Crossed):
        return stroke.of if not stroke.which.of else (*stroke.of, stroke.which.of)
    return (stroke.of,) if isinstance(stroke, Named) else ()
