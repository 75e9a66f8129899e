"""Steps at the drawing board, put into words as one thing after the other becomes known."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from sketcher.lesson.known import Entity, Known, entity_of
from sketcher.lesson.order_step import OrderStep
from sketcher.lesson.relations import Relation
from sketcher.lesson.repeats import repeats
from sketcher.lesson.step_wording import StepWording
from sketcher.part.operand_forms import Slot, radius_of
from sketcher.part.value import ArcCurve, CircleCurve, LineCurve


@dataclass(slots=True)
class OrderPlan(Known):
    """Steps under construction, told one after the other as things become known."""

    steps: list[OrderStep] = field(default_factory=list)
    computed: set[str] = field(default_factory=set)
    waiting: list[Entity] = field(default_factory=list)
    say: StepWording = field(init=False)
    rank: dict[str, int] = field(init=False)

    def __post_init__(self) -> None:
        Known.__post_init__(self)
        self.say = StepWording(self.part, self.drawn)
        self.rank = {name: k for k, name in enumerate(self.part.bindings)}

    def add(
        self, text: Sequence[str], curves: Iterable[str] = (), points: Iterable[str] = (),
        owners: Iterable[str] = (), together: bool = False,
    ) -> None:
        """Append a step; bindings are named once each in file order."""
        bindings = tuple(sorted(self.rank.keys() & set(owners), key=self.rank.__getitem__))
        whole = " ".join(text) + (f" [{', '.join(bindings)}]" if bindings else "")
        self.steps.append(OrderStep(len(self.steps) + 1, whole, tuple(dict.fromkeys(curves)),
                               tuple(points), bindings, together))

    def solve(self, slots: Sequence[Slot], found: Sequence[Relation]) -> None:
        """Take note of a block and tell whatever it completes."""
        entities = self.note_known(slots)
        for entity in entities:
            self.why.setdefault(entity, []).extend(
                r for r in found if any(entity_of(slot) == entity for slot in r.terms))
        if len(entities) > 1:
            # what was known of them in part belongs to the same step
            rows = [*found, *(r for e in entities if self.whole(e) for r in self.why[e])]
            rows = list({id(r): r for r in rows}.values())
            tell = self._tell_circle if self._one_circle(entities) else self._tell_together
            tell(entities, rows)
        else:
            self.waiting.append(entities[0])
        self._catch_up()

    def _catch_up(self, anyhow: bool = False) -> None:
        """Tell whatever is known and speaks only of things told; `anyhow` one more in any case."""
        while True:
            ready = [e for e in self.waiting if self.whole(e) and self._ready(e)]
            if not ready and anyhow:
                ready = [e for e in self.waiting if self.whole(e)]
            if not ready:
                return
            self.waiting = [e for e in self.waiting if e != ready[0]]
            if ready[0][0] == "line":
                self._tell_ends(ready[0])
            self._tell(ready[0])

    def _tell_ends(self, line: Entity) -> None:
        """Tell points that are known but wait for one that has to come after this line."""
        for row in self.why[line]:
            point = ("point", row.points[-1])
            if (row.passes and point in self.waiting and self.whole(point)
                    and not self.loci([row])):
                self.waiting.remove(point)
                self._tell(point)

    def _ready(self, entity: Entity) -> bool:
        """Whether all that its conditions speak of was told.

        A line may go through a point of which only the locus is known, and a radius is an opening
        of the compass whatever it was taken from.
        """
        kind = entity[0]
        if kind == "round":
            return True
        passing = [r for r in self.why[entity] if kind == "line" and r.passes]
        for row in passing:
            point = ("point", row.points[-1])
            if point not in self.told and not self.whole(point) and not self.loci([row]):
                return False
        needs = {entity_of(slot) for row in self.why[entity] for slot in row.terms
                 if not any(row is other for other in passing)}
        return all(e in self.told or e[0] == "round" for e in needs if e != entity)

    def _one_circle(self, entities: Sequence[Entity]) -> bool:
        rounds = [name for kind, name in entities if kind == "round"]
        points = [name for kind, name in entities if kind == "point"]
        if len(rounds) != 1 or len(points) != 1 or len(entities) != 2:
            return False
        curve = self.part.curves[rounds[0]]
        return (not isinstance(curve, LineCurve) and curve.center == points[0]
                and self.whole(("point", points[0])))

    # Telling.

    def _tell(self, entity: Entity) -> None:
        if entity in self.told:
            return
        self.note_told(entity)
        kind, name = entity
        rows = self.why[entity]
        text: list[str] = []
        if kind == "point":
            text = [self._point(name, rows)]
        elif kind == "line":
            text = [self._line(name, rows)]
        done = self.ready_curves()
        joined = kind == "line" and name in done and text[0].startswith("Join")
        text += [self._draw(curve) for curve in done if not (joined and curve == name)]
        if kind == "line":
            rows = [*rows, *self.loci(rows)]
        named = [n for r in rows for n in r.rounds if kind != "round"]
        owners = [r.owner for r in rows if kind != "round"] + self._reasons([*named, *done])
        if text:
            curves = ([name] if kind == "line" else []) + done
            self.add(text, curves, [name] if kind == "point" else [], owners)

    def _reasons(self, curves: Iterable[str]) -> list[str]:
        """Bindings behind the radii of curves."""
        return [r.owner for name in curves for r in self.why.get(("round", name), ())]

    def _tell_circle(self, entities: Sequence[Entity], found: Sequence[Relation]) -> None:
        name = next(n for kind, n in entities if kind == "round")
        point = next(n for kind, n in entities if kind == "point")
        through = [r.points[0] for r in found if r.passes]
        touched = [n for r in found if r.role == "touch" for n in self.say.of(r) if n != name]
        rest = [self.say.condition(r) for r in found
                if not (r.passes or r.role == "touch") or not r.rounds]
        parts = []
        if through:
            parts.append(f"passes through {_listed(through)}")
        if touched:
            parts.append(f"touches {_listed(touched)}")
        if rest:
            parts.append(f"has {_listed(rest)}")
        how = ""
        if len(through) == 3:
            how = (f"its center is where the square bisectors of {through[0]}-{through[1]} and "
                   f"{through[1]}-{through[2]} cross; ")
        self.note_told(*entities)
        done = self.ready_curves()
        text = [f"Find the circle of {name} that {_listed(parts)}: {how}center {point} at "
                f"{self.say.place(point)}."]
        text += [self._draw(curve) for curve in done]
        self.add(text, [name, *done], [point],
                 [r.owner for r in found] + self._reasons(done))

    def _tell_together(self, entities: Sequence[Entity], found: Sequence[Relation]) -> None:
        for entity in entities:
            if self.whole(entity):
                self.note_told(entity)
        names = [entity[1] if self.whole(entity) else self._in_part(entity) for entity in entities]
        points = [name for kind, name in entities
                  if kind == "point" and self.whole((kind, name))]
        clauses = list(dict.fromkeys(self.say.condition(r) for r in found if r.owner))
        text = [f"Find {_listed(names)} together, for each depends on the others and no single "
                f"move gives them. {len(clauses)} conditions hold at once: "
                f"{'; '.join(clauses)}."]
        rounds = [name for kind, name in entities if kind == "round"]
        self.computed.update(rounds)
        sizes = [f"{p} at {self.say.place(p)}" for p in points]
        sizes += [f"{n} R{self.say.number(radius_of(self.part, n))}" for n in rounds]
        if sizes:
            text.append(f"Take what is computed: {', '.join(sizes)}.")
        done = self.ready_curves()
        text += [self._draw(curve) for curve in done]
        lines = [name for kind, name in entities if kind != "point"]
        self.add(text, [*lines, *done], points,
                 [r.owner for r in found] + self._reasons(done), together=True)

    def _in_part(self, entity: Entity) -> str:
        """Name of a thing of which only one unknown is known."""
        kind, name = entity
        if kind == "line":
            return f"the direction of {name}" if (name, "turn") in self.known else name
        return f"the {'x' if (name, 'x') in self.known else 'y'} of {name}"

    def _point(self, name: str, rows: Sequence[Relation]) -> str:
        place = self.say.place(name)
        for row in rows:
            if row.role == "held":
                return f"Mark {name}, the given point, at {place}."
            alone = self.say.found(row, name)
            if alone:
                return f"{name} {alone}, at {place}."
        free = [r for r in rows if r.role == "choice"]
        said = sorted((r for r in rows if r.owner), key=lambda r: (
            not r.passes, self.rank.get(r.owner, 0)))
        loci = list(dict.fromkeys(self.say.locus(r, name) for r in said))
        if len(free) == 2:
            first = not any(s.points for s in self.steps)
            return (f"Mark {name} anywhere, as the start; here it is at {place}." if first
                    else f"Choose {name}: nothing says where it is. Here it is at {place}.")
        if free:
            return (f"{name} lies on {loci[0]}; nothing says where along it, so choose. "
                    f"Here it is at {place}.")
        note = self._tangency(name, rows) + self._partly(name, rows)
        return f"{name} is where {' meets '.join(loci)}{note}, at {place}."

    def _tangency(self, name: str, rows: Sequence[Relation]) -> str:
        for row in rows:
            if (row.kind is not None and row.kind.joins and row.role == "row"
                    and row.points[-2] == name):
                return f" (there {' and '.join(self.say.of(row))} touch)"
        return ""

    def _partly(self, name: str, rows: Sequence[Relation]) -> str:
        """What must be said of points that are used before they are found."""
        early = dict.fromkeys(
            slot for row in rows for slot in row.terms
            if entity_of(slot)[0] == "point" and slot[0] != name
            and entity_of(slot) not in self.told)
        notes = [f"{slot[0]} lies on {self.say.locus(r, slot[0])}"
                 for slot in early for r in self.why.get(entity_of(slot), ())
                 if slot in r.terms and self.speaks_of_told(r, slot[0])]
        return f" ({'; '.join(dict.fromkeys(notes))})" if notes else ""

    def _line(self, name: str, rows: Sequence[Relation]) -> str:
        ends = [r.points[0] for r in rows if r.role == "end" and r.owner == name]
        if len(ends) == 2:
            return f"Join {ends[0]} and {ends[1]} by {name}."
        courses = []
        for row in rows:
            point = row.points[-1] if row.passes else ""
            if not point or ("point", point) in self.told:
                courses.append(self.say.course(row, name))
            else:
                courses += [f"on {self.say.locus(r, point)}" for r in self.loci([row])]
        plain = {c for c in ("level", "plumb") if any(f"on the {c} line" in o for o in courses)}
        kept = dict.fromkeys(c for c in courses if c not in plain)
        return f"Scribe {name} {', '.join(kept)}."

    def _draw(self, name: str) -> str:
        curve = self.part.curves[name]
        if isinstance(curve, LineCurve):
            return f"Draw {name} from {curve.ends[0]} to {curve.ends[1]}."
        rows = self.why[("round", name)]
        opening = self.say.opening(rows[0], name)
        if name in self.computed:
            opening = f"R{self.say.number(radius_of(self.part, name))}, as computed"
        if isinstance(curve, CircleCurve):
            return f"Draw circle {name} about {curve.center} with {opening}."
        assert isinstance(curve, ArcCurve)
        way = "counter-clockwise" if curve.turn == "ccw" else "clockwise"
        return (f"Draw arc {name} about {curve.center} with {opening}, {way} from "
                f"{curve.ends[0]} to {curve.ends[1]}.")

    # The end.

    def close(self, doubled: Sequence[str], freedoms: int) -> None:
        """Tell the reflection, the patterns, what is loose and what was not needed."""
        self._catch_up(anyhow=True)
        for text, curves in repeats(self.part):
            self.add([text], curves)
        if freedoms:
            chosen = dict.fromkeys(
                name for (_, name), rows in self.why.items()
                if any(r.role == "choice" for r in rows))
            self.add([f"Still loose: {_listed(list(chosen))} "
                      f"{'was' if len(chosen) == 1 else 'were'} chosen above, for the bindings "
                      f"leave {freedoms} freedom{'s' if freedoms > 1 else ''}."])
        spare = self._spare(doubled)
        if spare:
            self.add([f"Not used, for {'it follows' if len(spare) == 1 else 'they follow'} from "
                      f"the rest: check {_listed(spare)} on the finished drawing."],
                     owners=spare)

    def _spare(self, doubled: Sequence[str]) -> list[str]:
        """Bindings said twice, and dimensions that no step used.

        Where curves meet at an extreme place, such as a radius that just reaches a given run, a
        dimension says nothing to first order and is left out though it is not said twice.
        """
        used = {name for step in self.steps for name in step.bindings}
        return [name for name, b in self.part.bindings.items() if b.drives
                and (name in doubled or (b.value is not None and name not in used))]


def _listed(names: Sequence[str]) -> str:
    """Names with commas and a last "and"."""
    names = list(dict.fromkeys(names))
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)
