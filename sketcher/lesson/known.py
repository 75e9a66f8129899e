"""What is known and told while the order of construction is put into words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from sketcher.lesson.relations import Relation
from sketcher.part.operand_forms import Slot
from sketcher.part.value import LineCurve, Part, PartCurve

Entity = tuple[str, str]  # ("point" | "line" | "round", id)


def entity_of(slot: Slot) -> Entity:
    """Return the thing to which an unknown belongs."""
    name, axis = slot
    return ("point" if axis in "xy" else "round" if axis == "r" else "line"), name


def carrier_of(name: str, curve: PartCurve) -> Entity:
    """Return the line or the opening of the compass that a curve is drawn with."""
    return ("line" if isinstance(curve, LineCurve) else "round"), name


@dataclass(slots=True)
class Known:
    """State of a construction: unknowns known, things told, and the conditions behind each."""

    part: Part
    known: set[Slot] = field(default_factory=set)
    told: set[Entity] = field(default_factory=set)
    why: dict[Entity, list[Relation]] = field(default_factory=dict)
    drawn: set[str] = field(default_factory=set)
    fresh: list[Entity] = field(default_factory=list)
    """Things known or told since curves were last looked for that are ready to be drawn."""
    curves: list[tuple[str, PartCurve]] = field(init=False)
    uses: dict[Entity, list[int]] = field(init=False)
    """For each thing the numbers of the curves that wait for it."""

    def __post_init__(self) -> None:
        self.curves, self.uses = list(self.part.curves.items()), {}
        for number, (name, curve) in enumerate(self.curves):
            for entity in (carrier_of(name, curve), *(("point", p) for p in curve.points)):
                self.uses.setdefault(entity, []).append(number)

    def note_known(self, slots: Iterable[Slot]) -> list[Entity]:
        """Take note of unknowns that are known now; return what they belong to."""
        slots = list(slots)
        self.known.update(slots)
        entities = list(dict.fromkeys(map(entity_of, slots)))
        self.fresh += entities
        return entities

    def note_told(self, *entities: Entity) -> None:
        """Take note of things that are told now."""
        self.told.update(entities)
        self.fresh += entities

    def ready_curves(self) -> list[str]:
        """Return the curves of which the last piece has become known, as drawn from now on."""
        waiting = sorted({k for entity in self.fresh for k in self.uses.get(entity, ())})
        self.fresh.clear()
        done = []
        for number in waiting:
            name, curve = self.curves[number]
            needs: set[Entity] = {("point", p) for p in curve.points}
            own = carrier_of(name, curve)
            known = own in self.told if own[0] == "line" else self.whole(own)
            if name in self.drawn or not known or not needs <= self.told:
                continue
            self.drawn.add(name)
            done.append(name)
        return done

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
            name = row.points[-1] if row.passes else ""
            if not name or ("point", name) in self.told:
                continue
            needed = {slot for slot in row.terms if slot[0] == name}
            out += [r for r in self.why.get(("point", name), ())
                    if r.owner != row.owner and r.straight
                    and self.speaks_of_told(r, name)
                    and {slot for slot in r.terms if slot[0] == name} == needed]
        return out
