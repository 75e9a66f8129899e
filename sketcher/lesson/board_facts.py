"""What is known of each point, line and round, as values: one condition, one value."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import dataclass, field

from sketcher.lesson.board_entities import Entity, entities
from sketcher.lesson.board_order import BoardOrder
from sketcher.lesson.board_words import BoardWords
from sketcher.lesson.matching import strong_components
from sketcher.lesson.relations import Relation
from sketcher.part.construction_words import on_curve, passing
from sketcher.part.loci import (
    Along,
    Amount,
    AnyWay,
    AtAngle,
    Beside,
    BesideLocus,
    Clear,
    Course,
    Found,
    Halfway,
    ImageOf,
    Locus,
    LyingAlong,
    OnCurve,
    Opened,
    Opposite,
    ParallelTo,
    Passing,
    Reaching,
    RoundAbout,
    SameAs,
    SquareOver,
    SquareTo,
    SquareToRay,
    Through,
    Touching,
)
from sketcher.part.value import LineCurve, Part

ANY = -1  # for what is not measured along an axis
ALIKE = 1e-6  # degrees: two lines so near to one direction have it; what is drawn is checked


@dataclass(frozen=True, slots=True)
class PointFacts:
    """What is known of a point.

    Parameters
    ----------
    held : bool
        It is the given point.
    found : Found or None
        A place that one condition gives alone.
    loci : tuple of Locus
    choices : int
        How many of its two coordinates nothing says.
    """

    held: bool = False
    found: Found | None = None
    loci: tuple[Locus, ...] = ()
    choices: int = 0


@dataclass
class BoardFacts:
    """Values of all conditions of a solved part.

    Parameters
    ----------
    part : Part
    order : BoardOrder
    """

    part: Part
    order: BoardOrder
    words: BoardWords = field(init=False)
    late: dict[tuple[Entity, str, int], Locus] = field(default_factory=dict)
    """Things drawn before a point that they speak of, each with the locus taken in its stead."""
    along: dict[str, list[tuple[str, Locus]]] = field(default_factory=dict)
    """Lines that lie along a locus of a point, by point."""
    _plain: dict[str, list[Locus]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.why, self.known_at = self.order.why, self.order.known_at
        self.words = BoardWords(self.part, self.why)
        self.rank = {name: k for k, name in enumerate(self.part.bindings)}
        self.lines_at: dict[str, list[tuple[str, LineCurve]]] = defaultdict(list)
        for name, curve in self.part.curves.items():
            if isinstance(curve, LineCurve):
                for end in curve.ends:
                    self.lines_at[end].append((name, curve))
        self.settle()

    def settle(self) -> None:
        """Find out which things are drawn before a point that they speak of.

        A line through a point lies along a locus of that point, where one runs its way: edges are
        drawn before their corners. What is measured level or plumb from a point that is found only
        with its help is measured from such a locus.
        """
        every = entities(self.part)
        for entity in every:
            if entity[0] == "line":
                for point, _ in self._points_of(entity):
                    locus = self._straight_locus(point, self.words.slant(entity[1]), entity)
                    if locus is not None:
                        self.late[entity, point, ANY] = locus
                        self.along.setdefault(point, []).append((entity[1], locus))
        for entity, other, _ in self._circling(every):
            if entity[0] == "line" and (entity, other, ANY) in self.late:
                locus = self.late.pop((entity, other, ANY))
                self.along[other].remove((entity[1], locus))
        for entity, other, axis in self._circling(every):
            if entity[0] == "point":
                runs = 90.0 if axis == 0 else 0.0
                lines: list[Locus] = [OnCurve(name) for name, _ in self.lines_at[other]
                                      if self._runs(name, runs)
                                      and self.known_at(("line", name)) < self.known_at(entity)]
                found = lines[0] if lines else self._straight_locus(other, runs, entity)
                if found is not None:
                    self.late[entity, other, axis] = found

    def _circling(self, every: list[Entity]) -> list[tuple[Entity, str, int]]:
        """Things with a point that they speak of where each needs the other."""
        number = {entity: k for k, entity in enumerate(every)}
        label = strong_components([
            [number[n] for n in self.needs(entity)[0] if n in number] for entity in every])
        size = Counter(label)
        out = []
        for entity in every:
            mine = label[number[entity]]
            if size[mine] > 1 and entity[0] != "round":
                points = self._points_of(entity) + [
                    (p, axis) for e, p, axis in self.late if e == entity]
                out += [(entity, p, axis) for p, axis in points
                        if label[number["point", p]] == mine]
        return out

    def _points_of(self, entity: Entity) -> list[tuple[str, int]]:
        """Points that a line goes through, or that a point is measured from, with the axis."""
        kind, name = entity
        if kind == "line":
            return [(c.point, ANY) for c in self.of_line(name) if isinstance(c, Passing)]
        return [(c.point, c.axis) for c in self.of_point(name).loci if isinstance(c, Beside)]

    def _straight_locus(self, point: str, slant: float, user: Entity) -> Locus | None:
        """A locus of a point that runs so and is known before what asks for it."""
        for locus in self._plain_loci(point):
            match locus:
                case OnCurve(line) | Along(line) if self.words.is_line(line):
                    runs, needs = self.words.slant(line), {("line", line)}
                case Beside(other, axis):
                    runs, needs = 90.0 if axis == 0 else 0.0, {("point", other)}
                case SquareOver(line, other):
                    runs, needs = self.words.slant(line) + 90.0, {("line", line), ("point", other)}
                case _:
                    continue
            if user not in needs and abs((runs - slant + 90.0) % 180.0 - 90.0) < ALIKE and all(
                    self.known_at(need) < self.known_at(user) for need in needs):
                return locus
        return None

    def _runs(self, line: str, slant: float) -> bool:
        return abs((self.words.slant(line) - slant + 90.0) % 180.0 - 90.0) < ALIKE

    # One thing.

    def of_point(self, name: str) -> PointFacts:
        """What is known of a point."""
        rows = self.why.get(("point", name), ())
        if any(row.role == "held" for row in rows):
            return PointFacts(held=True)
        for row in rows:
            found = None if row.kind is None else row.kind.found(self.words, row, name)
            if found is not None:
                return PointFacts(found=found)
        loci = [self._settled(locus, name) for locus in self._plain_loci(name)]
        return PointFacts(loci=tuple(dict.fromkeys(loci)),
                          choices=sum(row.role == "choice" for row in rows))

    def _plain_loci(self, name: str) -> list[Locus]:
        """Loci of a point as its conditions give them."""
        known = self._plain.get(name)
        if known is None:
            rows = sorted(self.why.get(("point", name), ()), key=lambda row: (
                not row.passes, self.rank.get(row.owner, 0)))
            loci = [self.locus(row, name) for row in rows if row.role != "choice"]
            known = self._plain[name] = [locus for locus in loci if locus is not None]
        return known

    def _settled(self, locus: Locus, point: str) -> Locus:
        """A locus by what is drawn before the point."""
        if isinstance(locus, Beside) and (("point", point), locus.point, locus.axis) in self.late:
            line = self.late[("point", point), locus.point, locus.axis]
            assert not isinstance(line, (RoundAbout, BesideLocus))
            return BesideLocus(locus.point, line, locus.axis, locus.amount)
        for name, other in self.along.get(point, ()):
            if other == locus:
                return OnCurve(name)
        return locus

    def locus(self, row: Relation, point: str) -> Locus | None:
        """Where one condition puts a point."""
        if row.meant is not None:
            return None if isinstance(row.meant, Amount) else row.meant
        if row.role == "end":
            return on_curve(self.words, row, row.owner, point)
        return None if row.kind is None else row.kind.locus(self.words, row, point)

    def of_line(self, name: str) -> tuple[Course, ...]:
        """What is known of a line."""
        out: list[Course] = []
        for row in self.why.get(("line", name), ()):
            point = row.points[-1] if row.passes else ""
            if row.role == "choice":
                out.append(AnyWay())
            elif point and (("line", name), point, ANY) in self.late:
                out.append(LyingAlong(point, self.late[("line", name), point, ANY]))
            elif row.role == "end":
                out.append(passing(row))
            elif row.kind is not None:
                course = row.kind.course(self.words, row, name)
                out += [course] if course is not None else []
        return tuple(dict.fromkeys(out))

    def of_round(self, name: str) -> Opened | None:
        """What opens the compass for a round."""
        return self.words.opening(name)

    # What a thing needs.

    def needs(self, entity: Entity) -> tuple[set[Entity], set[Entity]]:
        """What has to be drawn before a thing, and what had better be."""
        kind, name = entity
        hard: set[Entity] = set()
        soft: set[Entity] = set()
        values: list[object] = []
        if kind == "point":
            known = self.of_point(name)
            values = [*known.loci, known.found]
        elif kind == "line":
            values = list(self.of_line(name))
        else:
            hard.add(("point", self.words.center(name)))
            values = [self.of_round(name)]
        for value in values:
            self._refer(value, hard, soft)
        soft = {e for e in soft if e != entity and not (
            kind == "point" and self.words.center(e[1]) == name)}
        hard.discard(entity)
        return hard, soft

    def carrier(self, name: str) -> Entity:
        """The line or round that a curve is drawn with."""
        return ("line" if isinstance(self.part.curves[name], LineCurve) else "round"), name

    def _refer(self, value: object, hard: set[Entity], soft: set[Entity]) -> None:
        """Add what a value speaks of."""
        match value:
            case OnCurve(curve) | ParallelTo(curve) | SquareTo(curve) | Touching(curve):
                hard.add(self.carrier(curve))
            case Along(line):
                hard.add(("line", line))
            case AtAngle(line) if line:
                hard.add(("line", line))
            case SquareOver(line, point) | ImageOf(point, line):
                hard.update({("line", line), ("point", point)})
            case Through(one, other) | Halfway(one, other) | Opposite(one, other) | SquareToRay(
                    one, other):
                hard.update({("point", one), ("point", other)})
            case Beside(point) | RoundAbout(point) | SameAs(point) | Passing(point) | Reaching(
                    point) | Clear(point):
                hard.add(("point", point))
            case LyingAlong(_, locus) | BesideLocus(_, locus):
                self._refer(locus, hard, soft)
            case _:
                pass
        if isinstance(value, Clear) and value.ring:
            hard.add(("round", value.ring))
        amount = value if isinstance(value, Amount) else getattr(value, "amount", None) or getattr(
            value, "web", None)
        for term in amount.terms if isinstance(amount, Amount) else ():
            hard.update(("point", p) for p in term.span)
            if term.of:
                soft.add(("round", term.of))
