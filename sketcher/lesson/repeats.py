"""What a pattern repeats and what a mirror reflects, drawn point by point."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from math import prod

from sketcher.geometry.curves import XY
from sketcher.lesson.board_drawing import BoardDrawing
from sketcher.lesson.constructions.angle_at import angle_at
from sketcher.lesson.constructions.image_about import image
from sketcher.lesson.constructions.parallel_through import parallel_through
from sketcher.lesson.constructions.set_off import set_off
from sketcher.lesson.constructions.square_at import square_through
from sketcher.lesson.constructions.sum_of_lengths import compass
from sketcher.lesson.going_over import places_along
from sketcher.lesson.phrases import named
from sketcher.lesson.strokes import Compass
from sketcher.part.image_id import ImageId, marks, read_image_id
from sketcher.part.instances import FULL_TURN, InstancePlace, places
from sketcher.part.mirror import taken
from sketcher.part.value import ArcCurve, GridPattern, LineCurve, PolarPattern
from sketcher.part.wanted import parameter_values
from sketcher.part.whole import Piece, whole
from sketcher.quantity.format import angle as angle_text
from sketcher.quantity.parse import evaluate


@dataclass
class Repeats:
    """Draws the instances of patterns and the reflections.

    Parameters
    ----------
    drawing : BoardDrawing
        With all of the half on its slate.
    """

    drawing: BoardDrawing
    corners: dict[str, tuple[str, ...]] = field(default_factory=dict)
    """Names on the slate of the points of each curve and image, in the order of the curve's own."""

    def __post_init__(self) -> None:
        self.part, self.slate = self.drawing.part, self.drawing.slate
        for name, curve in self.part.curves.items():
            self.corners[name] = curve.points
        self.pieces = {piece.image: piece for piece in whole(self.part)}

    # Patterns.

    def patterns(self) -> Iterator[tuple[str, str]]:
        """Yield each pattern's id and sentence; see `pattern`."""
        for name, pattern in self.part.patterns.items():
            names = ", ".join(pattern.curves)
            if isinstance(pattern, GridPattern):
                turned = f", the rows turned by {pattern.angle}°" if pattern.angle != "0" else ""
                yield name, (f"Repeat {names} in {pattern.count[0]} columns {pattern.step[0]} "
                             f"apart and {pattern.count[1]} rows {pattern.step[1]} apart{turned} "
                             f"(pattern {name}).")
            else:
                yield name, (f"Repeat {names} about {pattern.center}: {pattern.count} places over "
                             f"{pattern.span}° (pattern {name}).")

    def pattern(self, name: str) -> tuple[str, ...]:
        """Draw the further instances of a pattern and return their names."""
        pattern = self.part.patterns[name]
        stands = places(self.part, name)
        points = dict.fromkeys(p for c in pattern.curves for p in self.part.curves[c].points)
        found: dict[str, list[str]] = {}
        for point in points:
            if isinstance(pattern, PolarPattern):
                found[point] = self._around(pattern, point, stands)
            else:
                found[point] = self._grid(name, pattern, point, stands)
        drawn: list[str] = []
        counts = self._before(name)
        for k in range(len(stands)):
            for source in pattern.curves:
                counts[source] += 1
                piece = self.pieces.get(ImageId(source, 0, counts[source]))
                if piece is None:
                    continue
                own = tuple(found[p][k] for p in self.part.curves[source].points)
                self._curve(piece, own)
                drawn.append(piece.id)
        return tuple(drawn)

    def _before(self, name: str) -> Counter[str]:
        """Instances that the patterns before this one make of each curve: numbers go on."""
        counts: Counter[str] = Counter()
        for other, pattern in self.part.patterns.items():
            if other == name:
                break
            stands = (prod(pattern.count) if isinstance(pattern, GridPattern) else pattern.count)
            counts.update(dict.fromkeys(pattern.curves, stands - 1))
        return counts

    def _around(
        self, pattern: PolarPattern, point: str, stands: Sequence[InstancePlace]
    ) -> list[str]:
        """Images of a point about the center of a pattern: one angle, then its chord stepped."""
        slate, at = self.slate, self.part.points[point]
        if slate.points[point] == slate.points[pattern.center]:
            return [point] * len(stands)
        ring = slate.swing(pattern.center, slate.span(pattern.center, point))
        base = slate.rule(pattern.center, point)
        slate.say(f"About {pattern.center} swing the circle through {point}; draw {base} through "
                  f"both.")
        span = evaluate(pattern.span, "angle", self.part.unit, parameter_values(self.part))
        gaps = pattern.count if abs(span) == FULL_TURN else pattern.count - 1
        step = span / gaps
        typed, said = pattern.span.lstrip("-"), angle_text(abs(step), 6)
        text = f"{typed}° / {gaps}" if gaps > 1 else said
        if gaps > 1 and float(said.rstrip("°")) == abs(step):
            text = f"{said} = {text}"
        ray = angle_at(slate, base, pattern.center, step % 180.0, text)
        first = slate.cross(ray, ring, stands[0].point(at))
        slate.say(f"{ray} cuts the circle at {first}.")
        names = [point, first]
        chord = slate.span(point, first)
        for stand in stands[1:]:
            there = stand.point(at)
            arc = slate.swing(names[-1], chord, there)
            found = slate.cross(arc, ring, there, by="" if len(names) < 2 else names[-2])
            slate.say(f"With the opening {point}-{first} about {names[-1]} cut the circle: "
                      f"{found}.")
            names.append(found)
        return names[1:]

    def _grid(
        self, name: str, pattern: GridPattern, point: str, stands: Sequence[InstancePlace]
    ) -> list[str]:
        """Images of a point in columns and rows: two lines stepped off, then parallels."""
        slate, at, part = self.slate, self.part.points[point], self.part
        columns, rows = pattern.count
        values = parameter_values(part)
        angle = evaluate(pattern.angle, "angle", part.unit, values)
        row = (angle_at(slate, self.drawing.level, point, angle % 180.0, angle_text(angle))
               if angle else self.drawing.straight(point, 1))
        there = [at, *(stand.point(at) for stand in stands)]
        sizes = [abs(evaluate(text, "length", part.unit, values)) for text in pattern.step]
        openings = [Compass(size, self._said(text, size))
                    for text, size in zip(pattern.step, sizes, strict=True)]
        first = [point]
        for k in range(1, columns):
            first.append(set_off(slate, row, first[-1], openings[0], there[k]))
        starts = [point]
        if rows > 1:
            column = square_through(slate, row, point)
            for j in range(1, rows):
                starts.append(set_off(slate, column, starts[-1], openings[1],
                                      there[j * columns]))
        names = list(first)
        uprights = [square_through(slate, row, p) for p in first[1:]] if rows > 1 else []
        for j in range(1, rows):
            across = parallel_through(slate, row, starts[j])
            names.append(starts[j])
            for k in range(1, columns):
                names.append(slate.cross(across, uprights[k - 1], there[j * columns + k]))
            slate.say(f"{across} crosses the squares at {', '.join(names[-columns + 1:])}."
                      if columns > 1 else "")
        return names[1:]

    def _said(self, text: str, size: float) -> str:
        """A step of a pattern as typed; an expression with its number."""
        words = self.drawing.facts.words
        plain = all(c in "0123456789./ -" for c in text)
        return text if plain else f"{words.number(size)} = {text}"

    def _curve(self, piece: Piece, points: tuple[str, ...]) -> None:
        """Draw an image of a curve through the images of its points."""
        slate, name = self.slate, piece.id
        curve = self.part.curves[piece.source]
        self.corners[name] = points
        ends: tuple[str, ...] = ()
        way = ""
        if isinstance(curve, LineCurve):
            slate.rule(points[0], points[1], name)
            ends, told = points, f"Draw {name} from {points[0]} to {points[1]}."
        else:
            amount = self.drawing.facts.words.radius(piece.source)
            opening = compass(slate, amount)
            slate.swing(points[-1], opening, name=name)
            told = f"About {points[-1]} with {opening.said} strike {name}"
            if isinstance(curve, ArcCurve):
                ends = points[:2]
                turned = (curve.turn == "ccw") != piece.image.turned_over
                way = "ccw" if turned else "cw"
                told += f" from {ends[0]} to {ends[1]}"
            told += "."
        if piece.role == "outline":
            slate.go_over(name, name, ends, way, places_along(piece.curve))
        slate.say(told)

    # Reflection.

    def reflections(self) -> Iterator[tuple[int, str]]:
        """Yield each mirror's number and sentence; see `reflection`."""
        for number, mirror in enumerate(self.part.mirrors):
            sources = [source.image for source, _ in self._images(number)]
            what = ("the outline" if mirror.curves == "outline"
                    else named(dict.fromkeys(image.source for image in sources)))
            also = any(not image.drawn for image in sources)
            yield number, (f"Reflect {what}{' with all images' if also else ''} about "
                           f"{mirror.axis}: each point and center by two arcs about points of "
                           f"{mirror.axis}; radii stay.")

    def reflection(self, number: int) -> tuple[str, ...]:
        """Draw what a mirror adds and return the names of it."""
        axis = self.part.mirrors[number].axis
        known: dict[str, str] = {}
        drawn: list[str] = []
        for source, piece in self._images(number):
            own = []
            for point in self.corners[source.id]:
                if point not in known:
                    known[point] = self._image(point, axis, marks(number + 1))
                own.append(known[point])
            self._curve(piece, tuple(own))
            drawn.append(piece.id)
        return tuple(drawn)

    def _images(self, number: int) -> list[tuple[Piece, Piece]]:
        """What a mirror reflects, of what is drawn, each with its image."""
        sources = taken(self.part, self.part.mirrors[number])
        return [(piece, self.pieces[piece.image.reflected(number)])
                for piece in self.pieces.values()
                if piece.source in sources and not piece.image.mirrors >> number
                and piece.image.reflected(number) in self.pieces and piece.id in self.corners]

    def _image(self, point: str, axis: str, sign: str) -> str:
        """Image of a point, under the name that is there or its own with a sign."""
        slate = self.slate
        at, line = slate.points[point], slate.lines[axis]
        foot = line.foot(at)
        over: XY = (2.0 * foot[0] - at[0], 2.0 * foot[1] - at[1])
        there = slate.point_at(over)
        name = point + sign
        helper = read_image_id(point).source not in self.part.points
        return there or image(slate, point, axis, "" if helper or name in slate.points else name)
