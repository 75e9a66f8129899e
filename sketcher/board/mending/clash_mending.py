"""What would mend a clash, a value that cannot be had, a binding said twice, or one in doubt."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import partial
from time import thread_time
from types import MappingProxyType

from sketcher.board.job import Job
from sketcher.board.ledger.doubt_question import doubt_offers
from sketcher.board.ledger.offer import Offer
from sketcher.board.mending.measured_value import (
    differing,
    measured_text,
    reference_ways,
)
from sketcher.board.mending.mending_effect import effect_words, ghosts
from sketcher.board.mending.value_ways import (
    against,
    held_open,
    value_ways,
    values_before,
)
from sketcher.board.steps.bench import Bench
from sketcher.board.steps.solver_cache import Solver
from sketcher.errors import SketcherError
from sketcher.inspect.unreached import holds
from sketcher.part.edits.remove_binding import remove_binding
from sketcher.part.edits.set_drives import set_drives
from sketcher.part.edits.set_value import set_value
from sketcher.part.kinds import KINDS
from sketcher.part.value import Binding, Part
from sketcher.solve.solve_report import Solution, SolveReport

NOTHING: Mapping[str, str] = MappingProxyType({})
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
    texts = values_before(bench)
    if differing(bench, name):
        texts[name] = measured_text(bench, bench.part, name)
    return Job("What would mend it", found_offers,
               (bench.part, bench.report, name, bench.solving.solver, texts))


def found_offers(
    part: Part, report: SolveReport, name: str, solver: Solver,
    texts: Mapping[str, str] = NOTHING,
) -> tuple[Offer, ...]:
    """Return the ways to mend what is wrong with a binding; of one in doubt, its two sides.

    Every binding of a clash can go. The mildest first: a dimension becomes a reference dimension,
    then bindings are dropped; among equals the newest binding first. Each is tried, told with what
    it would change, and left out when it does not mend, as long as that takes no more than
    `PATIENCE`; the rest stand on the clash being the smallest set, of which any member can go.
    A value that cannot be had is first of all changed: `texts` tells what was typed when it held,
    of a reference that differs what it measures.
    """
    clash = next((c for c in report.clashes if name in c), None)
    values: list[Offer] = []
    if set(report.unreached) & set(clash or (name,)):
        values = list(value_ways(part, report, texts))
    if clash is not None:
        involved = [n for n in reversed(list(part.bindings)) if n in clash]
    elif name in report.unreached:
        return _ways_of_a_value(part, report, values, name, solver)
    elif name in report.doubled:
        involved = [name]
    elif name in texts:
        return reference_ways(part, name, texts[name], solver)
    else:
        return doubt_offers(part, name)
    return _tried(part, report, [*values, *_ways(part, involved)], clash, name, solver)


def _ways_of_a_value(
    part: Part, report: SolveReport, values: list[Offer], name: str, solver: Solver
) -> tuple[Offer, ...]:
    """Return the ways out of a value that cannot be had; only what was found to mend."""
    own = list(report.unreached)
    ways = [*values, *_references(part, own), *_drops(part, own)]
    found, until = _tried(part, report, ways, None, name, solver), thread_time() + PATIENCE
    for offer in _drops(part, list(against(part, report))):
        if thread_time() > until:
            break
        way = offer if holds(offer.edit(part)) else held_open(part, report, offer)
        found += _tried(part, report, [way] if way is not None else [], None, name, solver)
    return found


def _ways(part: Part, names: list[str]) -> list[Offer]:
    return [*_references(part, names), *_drops(part, names)]


def _tried(
    part: Part, report: SolveReport, ways: list[Offer], clash: tuple[str, ...] | None, name: str,
    solver: Solver,
) -> tuple[Offer, ...]:
    """Return the ways that mend, each with what it would change."""
    found, until = [], thread_time() + PATIENCE
    for offer in ways:
        if thread_time() > until:
            if name not in report.unreached:
                found.append(offer)
            continue
        after = _mended(part, report, offer, clash, name, solver)
        if after is not None:
            found.append(replace(offer, says=effect_words(part, after, offer.binding),
                                 ghosts=ghosts(part, after.part)))
    return tuple(found)


def _references(part: Part, names: list[str]) -> list[Offer]:
    found = []
    for name in names:
        binding = part.bindings[name]
        if KINDS[binding.kind].quantity is None or not binding.drives:
            continue
        found.append(Offer(f"Make {name} ({_short(binding)}) a reference dimension", name,
                           f"Make {name} a reference dimension", partial(_as_reference, name)))
    return found


def _drops(part: Part, names: list[str]) -> list[Offer]:
    return [Offer(f"Drop {name} ({_short(part.bindings[name])})", name, f"Drop {name}",
                  partial(_without, name)) for name in names]


def _as_reference(name: str, part: Part) -> Part:
    return set_drives(part, name, False).part


def _without(name: str, part: Part) -> Part:
    return remove_binding(part, name).part


def _short(binding: Binding) -> str:
    said = KINDS[binding.kind].phrase(binding.of)
    return f"{said}, {binding.value}" if binding.value else said


def _mended(
    part: Part, was: SolveReport, offer: Offer, clash: tuple[str, ...] | None, name: str,
    solver: Solver,
) -> Solution | None:
    """Return what a way leads to; None where it does not mend."""
    try:
        after = solver(offer.edit(part))
    except SketcherError:
        return None
    if clash is None and name in was.unreached:
        return after if after.report.converged else None
    if clash is None:
        return after if name not in after.report.doubled else None
    still = any(set(clash) & set(other) and not _is_known(other, was, clash)
                for other in after.report.clashes)
    return None if still else after


def _is_known(other: tuple[str, ...], report: SolveReport, clash: tuple[str, ...]) -> bool:
    """Tell whether a clash was there before and is another one than that to be mended."""
    return other in report.clashes and other != clash


def take(bench: Bench, offer: Offer) -> bool:
    """Do what an offer says; what no longer drives from now on says what it measures."""

    def edit(part: Part) -> Part:
        after = offer.edit(part)
        drove, drives = (p.bindings.get(offer.binding) for p in (part, after))
        if drove is None or drives is None or drives.drives or not drove.drives:
            return after
        return set_value(after, offer.binding, "").part

    return bench.do(offer.step, edit).done


def partners(bench: Bench, name: str) -> tuple[str, ...]:
    """Return the bindings of the part on the bench that together say what a doubled one says.

    Raises
    ------
    Stopped
        When looking for them was stopped.
    """
    return bench.worker.finish(Job(f"Which others say what {name} says", found_partners,
                                   (bench.part, bench.report, name, bench.solving.solver)))


def partnering(bench: Bench, name: str) -> Job[tuple[tuple[str, ...], tuple[Offer, ...]]]:
    """Return the job of finding the partners of a doubled binding, and the ways to drop those."""
    return Job(f"Which others say what {name} says", found_partner_offers,
               (bench.part, bench.report, name, bench.solving.solver))


def found_partner_offers(
    part: Part, report: SolveReport, name: str, solver: Solver
) -> tuple[tuple[str, ...], tuple[Offer, ...]]:
    """Return the bindings that say what a doubled one says, and the ways in which one of them goes.

    Those that are left out are needed for something else as well.
    """
    others = found_partners(part, report, name, solver)
    return others, _tried(part, report, _ways(part, list(others)), None, name, solver)


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
