"""Steps at the drawing board: each drawn on the slate, then put into words."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from functools import partial

from sketcher.lesson.board_drawing import BoardDrawing
from sketcher.lesson.board_entities import Entity
from sketcher.lesson.board_facts import BoardFacts
from sketcher.lesson.board_order import BoardOrder
from sketcher.lesson.board_words import CLOSE
from sketcher.lesson.going_over import chains, circles, shapes
from sketcher.lesson.order_step import OrderStep
from sketcher.lesson.phrases import Phrases, named
from sketcher.lesson.repeats import Repeats
from sketcher.lesson.sequence import Cluster, DrawingSequence
from sketcher.lesson.slate import NotDrawn, Slate
from sketcher.lesson.stages import (
    DATUM,
    END,
    OUTLINE,
    PATTERNS,
    REFLECTION,
    STAGES,
    Stages,
)
from sketcher.lesson.strokes import Compass
from sketcher.lesson.three_conditions import ThreeConditions, draw_circle, three_conditions
from sketcher.part.curve_questions import ends_of
from sketcher.part.loci import PlumbOrLevel
from sketcher.part.part_size import part_size
from sketcher.part.value import ArcCurve, Part

MANY = 12  # names in one sentence


@dataclass
class OrderPlan:
    """Steps under construction.

    Parameters
    ----------
    part : Part
        Solved.
    order : BoardOrder
    """

    part: Part
    order: BoardOrder
    steps: list[OrderStep] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.facts = BoardFacts(self.part, self.order)
        self.stages = Stages(self.part, self.order.why)
        self.slate = Slate(part_size(self.part) or 1.0)
        self.drawing = BoardDrawing(self.facts, self.slate)
        self.phrases = Phrases(self.facts)
        self.rank = {name: k for k, name in enumerate(self.part.bindings)}

    def build(self) -> None:
        """Draw and tell everything but what repeats it."""
        for cluster in DrawingSequence(self.part, self.order, self.facts,
                                       self.stages).clusters():
            self._tell(cluster)

    def add(
        self, stage: int, sentences: Sequence[str], head: str = "", curves: Iterable[str] = (),
        points: Iterable[str] = (), owners: Iterable[str] = (), together: bool = False,
    ) -> None:
        """Append a step with the moves that the slate holds; bindings once each in file order."""
        bindings = tuple(sorted(self.rank.keys() & set(owners), key=self.rank.__getitem__))
        text = head or " ".join(sentences)
        text += f" [{', '.join(bindings)}]" if bindings else ""
        self.slate.say(text)
        self.steps.append(OrderStep(
            len(self.steps) + 1, text, tuple(dict.fromkeys(curves)), tuple(dict.fromkeys(points)),
            bindings, together, STAGES[stage], tuple(sentences) if head else (),
            tuple(self.slate.moves)))

    # What follows the half.

    def close(self, doubled: Sequence[str], freedoms: int) -> None:
        """Go over the outline, repeat, reflect, and tell what is loose and what was not needed."""
        self._go_over()
        repeats = Repeats(self.drawing)
        for name, text in repeats.patterns():
            self._repeat(PATTERNS, text, partial(repeats.pattern, name))
        for number, text in repeats.reflections():
            self._repeat(REFLECTION, text, partial(repeats.reflection, number))
        self.slate.begin(len(self.steps) + 1)
        if freedoms:
            chosen = [name for (_, name), rows in self.order.why.items()
                      if any(r.role == "choice" for r in rows)]
            self.add(END, [f"Still loose: {named(chosen)} {'was' if len(chosen) == 1 else 'were'} "
                           f"chosen above, for the bindings leave {freedoms} "
                           f"freedom{'s' if freedoms > 1 else ''}."])
        spare = self._spare(doubled)
        if spare:
            self.add(END, [f"Not used, for {'it follows' if len(spare) == 1 else 'they follow'} "
                           f"from the rest: check {named(spare)} on the finished drawing."],
                     owners=spare)

    def _repeat(self, stage: int, text: str, draw: Callable[[], tuple[str, ...]]) -> None:
        """Draw and tell what repeats the half, or say that no hand can."""
        self.slate.begin(len(self.steps) + 1)
        curves: tuple[str, ...] = ()
        try:
            with self.slate.trying():
                curves = draw()
        except NotDrawn:
            text += " Its places lie closer to each other than a hand can draw."
        self.add(stage, [text], curves=curves)

    def _go_over(self) -> None:
        """Draw the outline out heavily, run by run, then the circles."""
        slate, along = self.slate, shapes(self.part)
        for run in chains(self.part):
            slate.begin(len(self.steps) + 1)
            told: list[str] = []
            for name, back in run:
                curve = self.part.curves[name]
                ends = ends_of(curve)[::-1] if back else ends_of(curve)
                way = ""
                if isinstance(curve, ArcCurve):
                    way = "ccw" if (curve.turn == "ccw") != back else "cw"
                slate.go_over(name, name, ends, way, along[name][::-1] if back else along[name])
                slate.say(f"Go over {name} from {ends[0]} to {ends[1]}.")
                told.append((f"{ends[0]} " if not told else "") + f"along {name} to {ends[1]}")
            self.add(OUTLINE, [f"Go over {', '.join(told)}."], curves=[name for name, _ in run])
        names = circles(self.part)
        if names:
            slate.begin(len(self.steps) + 1)
            for name in names:
                slate.go_over(name, name, (), "", along[name])
                slate.say(f"Go over the circle {name}.")
            what = (f"the circle{'s' if len(names) > 1 else ''} {named(names)}"
                    if len(names) <= MANY else "every circle")
            self.add(OUTLINE, [f"Go over {what}."], curves=names)

    def _spare(self, doubled: Sequence[str]) -> list[str]:
        """Bindings said twice, and dimensions that no step used.

        Where curves meet at an extreme place, such as a radius that just reaches a given run, a
        dimension says nothing to first order and is left out though it is not said twice.
        """
        used = {name for step in self.steps for name in step.bindings}
        return [name for name, b in self.part.bindings.items() if b.drives
                and (name in doubled or (b.value is not None and name not in used))]

    # One step.

    def _tell(self, cluster: Cluster) -> None:
        slate = self.slate
        slate.begin(len(self.steps) + 1)
        slate.wanted = {name: self.part.points[name]
                        for kind, name in cluster.members if kind == "point"}
        self.phrases.known.update(name for _, name in cluster.members)
        self._circles: dict[Entity, ThreeConditions] = {}
        sentences, computed, taken = [], [], False
        if not self.steps and cluster.members[0][0] == "point":
            taken = self._start(cluster.members[0][1], cluster.members)
        self._at_once(cluster)
        for entity in cluster.members:
            kind, name = entity
            if entity in self._circles:
                found = self._circles[entity]
                if kind == "point":
                    where = self.phrases.locus(found.loci[0], self.part.points[name]
                                               ) if found.loci else ""
                    sentences.append(found.sentence(where, self.phrases.place(name)))
                else:
                    sentences.append(f"Strike {name} about {found.center}.")
                continue
            try:
                if not self._there(entity):
                    self.drawing.draw(kind, name)
            except NotDrawn:
                self._compute(kind, name)
                computed.append(entity)
                continue
            sentences.append(self._sentence(kind, name))
        sentences = [s for s in sentences if s]
        if taken:
            sentences.insert(1, "Through it draw the first level line along the edge of the board.")
        if computed:
            sentences.append(self._computed(computed))
        slate.wanted = {}
        head = self._head(cluster) if len(sentences) > 1 else ""
        owners = [o for e in cluster.members for o in self._owners(e)]
        self.add(cluster.stage, sentences, head,
                 [name for kind, name in cluster.members if kind != "point"],
                 [name for kind, name in cluster.members if kind == "point"], owners,
                 bool(computed))

    def _at_once(self, cluster: Cluster) -> None:
        """Draw a circle that three conditions determine, center and size at once."""
        for entity in cluster.members:
            block = self.order.together.get(entity, ())
            rounds = [name for kind, name in block if kind == "round"]
            points = [name for kind, name in block if kind == "point"]
            if len(block) != 2 or len(rounds) != 1 or entity in self._circles or (
                    points != [self.facts.words.center(rounds[0])]):
                continue
            rows = [row for member in block for row in self.order.why[member]]
            try:
                found = three_conditions(self.drawing, points[0], rounds[0], rows)
                draw_circle(self.drawing, found)
            except NotDrawn:
                continue
            self._circles.update(dict.fromkeys(block, found))

    def _there(self, entity: Entity) -> bool:
        kind, name = entity
        if kind == "point":
            return name in self.slate.points
        return name in (self.slate.lines if kind == "line" else self.slate.rings)

    def _start(self, point: str, members: Sequence[Entity]) -> bool:
        """Mark the first point of all and draw the first level line through it.

        Returns True where that is no line of the part.
        """
        slate = self.slate
        slate.mark(point, self.part.points[point])
        slate.say(f"Mark {point}.")
        level = ""
        for kind, name in self.order.why:
            if kind == "line" and not level:
                courses = self.facts.of_line(name)
                if PlumbOrLevel(1) in courses and point in self.part.curves[name].points and (
                        ("line", name) in members):
                    level = name
        self.drawing.level = slate.base(level or slate.letter(), point)
        slate.say(f"Draw {self.drawing.level}, level, through {point} along the edge of the board.")
        return not level

    def _sentence(self, kind: str, name: str) -> str:
        if kind == "point":
            return self.phrases.point(name)
        return self.phrases.line(name) if kind == "line" else self.phrases.round(name)

    def _owners(self, entity: Entity) -> list[str]:
        """Bindings behind a thing, those of the radii that it uses included."""
        kind, _ = entity
        out = []
        rows = list(self.order.why.get(entity, ()))
        if kind == "line":
            rows += [r for row in rows if row.passes
                     for r in self.order.why.get(("point", row.points[-1]), ())
                     if r.straight and any(s[0] == row.points[-1] for s in r.terms)
                     and not self._there(("point", row.points[-1]))]
        for row in rows:
            out += [row.owner, *row.owners]
            if kind != "round":
                for used in row.rounds:
                    out += [o for r in self.order.why.get(("round", used), ())
                            for o in (r.owner, *r.owners)]
        return out

    # What no construction gives.

    def _compute(self, kind: str, name: str) -> None:
        """Take a thing as it was computed."""
        slate, at = self.slate, self.part.points
        if kind == "point":
            slate.mark(name, at[name])
        elif kind == "line":
            ends = []
            for end in self.part.curves[name].points:
                there = end if end in slate.points else slate.point_at(at[end])
                ends.append(there or slate.mark(slate.letter(), at[end]))
            slate.rule(ends[0], ends[1], name)
        else:
            center = self.facts.words.center(name)
            if center not in slate.points:
                slate.mark(center, at[center])
            size = self.facts.words.size(name)
            said = self.facts.words.number(size, places=CLOSE)
            slate.swing(center, Compass(size, said), name=name)
        slate.say(f"Take {name} as computed.")

    def _computed(self, entities: Sequence[Entity]) -> str:
        """Say what is taken from the computation, and by what it is determined."""
        owners = [o for e in entities for o in self._owners(e) if o in self.rank]
        sizes = []
        for kind, name in entities:
            if kind == "point":
                sizes.append(f"{name} at {self.phrases.place(name)}")
            elif kind == "round":
                sizes.append(f"{name} R{self.facts.words.number(self.facts.words.size(name))}")
            else:
                sizes.append(name)
        return (f"No move of straightedge and compass that is known here finds "
                f"{named([name for _, name in entities])} from {named(owners)}. Take what is "
                f"computed: {', '.join(sizes)}.")

    # Headlines.

    def _head(self, cluster: Cluster) -> str:
        leader, name = cluster.members[0]
        rounds = [n for kind, n in cluster.members if kind == "round"]
        lines = [n for kind, n in cluster.members if kind == "line"]
        points = [n for kind, n in cluster.members if kind == "point"]
        if cluster.kind == "slot":
            return f"The slot {named([*dict.fromkeys(self._slot(cluster))])}."
        if cluster.kind == "laid arc" and rounds:
            curve = self.part.curves[rounds[0]]
            beside = [n for p in ends_of(curve) for n in self.stages.users[p] if n != rounds[0]]
            verb = "Round the corner of" if self.stages.fillet(rounds[0]) else "Lay an arc against"
            return f"{verb} {named(beside)}: {rounds[0]}."
        if cluster.kind == "lengths":
            return f"The corners {named(points)}."
        if leader == "point":
            more = [*lines, *rounds]
            if cluster.stage == DATUM:
                return f"The datum {name}" + (f" with {named(more)}." if more else ".")
            return f"{name} and about it {named(more)}." if more else f"{named(points)}."
        own = named([name, *(n for n in (*lines, *rounds) if n != name)])
        if leader == "round" and not points:
            return f"About {self.facts.words.center(name)} {own}."
        return own + (f" with {named(points)}." if points else ".")

    def _slot(self, cluster: Cluster) -> list[str]:
        names = [n for _, n in cluster.members if n in self.stages.slots]
        return list(self.stages.slots[names[0]]) if names else []
