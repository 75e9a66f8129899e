"""The numbers of the patterns as rows: what is typed, what it comes to."""

from __future__ import annotations

from dataclasses import dataclass

from sketcher.board.readout.readout_content import shown
from sketcher.board.steps.bench import Bench
from sketcher.errors import SketcherError
from sketcher.part.spacings import Spacing, spacings
from sketcher.quantity.parse import evaluate


@dataclass(frozen=True, slots=True)
class SpacingRow:
    """One number of a pattern.

    Parameters
    ----------
    id, pattern, label : str
        Id (``g1.step1``), the pattern's id, and what the number says.
    text, value : str
        As typed, and as it comes out in the unit on display.
    curves : tuple of str
        What the pattern repeats.
    """

    id: str
    pattern: str
    label: str
    text: str
    value: str
    curves: tuple[str, ...]


def spacing_rows(bench: Bench) -> tuple[SpacingRow, ...]:
    """Return every number of every pattern, in the part's order."""
    return tuple(
        SpacingRow(s.id, s.pattern, s.label, s.text, _value(bench, s),
                   bench.part.patterns[s.pattern].curves)
        for s in spacings(bench.part)
    )


def spacing_text(bench: Bench, name: str) -> str | None:
    """Return the text of a pattern's number, or None where no pattern has it."""
    return next((s.text for s in spacings(bench.part) if s.id == name), None)


def _value(bench: Bench, spacing: Spacing) -> str:
    try:
        amount = evaluate(spacing.text, spacing.quantity,
                          bench.part.unit, bench.derived.values())
    except SketcherError:
        return "?"
    return shown(bench, spacing.quantity, amount)
