"""What would mend a clash, a binding that is said twice, or one that is in doubt."""

from __future__ import annotations

from functools import partial
from time import thread_time

from sketcher.board.job import Job
from sketcher.board.ledger.doubt_question import doubt_offers
from sketcher.board.ledger.ledger_rows import in_words
from sketcher.board.ledger.offer import Offer
from sketcher.board.steps.bench import Bench
from sketcher.board.steps.solver_cache import Solver
from sketcher.errors import SketcherError
from sketcher.part.edits.remove_binding import remove_binding
from sketcher.part.edits.set_drives import set_drives
from sketcher.part.kinds import KINDS
from sketcher.part.value import Binding, Part
from sketcher.solve.solve_report import SolveReport

PATIENCE = 1.0
"""Seconds that trying offers, or looking for partners, may take: it runs while a person waits."""


def offers(bench: Bench, name: str) -> tuple[Offer, ...]:
    """Return the ways to mend what is wrong with a binding of the part on the bench.

    Raises
    ------
    Stopped
        When trying them took long and was stopped.
    """
    return bench.worker.finish(offering(bench, name))


def offering(bench: Bench, name: str) -> Job[tuple[Offer, ...]]:
    """Return the job of finding the offers."""
    return Job("What would mend it", found_offers,
               (bench.part, bench.report, name, bench.solving.solver))


def found_offers(
    part: Part, report: SolveReport, name: str, solver: Solver
) -> tuple[Offer, ...]:
    """Return the ways to mend what is wrong with a binding; of one in doubt, its two sides.

    The mildest first: a dimension becomes a reference dimension, then bindings are dropped; among
    equals the newest binding first. Each is tried, and left out when it does not mend, as long as
    that takes no more than `PATIENCE`; the rest stand on the clash being the smallest set, of which
    any member can go.
    """
    clash = next((c for c in report.clashes if name in c), None)
    if clash is not None:
        involved = [n for n in reversed(list(part.bindings)) if n in clash]
    elif name in report.doubled:
        involved = [name]
    else:
        return doubt_offers(part, name)
    found, until = [], thread_time() + PATIENCE
    for offer in (*_references(part, involved), *_drops(part, involved)):
        if thread_time() > until or _mends(part, report, offer, clash, name, solver):
            found.append(offer)
    return tuple(found)


def _references(part: Part, names: list[str]) -> list[Offer]:
    found = []
    for name in names:
        binding = part.bindings[name]
        if KINDS[binding.kind].quantity is None or not binding.drives:
            continue
        found.append(Offer(f"Make {name} ({_short(part, binding)}) a reference dimension", name,
                           f"Make {name} a reference dimension", partial(_as_reference, name)))
    return found


def _drops(part: Part, names: list[str]) -> list[Offer]:
    return [Offer(f"Drop {name} ({_short(part, part.bindings[name])})", name, f"Drop {name}",
                  partial(_without, name)) for name in names]


def _as_reference(name: str, part: Part) -> Part:
    return set_drives(part, name, False).part


def _without(name: str, part: Part) -> Part:
    return remove_binding(part, name).part


def _short(part: Part, binding: Binding) -> str:
    value = f" {binding.value}" if binding.value else ""
    between = ', '.join(in_words(part, n) for n in binding.of)
    return f"{KINDS[binding.kind].noun}{value} of {between}"


def _mends(
    part: Part, was: SolveReport, offer: Offer, clash: tuple[str, ...] | None, name: str,
    solver: Solver,
) -> bool:
    try:
        report = solver(offer.edit(part)).report
    except SketcherError:
        return False
    if clash is None:
        return name not in report.doubled
    return not any(set(clash) & set(other) and not _is_known(other, was, clash)
                   for other in report.clashes)


def _is_known(other: tuple[str, ...], report: SolveReport, clash: tuple[str, ...]) -> bool:
    """Tell whether a clash was there before and is another one than that to be mended."""
    return other in report.clashes and other != clash


def take(bench: Bench, offer: Offer) -> bool:
    """Do what an offer says."""
    return bench.do(offer.step, offer.edit).done


def partners(bench: Bench, name: str) -> tuple[str, ...]:
    """Return the bindings of the part on the bench that together say what a doubled one says.

    Raises
    ------
    Stopped
        When looking for them was stopped.
    """
    return bench.worker.finish(Job(f"Which others say what {name} says", found_partners,
                                   (bench.part, bench.report, name, bench.solving.solver)))


def found_partners(
    part: Part, report: SolveReport, name: str, solver: Solver
) -> tuple[str, ...]:
    """Return the bindings that together say what a doubled one says, in the ledger's order.

    Found by leaving out one binding after the other: what can go without making `name` count again
    is not needed. Empty when the binding is not said twice, or when finding out takes longer than
    `PATIENCE`.
    """
    if name not in report.doubled:
        return ()
    needed, until = [], thread_time() + PATIENCE
    for other in reversed(list(part.bindings)):
        if other == name or not part.bindings[other].drives:
            continue
        if thread_time() > until:
            return ()
        trial = remove_binding(part, other).part
        if name in solver(_last(trial, name)).report.doubled:
            part = trial
        else:
            needed.append(other)
    return tuple(reversed(needed))


def _last(part: Part, name: str) -> Part:
    """Return the part with a binding at the end, so that it is the one named as said twice."""
    bindings = {n: b for n, b in part.bindings.items() if n != name}
    return part.having(bindings={**bindings, name: part.bindings[name]})
