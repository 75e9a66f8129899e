"""Steps at the drawing board: each drawn on the slate, then put into words."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from sketcher.lesson.board_order import BoardOrder
from sketcher.lesson.drawing import Drawing
from sketcher.lesson.facts import Facts
from sketcher.lesson.known import Entity
from sketcher.lesson.order_step import OrderStep
from sketcher.lesson.phrases import Phrases, listed
from sketcher.lesson.sequence import Cluster, DrawingSequence
from sketcher.lesson.slate import NotDrawn, Slate
from sketcher.lesson.stages import DATUM, STAGES, Stages
from sketcher.lesson.strokes import Compass, Crossed, Which
from sketcher.part.curve_questions import ends_of
from sketcher.part.loci import PlumbOrLevel
from sketcher.part.part_size import part_size
from sketcher.part.value import Part

DEBUG = bool(os.environ.get('DEBUGPLAN'))

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
        self.facts = Facts(self.part, self.order.why)
        self.stages = Stages(self.part, self.order.why)
        self.slate = Slate(part_size(self.part) or 1.0)
        self.drawing = Drawing(self.facts, self.slate)
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

    # One step.

    def _tell(self, cluster: Cluster) -> None:
        slate = self.slate
        slate.begin(len(self.steps) + 1)
        slate.wanted = {name: self.part.points[name]
                        for kind, name in cluster.members if kind == "point"}
        sentences, computed, taken = [], [], False
        if not self.steps and cluster.members[0][0] == "point":
            taken = self._start(cluster.members[0][1], cluster.members)
        for entity in cluster.members:
            kind, name = entity
            try:
                if not self._there(entity):
                    self.drawing.draw(kind, name)
            except NotDrawn as error:
                if DEBUG: print('   !!', kind, name, error, self.facts.of_point(name) if kind=='point' else self.facts.of_line(name) if kind=='line' else self.facts.of_round(name))
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

    def _there(self, entity: Entity) -> bool:
        kind, name = entity
        return name in {"point": self.slate.points, "line": self.slate.lines,
                        "round": self.slate.rings}[kind]

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
            return self.phrases.point(name, self._which(name))
        return self.phrases.line(name) if kind == "line" else self.phrases.round(name)

    def _which(self, name: str) -> Which:
        """How a point was told from the other crossing, where it was."""
        for move in self.slate.moves:
            for stroke in move.strokes:
                if isinstance(stroke, Crossed) and stroke.name == name and all(
                        n in self.part.curves or n in self.slate.rings for n in stroke.of):
                    return stroke.which
        return Which()

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
            slate.rule(*ends, name)
        else:
            center = self.facts.words.center(name)
            if center not in slate.points:
                slate.mark(center, at[center])
            size = self.facts.words.size(name)
            slate.swing(center, Compass(size, f"{self.facts.words.number(size)}, as computed"),
                        name=name)
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
                f"{listed([name for _, name in entities])} from {listed(owners)}. Take what is "
                f"computed: {', '.join(sizes)}.")

    # Headlines.

    def _head(self, cluster: Cluster) -> str:
        leader, name = cluster.members[0]
        rounds = [n for kind, n in cluster.members if kind == "round"]
        lines = [n for kind, n in cluster.members if kind == "line"]
        points = [n for kind, n in cluster.members if kind == "point"]
        if cluster.kind == "slot":
            return f"The slot {listed([*dict.fromkeys(self._slot(cluster))])}."
        if cluster.kind == "laid arc" and rounds:
            curve = self.part.curves[rounds[0]]
            beside = [n for p in ends_of(curve) for n in self.stages.users[p] if n != rounds[0]]
            verb = "Round the corner of" if self.stages.fillet(rounds[0]) else "Lay an arc against"
            return f"{verb} {listed(beside)}: {rounds[0]}."
        if cluster.kind == "lengths":
            return f"The corners {listed(points)}."
        if leader == "point":
            more = [*lines, *rounds]
            if cluster.stage == DATUM:
                return f"The datum {name}" + (f" with {listed(more)}." if more else ".")
            return f"{name} and about it {listed(more)}." if more else f"{listed(points)}."
        return f"{listed([name, *(n for n in (*lines, *rounds) if n != name)])}" + (
            f" with {listed(points)}." if points else ".")

    def _slot(self, cluster: Cluster) -> list[str]:
        names = [n for _, n in cluster.members if n in self.stages.slots]
        return list(self.stages.slots[names[0]]) if names else []
