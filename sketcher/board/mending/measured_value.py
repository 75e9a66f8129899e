"""References: the value that one takes from the part, and the ways out of one that differs."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from sketcher.board.ledger.offer import Offer
from sketcher.board.mending.mending_effect import effect_words, ghosts
from sketcher.board.steps.bench import Bench, listed
from sketcher.board.steps.solver_cache import Solver
from sketcher.board.toolkit.new_dimension import as_written
from sketcher.errors import SketcherError
from sketcher.inspect.measured_dimensions import reference_differs
from sketcher.part.edits.set_drives import set_drives
from sketcher.part.edits.set_value import set_value
from sketcher.part.kinds import measure
from sketcher.part.value import Part
from sketcher.quantity.format import exact


def measured_text(bench: Bench, solved: Part, name: str) -> str:
    """Return what a dimension measures, as a person would write it here."""
    binding = solved.bindings[name]
    amount = abs(measure(solved, binding))
    return as_written(bench, solved, binding.kind, amount) or exact(amount)


def differing(bench: Bench, name: str) -> bool:
    """Tell whether a binding is a reference that is not what it says."""
    try:
        return name in bench.part.bindings and reference_differs(bench.part, name)
    except SketcherError:  # a value that cannot be read is told as such
        return False


def reference_ways(part: Part, name: str, text: str, solver: Solver) -> tuple[Offer, ...]:
    """Return the ways out of a reference dimension that is not what it says.

    Parameters
    ----------
    part : Part
    name : str
        Id of the reference.
    text : str
        What it measures, as it would be written.
    solver : callable
        Tells what would move if it drove; where it then clashes, with what.
    """
    take = Offer(f"Take the measured value, {text}", name, f"Let {name} follow",
                 partial(_following, name), "nothing moves, and from now on it follows the part")
    drive = Offer("Make it drive", name, f"Make {name} drive", partial(_driving, name))
    after = solver(drive.edit(part))
    clash = next((each for each in after.report.clashes if name in each), None)
    if clash is not None:
        others = [other for other in clash if other != name]
        says = f"then it cannot hold together with {listed(others)}, one of which has to go"
    elif not after.report.converged:
        says = "then no solution is reached"
    else:
        says = effect_words(part, after, name)
    return (take, replace(drive, says=says, ghosts=ghosts(part, after.part)))


def _following(name: str, part: Part) -> Part:
    return set_value(part, name, "").part


def _driving(name: str, part: Part) -> Part:
    return set_drives(part, name, True).part
