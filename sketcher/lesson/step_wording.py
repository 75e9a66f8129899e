"""How a condition reads at the drawing board: what its kind says of it, and what no kind says.

What a kind has no phrase for is named by kind and binding.
"""

from __future__ import annotations

from sketcher.lesson.relations import Relation
from sketcher.part.construction_words import Words, on_curve, passing, reaching
from sketcher.part.kinds import KINDS, wanted
from sketcher.quantity.format import angle as angle_text


class StepWording(Words):
    """Phrases about one solved part."""

    def value(self, owner: str) -> str:
        """Value of a dimension, with its expression where that says more."""
        binding = self.part.bindings[owner]
        amount = wanted(self.part, binding) or 0.0
        if KINDS[binding.kind].quantity == "angle":
            text = angle_text(amount)
        else:
            text = self.number(amount)
        typed = (binding.value or "").strip()
        plain = all(c in "0123456789.-/ °'\"" for c in typed)
        return text if plain else f"{text} ({typed})"

    def locus(self, relation: Relation, point: str) -> str:
        """The line or circle on which a condition puts a point."""
        said = None
        if relation.role == "end":
            said = on_curve(self, relation, relation.owner, point)
        elif relation.kind is not None:
            said = relation.kind.locus(self, relation, point)
        return said or self.unnamed(relation)

    def found(self, relation: Relation, point: str) -> str | None:
        """The place that a condition alone gives to a point, if it does."""
        return None if relation.kind is None else relation.kind.found(self, relation, point)

    def course(self, relation: Relation, line: str) -> str:
        """What a condition says about an edge of the straightedge."""
        if relation.role == "end":
            return passing(relation)
        if relation.kind is None:
            return "in any direction (nothing says which)"
        return relation.kind.course(self, relation, line) or f"by {self.unnamed(relation)}"

    def opening(self, relation: Relation, name: str) -> str:
        """What a condition says about the opening of the compass."""
        if relation.role == "end":
            return reaching(self, relation, name)
        if relation.kind is None:
            return f"any radius (here R{self.radius(name)})"
        return relation.kind.opening(self, relation, name) or (
            f"R{self.radius(name)} by {self.unnamed(relation)}")

    def condition(self, relation: Relation) -> str:
        """Return the condition as a clause of its own, for what must be found together."""
        if relation.kind is None:
            return f"{relation.points[0]} on {relation.owner}"
        return relation.kind.clause(self, relation)

    def unnamed(self, relation: Relation) -> str:
        """Phrase for a condition without one of its own."""
        kind = relation.role if relation.kind is None else relation.kind.name
        return f"what {relation.owner} ({kind} of {', '.join(self.of(relation))}) allows"
