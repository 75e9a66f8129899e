"""Making a dimension: its value as typed or measured, rounded where it drives, its text's place."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

from sketcher.board.dimensions.shown_value import half_of
from sketcher.board.steps.bench import Bench
from sketcher.geometry.curves import XY
from sketcher.part import kinds
from sketcher.part.edits.add_binding import add_binding
from sketcher.part.edits.set_drawing import set_drawing
from sketcher.part.edits.set_drives import set_drives
from sketcher.part.edits.set_value import set_value
from sketcher.part.kinds import KINDS
from sketcher.part.value import Binding, Part
from sketcher.quantity.format import angle, exact, length
from sketcher.solve.solve_report import SolveReport

SAME = 1e-9
"""Share of a value within which two dimensions say the same."""


class Made(NamedTuple):
    """A part with a dimension that was made, and whether it only is a reference."""

    part: Part
    name: str
    is_reference: bool


@dataclass(frozen=True)
class NewDimension:
    """A dimension to be made.

    Parameters
    ----------
    kind, ids : str, tuple of str
        What is measured.
    at : tuple of float or None
        Where its text stands; None leaves that to the layout.
    halves : bool
        Whether what is typed, or measured, is twice the value.
    """

    kind: str
    ids: tuple[str, ...]
    at: XY | None
    halves: bool = False

    def value(self, text: str) -> str:
        """Return what the binding says for a value that is typed or shown."""
        return half_of(text) if self.halves else text

    def measured(self, part: Part, binding: Binding) -> float:
        """Return the value as it is shown: of a half, the whole."""
        return kinds.measure(part, binding) * (2.0 if self.halves else 1.0)

    def added(self, part: Part, text: str) -> tuple[Part, str]:
        """Return the part with the dimension, and its id.

        Raises
        ------
        SketcherError
            Why it could not be.
        """
        edited = add_binding(part, self.kind, self.ids, self.value(text))
        name = edited.made[0]
        return (edited.part if self.at is None else placed(edited.part, name, self.at)), name

    def made(self, bench: Bench, part: Part, text: str | None) -> Made:
        """Return the part with the dimension; without a text it says what it measures.

        What is implied by the other dimensions is worth printing but must not drive: it says what
        it measures, or what was typed. What drives takes a number that a person would write, unless
        the part has no solution with it.
        """
        binding = kinds.bind(part, self.kind, self.ids)
        amount = self.measured(part, binding)
        full = exact(round(amount, 9))
        drawn, name = self.added(part, full if text is None else text)
        follows = bench.solve(drawn).report
        if name in follows.doubled and holds(follows, name, amount):
            reference = set_drives(drawn, name, False).part
            return Made(reference if text else set_value(reference, name, "").part, name, True)
        plain = None if text is not None else as_written(bench, part, self.kind, amount)
        if plain is not None and plain != full:
            tried, _ = self.added(part, plain)
            report = bench.solve(tried).report
            if report.converged and set(report.clashes) <= set(bench.report.clashes):
                drawn = tried
        return Made(drawn, name, False)


def holds(report: SolveReport, name: str, amount: float) -> bool:
    """Tell whether a dimension that adds nothing says what the others say: else it clashes."""
    return abs(report.residuals[name]) <= SAME * max(1.0, abs(amount))


def as_written(bench: Bench, part: Part, kind: str, amount: float) -> str | None:
    """Return a measured value with the decimals of the settings; None where nothing is left."""
    if KINDS[kind].quantity == "angle":
        text = angle(amount).rstrip("\N{DEGREE SIGN}")
    else:
        places = bench.settings["in_places" if part.unit == "in" else "mm_places"]
        text = length(amount, part.unit, places, zeros=False)
    return text if float(text) > 0.0 else None


def placed(part: Part, binding: str, at: XY) -> Part:
    """Return the part with a dimension's text at a place."""
    return set_drawing(part, placed={**part.drawing.placed, binding: at}).part


@dataclass(frozen=True)
class JustMade:
    """The dimension made last: the part before and after, its id, the key of its step."""

    new: NewDimension
    before: Part
    after: Part
    name: str
    step: str

    def then(self, after: Part) -> JustMade:
        """Return it after its value was changed."""
        return replace(self, after=after)
