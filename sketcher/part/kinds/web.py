"""Web: the least material between two rounds, along the line of their centers."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.geometry.curves import Line
from sketcher.part.construction_words import Condition, Words
from sketcher.part.dimension_form import Linear, Side
from sketcher.part.equations.web_equation import WEB
from sketcher.part.kind_base import Kind
from sketcher.part.kind_sign import Sign
from sketcher.part.loci import Locus, Opened, RoundAbout, Touching
from sketcher.part.operand_forms import EquationRow, radius_of, round_center
from sketcher.part.value import Part


class Web(Kind):
    """Distance of two centers less both radii; an arc counts as its full circle."""

    name = "web"
    quantity = "length"
    hint = "Least material between two circles or arcs that lie beside each other."
    phrases = ("web {0} to {1}",)
    forms = (("round", "round"),)
    sign = Sign(
        (((-0.2, 0.0), (0.2, 0.0)), ((-0.2, -0.45), (-0.2, 0.45)), ((0.2, -0.45), (0.2, 0.45))),
        ((-0.6, 0.0, 0.36), (0.6, 0.0, 0.36)),
    )
    above_zero = True
    has_sides = False

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[EquationRow]:
        """Return the distance of the centers less the radii."""
        one, other = of
        centers = (round_center(part, one), round_center(part, other))
        return [EquationRow(WEB, centers, (one, other))]

    def dimension(self, part: Part, of: Sequence[str]) -> Linear | None:
        """Return the length between the nearest places of the rims."""
        (ax, ay), (bx, by) = (part.points[round_center(part, name)] for name in of)
        r, s = (radius_of(part, name) for name in of)
        ux, uy = Line((ax, ay), (bx, by)).direction
        if (ux, uy) == (0.0, 0.0):
            return None
        rims = (ax + r * ux, ay + r * uy), (bx - s * ux, by - s * uy)
        return Linear(Side((rims[0],)), Side((rims[1],)), (ux, uy))

    def preference(self, part: Part, of: Sequence[str]) -> float:
        """Before the offset, which would make two holes concentric."""
        return 3.5

    def locus(self, words: Words, condition: Condition, point: str) -> Locus | None:
        """Return the circle about the other center on which a center lies."""
        one, other = words.of(condition)
        mine, given = (one, other) if words.center(one) == point else (other, one)
        amount = words.worked_out(
            words.apart(one, other),
            ((1, words.radius(given)), (1, words.radius(mine)), (1, words.amount(condition.owner))),
            f"radii of {given} and {mine} and the web between them")
        return RoundAbout(words.center(given), amount)

    def opening(self, words: Words, condition: Condition, name: str) -> Opened | None:
        """Return the radius by what it leaves beside the other round."""
        return Touching(words.others(condition, name)[0], words.amount(condition.owner))


KIND = Web()
