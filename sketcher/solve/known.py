"""What is known and told while the order of construction is put into words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from sketcher.part.forms import Slot
from sketcher.part.value import Part
from sketcher.solve.relations import Relation

STRAIGHT = {"run", "rise", "level", "plumb", "offset"}  # kinds whose locus of a point is a line
Entity = tuple[str, str]  # ("point" | "line" | "round", id)


def entity_of(slot: Slot) -> Entity:
    """Return the thing to which an unknown belongs."""
    name, axis = slot
    return ("point" if axis in "xy" else "round" if axis == "r" else "line"), name


@dataclass(slots=True)
class Known:
    """State of a construction: unknowns known, things told, and the conditions behind each."""

    part: Part
    known: set[Slot] = field(default_factory=set)
    told: set[Entity] = field(default_factory=set)
    why: dict[Entity, list[Relation]] = field(default_factory=dict)

    def whole(self, entity: Entity) -> bool:
        """Return whether every unknown of a thing is known."""
        kind, name = entity
        axes = {"point": "xy", "line": ("turn", "place"), "round": "r"}[kind]
        return all((name, axis) in self.known for axis in axes)

    def speaks_of_told(self, row: Relation, point: str) -> bool:
        """Return whether a binding's condition names nothing untold but `point`."""
        return bool(row.owner) and all(
            entity_of(s) in self.told or s[1] == "r" or s[0] == point for s in row.terms)

    def loci(self, rows: Iterable[Relation]) -> list[Relation]:
        """Conditions that put a line on a locus of one of its points before that is found.

        Such a locus runs along the line: it binds just those coordinates that the line needs.
        """
        out = []
        for row in rows:
            name = row.points[-1] if row.kind in {"end", "on"} else ""
            if not name or ("point", name) in self.told:
                continue
            needed = {slot for slot in row.terms if slot[0] == name}
            out += [r for r in self.why.get(("point", name), ())
                    if r.owner != row.owner and r.kind in STRAIGHT
                    and self.speaks_of_told(r, name)
                    and {slot for slot in r.terms if slot[0] == name} == needed]
        return out
