"""Amounts as the paper has them: typed numbers as typed, others with their arithmetic."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from sketcher.lesson.board_entities import Entity
from sketcher.lesson.relations import Relation
from sketcher.part.construction_words import Words, reaching
from sketcher.part.kinds import KINDS, wanted
from sketcher.part.loci import Amount, AnyRadius, Opened, Reaching, Term, Touching
from sketcher.part.printed import in_fractions
from sketcher.part.value import ArcCurve, Part
from sketcher.quantity.format import angle as angle_text
from sketcher.quantity.format import fraction
from sketcher.quantity.format import length as length_text
from sketcher.quantity.spelling import spelled

PLAIN = re.compile(r"^-?(\d+[ -])?\d+/\d+$|^-?\d*\.?\d+$|^-?\d+\.$")
CHOSEN = "chosen"
CLOSE = 9  # decimals of a length that is chosen or computed, so that the drawing closes
PLACES = 4  # decimals of an amount that no number of the paper is
EXACT_PLACES = 9  # decimals with which one is tried that has not many more


class BoardWords(Words):
    """What can be said of one solved part.

    Parameters
    ----------
    part : Part
    why : mapping of Entity to sequence of Relation
        The conditions that determine each thing.
    """

    def __init__(self, part: Part, why: Mapping[Entity, Sequence[Relation]]) -> None:
        super().__init__(part)
        self.why = why
        self._radii: dict[str, Amount] = {}
        self._asked: set[str] = set()

    def number(self, size: float, *like: Amount, places: int = PLACES) -> str:
        """Return a length as the paper would print it beside others; a fraction among such."""
        fractions = any("/" in amount.text for amount in like)
        if not like or all(amount.text.isdigit() for amount in like):
            fractions = fractions or in_fractions(self.part)
        if fractions and self.part.unit == "in":
            text = fraction(size)
            if not text.startswith("~"):
                return text
        for more in range(PLACES, EXACT_PLACES) if places == PLACES else ():
            text = length_text(size, self.part.unit, more, zeros=False)
            if abs(float(text) - size) <= min(1e-12 * size, 10.0 ** -(more + 3)):
                return text  # a half of what is typed may have a decimal more
        return length_text(size, self.part.unit, places, zeros=False)

    def amount(self, owner: str) -> Amount:
        """Value of a dimension of a length, as the paper has it."""
        binding = self.part.bindings[owner]
        size = abs(wanted(self.part, binding) or 0.0)
        typed = spelled(binding.value or "").strip()
        typed = typed[1:-1] if re.fullmatch(r"\(\d+/\d+\)", typed) else typed
        if PLAIN.match(typed):
            return Amount(size, typed.lstrip("-"))
        return Amount(size, self.number(size), typed)

    def angle(self, owner: str) -> tuple[float, str]:
        """Value of a dimension of an angle in degrees, and its text."""
        binding = self.part.bindings[owner]
        size = wanted(self.part, binding) or 0.0
        typed = (binding.value or "").strip()
        if all(c in "0123456789.-' °\"" for c in typed):
            return size, angle_text(abs(size)) if typed.strip("-").replace(
                ".", "").isdigit() else typed
        return size, f"{angle_text(abs(size))} = {typed}"

    def worked_out(
        self, size: float, terms: Sequence[tuple[int, Amount]], reason: str
    ) -> Amount:
        """Sum of amounts, each with its sign, and what they are."""
        made = ""
        parts: list[Term] = []
        for sign, amount in terms:
            text = self.text(amount)
            made += text if not made else f" {'+' if sign > 0 else '-'} {text}"
            own = amount.terms or (Term(1, amount.size, text=amount.said),)
            parts += [replace(term, sign=sign * term.sign) for term in own]
        if not all(term.text for term in parts):
            return Amount(size, made, "", reason, tuple(parts))
        chosen = any(amount.reason == CHOSEN for _, amount in terms)
        text = self.number(size, *(a for _, a in terms), places=CLOSE if chosen else PLACES)
        return Amount(size, text, made, reason, tuple(parts))

    @staticmethod
    def text(amount: Amount) -> str:
        """How an amount is said within a sum: by what was typed, for its number may be said later.

        A sum of several is said by its number; it has been used before it is used in another.
        """
        if not amount.made or len(amount.terms) > 1:
            return amount.text
        alone = amount.made.isidentifier() or re.fullmatch(r"Ø[^-+]*", amount.made)
        return amount.made if alone else f"({amount.made})"

    def half(self, amount: Amount, sign: str = "") -> Amount:
        """Half of an amount, before whose number a sign such as Ø stands."""
        size = 0.5 * amount.size
        whole = self.text(amount)
        sign = "" if whole.isidentifier() else sign
        return Amount(size, self.number(size, amount), f"{sign}{whole} / 2")

    def span(self, one: str, other: str, /, reason: str = "") -> Amount:
        """Distance of two points, taken with the compass."""
        (ax, ay), (bx, by) = self.part.points[one], self.part.points[other]
        size = float(((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5)
        return Amount(size, f"{one}-{other}", "", reason, (Term(1, size, "", (one, other)),))

    # Radii.

    def opening(self, name: str) -> Opened | None:
        """What opens the compass for a round."""
        for row in self.why.get(("round", name), ()):
            if row.role == "choice":
                return AnyRadius()
            if isinstance(row.meant, Amount):
                return row.meant
            if row.role == "end":
                return reaching(row)
            if row.kind is not None:
                return row.kind.opening(self, row, name)
        return None

    def radius(self, name: str) -> Amount:
        """Radius of a round by what has given it; taken from its points where nothing did."""
        known = self._radii.get(name)
        if known is not None:
            return known
        found = None
        if name not in self._asked:  # two rounds may each be given by the other
            self._asked.add(name)
            found = self.opening(name)
        if isinstance(found, AnyRadius):
            size = self.size(name)
            amount = Amount(size, self.number(size, places=CLOSE), "", CHOSEN)
        elif isinstance(found, Amount):
            terms = found.terms or (Term(1, found.size, text=found.said),)
            named = tuple(replace(term, of=term.of or name) for term in terms[:1])
            amount = replace(found, terms=(*named, *terms[1:]))
        else:
            amount = self._taken(name, found)
        self._radii[name] = amount
        return amount

    def _taken(self, name: str, found: Opened | None) -> Amount:
        """Radius between the center and a point of the round."""
        curve = self.part.curves[name]
        points = [found.point] if isinstance(found, Reaching) else []
        if isinstance(found, Touching) and isinstance(curve, ArcCurve):
            other = self.part.curves.get(found.curve)
            points = [p for p in curve.ends if other is not None and p in other.points]
        if not points and isinstance(curve, ArcCurve):
            points = list(curve.ends[:1])
        size = self.size(name)
        if not points:
            return Amount(size, f"of {name}", terms=(Term(1, size, name, ()),))
        return replace(self.span(self.center(name), points[0]),
                       terms=(Term(1, size, name, (self.center(name), points[0])),))

    def quantity(self, owner: str) -> str | None:
        """Whether a binding gives a length or an angle, or neither."""
        binding = self.part.bindings.get(owner)
        return None if binding is None else KINDS[binding.kind].quantity
