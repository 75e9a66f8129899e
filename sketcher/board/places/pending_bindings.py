"""What a snap or a typed value becomes once the geometry is drawn.

A tie is a binding whose operands are not drawn yet; stand-ins take their places:
``@`` the new point, ``@from`` the point before it, ``@curve`` the new curve, ``@zero`` the point at
the readout's zero.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sketcher.errors import QuantityError
from sketcher.part.scribing import angle_held, positive
from sketcher.part.value import Part, Unit
from sketcher.quantity.format import exact
from sketcher.quantity.parse import names_in
from sketcher.quantity.physical_dimension import Value
from sketcher.quantity.units import MM_PER_INCH
from sketcher.quantity.written import evaluate_written

ZERO_DEGREES = 1e-12


@dataclass(frozen=True, slots=True)
class Tie:
    """A binding to be: kind, operands with stand-ins, value as typed; `typed` when it was typed.

    What was typed stays even when it clashes or is said twice; what only a snap showed does not.
    """

    kind: str
    of: tuple[str, ...]
    value: str | None = None
    typed: bool = False


@dataclass(frozen=True, slots=True)
class Typed:
    """A typed value: its text as the part would store it, and what it comes to.

    `amount` is in the part's unit, or in degrees.
    """

    text: str
    amount: float


def factor(shown: Unit, own: Unit) -> float:
    """Return what one length on display is worth in the part's own unit."""
    if shown == own:
        return 1.0
    return MM_PER_INCH if shown == "in" else 1.0 / MM_PER_INCH


def read_typed(
    text: str, quantity: str, part: Part, shown: Unit, names: Mapping[str, Value]
) -> Typed:
    """Evaluate typed text; a bare number is in the unit on display.

    Raises
    ------
    QuantityError
        When the text cannot be understood, or mixes parameters with a foreign unit on display.
    """
    text = text.strip()
    if quantity != "length" or shown == part.unit:
        return Typed(text, evaluate_written(text, quantity, part.unit, names))
    if names_in(text, part.unit):
        return Typed(text, evaluate_written(text, "length", part.unit, names))
    amount = evaluate_written(text, "length", shown, {}) * factor(shown, part.unit)
    signed = f"{text} {shown}"
    try:
        own = evaluate_written(signed, "length", part.unit, {})
        same = abs(own - amount) <= 1e-12 * abs(amount)
    except QuantityError:
        same = False
    return Typed(signed if same else exact(amount), amount)


def typed_tie(kind: str, of: tuple[str, ...], typed: Typed) -> Tie:
    """Return the binding that a typed value means.

    A binding's value is positive, as the paper prints it: the sign of a typed run or rise and the
    quadrant of a typed angle stand in the geometry already. A run of zero is plumb, a rise of zero
    level, an angle of a multiple of 90 degrees level or plumb.
    """
    if kind == "angle" and (len(of) == 1 or of == ("@from", "@")):
        return _angle_tie(of, typed)
    if kind == "sweep" and typed.amount > 180.0:  # an angle of two lines is at most half a turn
        return Tie(kind, of, f"360 - ({typed.text})", True)
    if kind in ("run", "rise") and typed.amount == 0.0:
        return Tie("plumb" if kind == "run" else "level", of, None, True)
    return Tie(kind, of, positive(typed.amount, typed.text), True)


def _angle_tie(of: tuple[str, ...], typed: Typed) -> Tie:
    turn = typed.amount % 360.0
    if min(turn % 180.0, 180.0 - turn % 180.0) < ZERO_DEGREES:
        return Tie("level", of, None, True)
    if abs(turn % 180.0 - 90.0) < ZERO_DEGREES:
        return Tie("plumb", of, None, True)
    return Tie("angle", of, angle_held(typed.amount, typed.text), True)
