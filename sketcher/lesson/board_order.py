"""What determines what: the conditions matched with the unknowns of the board, block by block."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sketcher.lesson.board_entities import Entity, entity_of
from sketcher.lesson.matching import blocks, matching
from sketcher.lesson.relations import Relation, determined, relations, unknowns
from sketcher.lesson.worked_out import Structure, worked_out
from sketcher.part.operand_forms import Slot
from sketcher.part.value import Part


@dataclass(frozen=True)
class BoardOrder:
    """The unknowns in an order in which each follows from those before.

    Parameters
    ----------
    structure : Structure
    why : dict of Entity to list of Relation
        The conditions that determine each thing.
    together : dict of Entity to tuple of Entity
        Things that only several conditions at once determine, each with all of its block.
    """

    structure: Structure
    why: dict[Entity, list[Relation]]
    together: dict[Entity, tuple[Entity, ...]]

    def known_at(self, entity: Entity) -> int:
        """Number of the block with which the whole of a thing is known."""
        kind, name = entity
        axes = {"point": "xy", "line": ("turn", "place"), "round": "r"}[kind]
        return max(self.structure.at.get((name, axis), -1) for axis in axes)


def board_order(part: Part, without: Iterable[str] = ()) -> BoardOrder:
    """Return the order for a solved part.

    Parameters
    ----------
    part : Part
        Solved, with its sides.
    without : iterable of str
        Bindings said twice, to be left out.
    """
    found = relations(part, without)
    slots = unknowns(part)
    order = _ordered(found, slots)
    extra = list(worked_out(part, order.structure, order.why))
    if not extra:
        return order
    # the numbers that a sum is made of come before it, what it makes superfluous after it
    owners = {owner for row in extra for owner in row.owners}
    tangled = {id(r) for entity in order.together for r in order.why[entity]}
    first = [r for r in found if r.role == "end" or r.owner in owners or (
        r.kind is not None and r.kind.quantity is None and r.role != "touch"
        and id(r) not in tangled)]
    first_ids = set(map(id, first))
    rest = [r for r in found if id(r) not in first_ids]
    return _ordered([*first, *extra, *rest], slots)


def _ordered(found: Sequence[Relation], slots: Sequence[Slot]) -> BoardOrder:
    chosen = determined(found, slots)
    number = {slot: k for k, slot in enumerate(slots)}
    pattern = [[number[slot] for slot in relation.terms] for relation in chosen]
    row_of = matching(pattern, len(slots))
    given = {number[slot] for r in chosen if r.role == "held" for slot in r.terms}
    parts = [([slots[c] for c in block], [chosen[row_of[c]] for c in block])
             for block in blocks(pattern, row_of, lambda column: (column not in given, column))]
    why: dict[Entity, list[Relation]] = {}
    together: dict[Entity, tuple[Entity, ...]] = {}
    for own, rows in parts:
        members = tuple(dict.fromkeys(map(entity_of, own)))
        for member in members:
            why.setdefault(member, []).extend(
                r for r in rows if any(entity_of(slot) == member for slot in r.terms))
        if len(members) > 1:
            together.update(dict.fromkeys(members, members))
    return BoardOrder(Structure(parts), why, together)
