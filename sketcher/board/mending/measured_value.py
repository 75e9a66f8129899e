"""References: the value that one takes from the part, and the ways out of one that differs."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from sketcher.board.ledger.offer import Offer
from sketcher.board.steps.bench import Bench
from sketcher.board.toolkit.new_dimension import as_written
from sketcher.part.edits.set_drives import set_drives
from sketcher.part.edits.set_value import set_value
from sketcher.part.kinds import measure
from sketcher.part.value import Part
from sketcher.quantity.format import exact


def with_measured(bench: Bench, part: Part, solved: Part, name: str) -> Part:
    """Return a part in which a reference says what it measures, with the decimals in use.

    Parameters
    ----------
    bench : Bench
        Its settings tell the decimals.
    part : Part
        The part, solved or not: the value of a reference drives nothing.
    solved : Part
        The same part solved, for that is where it is measured.
    name : str
        Id of the reference dimension.
    """
    return set_value(part, name, measured_text(bench, solved, name)).part


def measured_text(bench: Bench, solved: Part, name: str) -> str:
    """Return what a dimension measures, as a person would write it here."""
    binding = solved.bindings[name]
    amount = abs(measure(solved, binding))
    return as_written(bench, solved, binding.kind, amount) or exact(amount)


def reference_ways(bench: Bench, name: str) -> Iterator[Offer]:
    """Yield the ways out of a reference dimension that is not what it says."""
    text = measured_text(bench, bench.part, name)
    yield Offer(f"Take the measured value, {text}", name, f"Set {name} to {text}",
                partial(_with_text, name, text))
    yield Offer(f"Make {name} drive", name, f"Make {name} drive", partial(_driving, name))


def _with_text(name: str, text: str, part: Part) -> Part:
    return set_value(part, name, text).part


def _driving(name: str, part: Part) -> Part:
    return set_drives(part, name, True).part
