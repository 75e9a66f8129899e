"""The things of a part in the order of their drawing, gathered into steps."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass
from heapq import heapify, heappop, heappush

from sketcher.lesson.board_entities import Entity, entities
from sketcher.lesson.board_facts import BoardFacts
from sketcher.lesson.board_order import BoardOrder
from sketcher.lesson.stages import DATUM, LENGTHS, Stages
from sketcher.part.curve_questions import center_of
from sketcher.part.value import ArcCurve, LineCurve, Part

Needs = dict[Entity, set[Entity]]


@dataclass(frozen=True, slots=True)
class Cluster:
    """Things drawn in one step.

    Parameters
    ----------
    stage : int
        Number of its stage.
    kind : str
        What holds them together: ``slot``, ``laid arc``, ``lengths``, or empty.
    members : tuple of Entity
        In the order of their drawing; the first leads.
    """

    stage: int
    kind: str
    members: tuple[Entity, ...]


class DrawingSequence:
    """Finds the order.

    Parameters
    ----------
    part : Part
    order : BoardOrder
    facts : BoardFacts
    stages : Stages
    """

    def __init__(self, part: Part, order: BoardOrder, facts: BoardFacts, stages: Stages) -> None:
        self.part, self.order, self.stages = part, order, stages
        every = entities(part)
        self.rank = {entity: k for k, entity in enumerate(every)}
        found = {entity: facts.needs(entity) for entity in every}
        hard = {e: {n for n in needs if n in self.rank} for e, (needs, _) in found.items()}
        for members in set(order.together.values()):
            # drawn one after the other, once all that any of them needs is there
            outside = {n for m in members for n in hard[m]} - set(members)
            for k, member in enumerate(sorted(members, key=_lines_last)):
                hard[member] = outside | set(sorted(members, key=_lines_last)[:k])
        known = {e: order.known_at(e) for e in every}
        base = {e: k for k, e in enumerate(_sorted(hard, lambda e: (known[e], self.rank[e])))}
        self.needs: Needs = {}
        for entity in every:
            soft = {n for n in found[entity][1] if n in base and base[n] < base[entity]}
            self.needs[entity] = {n for n in hard[entity] if base[n] < base[entity]} | soft
        self.stage: dict[Entity, int] = {}
        wanted = {n for needs in self.needs.values() for n in needs}
        for entity in sorted(every, key=base.__getitem__):
            own = stages.own(entity, entity in wanted)
            self.stage[entity] = max([own, *(self.stage[n] for n in self.needs[entity])])
        self.base = base

    def clusters(self) -> Iterator[Cluster]:
        """Yield the steps."""
        users: dict[Entity, list[Entity]] = defaultdict(list)
        open_needs = {entity: len(needs) for entity, needs in self.needs.items()}
        for entity, needs in self.needs.items():
            for need in needs:
                users[need].append(entity)
        ready = {e for e, count in open_needs.items() if not count}
        heap = [(self.stage[e], self.rank[e], e) for e in ready]
        heapify(heap)
        drawn: set[Entity] = set()

        def take(entity: Entity) -> None:
            drawn.add(entity)
            ready.discard(entity)
            for user in users[entity]:
                open_needs[user] -= 1
                if not open_needs[user]:
                    ready.add(user)
                    heappush(heap, (self.stage[user], self.rank[user], user))

        while heap:
            stage, _, leader = heappop(heap)
            if leader in drawn:
                continue
            take(leader)
            members = [leader]
            kind, wished = self._company(leader, stage)
            while company := wished & ready:
                # points first: the feet before the arc that runs from one to the other
                entity = min(company, key=lambda e: (
                    kind == "laid arc" and e[0] != "point", self.rank[e]))
                take(entity)
                members.append(entity)
            if kind == "lengths":
                more = [e for e in sorted(ready, key=self.rank.__getitem__)
                        if self.stage[e] == LENGTHS and e[0] == "point"]
                for entity in more:
                    take(entity)
                members += more
            yield Cluster(stage, kind, tuple(members))

    def _company(self, leader: Entity, stage: int) -> tuple[str, set[Entity]]:
        """What is drawn in one step with a thing where it can be."""
        kind, name = leader
        block = set(self.order.together.get(leader, ()))
        curves = self.stages.users[name] if kind == "point" else [name]
        slot = next((self.stages.slots[c] for c in curves if c in self.stages.slots), ())
        if slot and set(curves) <= set(slot):
            return "slot", block | self._of_curves(slot)
        if kind == "point":
            laid = [c for c in curves if self.stages.laid.get(c) == name]
            if laid:
                return "laid arc", block | self._of_curves(laid)
            if stage == LENGTHS:
                return "lengths", block
            rounds: set[Entity] = {
                ("round", c) for c in curves
                if center_of(self.part.curves[c]) == name and c not in self.stages.slots}
            axes: set[Entity] = set()
            if stage == DATUM:
                axes = {e for e, own in self.stage.items() if own == DATUM and e[0] == "line"}
            return "", block | {e for e in rounds if self.stage[e] <= stage} | axes
        if kind == "round" and name not in self.stages.laid:
            center = center_of(self.part.curves[name])
            return "", block | {
                ("round", c) for c in self.stages.users[center or ""]
                if center_of(self.part.curves[c]) == center and c not in self.stages.slots
                and self.stage["round", c] == stage}
        joints = {("point", p) for p in self.stages.joints.get(name, ())}
        return "", block | joints

    def _of_curves(self, names: Collection[str]) -> set[Entity]:
        out: set[Entity] = set()
        for name in names:
            curve = self.part.curves[name]
            out.add(("line" if isinstance(curve, LineCurve) else "round", name))
            ends = curve.ends if isinstance(curve, (LineCurve, ArcCurve)) else ()
            out.update(("point", p) for p in ends)
            center = center_of(curve)
            if center is not None and set(self.stages.users[center]) <= set(names):
                out.add(("point", center))
        return out


def _lines_last(entity: Entity) -> tuple[int, str]:
    return (("point", "round", "line").index(entity[0]), entity[1])


def _sorted(needs: Needs, key: Callable[[Entity], tuple[int, int]]) -> list[Entity]:
    """All things, each after its needs; where they go round in a circle the first by key."""
    users: dict[Entity, list[Entity]] = defaultdict(list)
    left = {entity: len(wanted) for entity, wanted in needs.items()}
    for entity, wanted in needs.items():
        for need in wanted:
            users[need].append(entity)
    heap = [(*key(e), e) for e, count in left.items() if not count]
    heapify(heap)
    out: list[Entity] = []
    done: set[Entity] = set()
    rest = sorted(needs, key=key, reverse=True)
    while len(out) < len(needs):
        while not heap:
            entity = rest.pop()
            if entity not in done:
                heap = [(*key(entity), entity)]
        entity = heappop(heap)[-1]
        if entity in done:
            continue
        done.add(entity)
        out.append(entity)
        for user in users[entity]:
            left[user] -= 1
            if left[user] == 0:
                heappush(heap, (*key(user), user))
    return out
