"""The order in which a drafter works: what belongs to which stage of a construction.

Datum and center lines, circles and holes, what stands on them, tangent lines and arcs, edges cut to
length, fillets last, then the outline gone over, patterns and the reflection (common practice, no
source).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from functools import cached_property

from sketcher.lesson.board_entities import Entity
from sketcher.lesson.relations import Relation
from sketcher.lesson.smooth_slots import slots_of
from sketcher.part.value import ArcCurve, CircleCurve, LineCurve, Part

STAGES = (
    "Datum and center lines", "Centers and circles", "Layout lines", "Edges and arcs",
    "Cut to length", "Fillets", "Go over the outline", "Patterns", "Reflection", "To end with",
)
DATUM, CENTERS, LAYOUT, EDGES, LENGTHS, FILLETS, OUTLINE, PATTERNS, REFLECTION, END = range(10)


class Stages:
    """Where the things of a part belong.

    Parameters
    ----------
    part : Part
    why : mapping of Entity to sequence of Relation
    """

    def __init__(self, part: Part, why: Mapping[Entity, list[Relation]]) -> None:
        self.part, self.why = part, why
        self.users: dict[str, list[str]] = defaultdict(list)
        for name, curve in part.curves.items():
            for point in curve.points:
                self.users[point].append(name)

    @cached_property
    def slots(self) -> dict[str, tuple[str, ...]]:
        """Curves of a slot by each of them."""
        return {name: slot for slot in slots_of(self.part) for name in slot}

    @cached_property
    def laid(self) -> dict[str, str]:
        """Arcs whose center follows from what they touch, each with its center."""
        out = {}
        for name, curve in self.part.curves.items():
            if isinstance(curve, ArcCurve) and name not in self.slots:
                rows = self.why.get(("point", curve.center), ())
                touching = [r for r in rows if r.role == "touch" and name in r.rounds]
                if len(touching) == 2 and self.users[curve.center] == [name]:
                    out[name] = curve.center
        return out

    @cached_property
    def joints(self) -> dict[str, list[str]]:
        """Points of tangency on each curve."""
        out: dict[str, list[str]] = defaultdict(list)
        for point, users in self.users.items():
            rows = self.why.get(("point", point), ())
            if any(r.kind is not None and r.kind.joins for r in rows):
                for name in users:
                    out[name].append(point)
        return out

    def fillet(self, name: str) -> bool:
        """Whether an arc that is laid against others rounds a corner of two lines."""
        if name not in self.laid:
            return False
        curve = self.part.curves[name]
        neighbors = {other for point in curve.points for other in self.users[point]} - {name}
        return all(isinstance(self.part.curves[n], LineCurve) for n in neighbors)

    @cached_property
    def _corners(self) -> set[str]:
        """Points of fillets."""
        out: set[str] = set()
        for name in self.laid:
            if self.fillet(name):
                out.update(self.part.curves[name].points)
        return out

    def own(self, entity: Entity, needed: bool) -> int:
        """Stage of a thing by itself; `needed` where others are drawn from it."""
        kind, name = entity
        rows = self.why.get(entity, ())
        if kind == "point":
            return self._of_point(name, rows, needed)
        curve = self.part.curves[name]
        if curve.role == "axis":
            return DATUM
        if name in self.slots:
            return EDGES
        if kind == "line":
            return EDGES if curve.role == "outline" else LAYOUT
        if name in self.laid:
            return FILLETS if self.fillet(name) else EDGES
        return CENTERS

    def _of_point(self, name: str, rows: list[Relation] | tuple[()], needed: bool) -> int:
        if any(row.role == "held" for row in rows):
            return DATUM
        if name in self._corners:
            return FILLETS
        if name in self.laid.values():
            return EDGES
        if self.users[name] and any(set(self.users[name]) <= set(slot)
                                    for slot in map(self.slots.get, self.users[name]) if slot):
            return EDGES
        curves = [self.part.curves[user] for user in self.users[name]]
        if any(isinstance(c, (ArcCurve, CircleCurve)) and c.center == name for c in curves):
            return CENTERS
        roles = {c.role for c in curves}
        if roles <= {"axis"}:
            return DATUM
        if "outline" not in roles:
            return LAYOUT
        return EDGES if needed or name in self.joints.get(self.users[name][0], ()) else LENGTHS
