"""Ways out of a finding about outline: what is too much goes or becomes layout, ends are joined."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial

from sketcher.board.job import Job
from sketcher.board.ledger.offer import Offer
from sketcher.board.steps.bench import Bench, listed
from sketcher.board.steps.solver_cache import Solver
from sketcher.board.toolkit.trial import ghosts
from sketcher.errors import SketcherError
from sketcher.inspect.cleanup import defects
from sketcher.inspect.mend import MendStep
from sketcher.inspect.words import plural
from sketcher.part.curve_questions import smooth_kind
from sketcher.part.edits.add_binding import add_binding
from sketcher.part.edits.delete import delete
from sketcher.part.edits.remove_binding import remove_binding
from sketcher.part.edits.set_role import set_role
from sketcher.part.image_id import read_image_id
from sketcher.part.value import Part
from sketcher.part.whole import whole
from sketcher.solve.solve_report import SolveReport

JOINED = frozenset({"gap", "overrun"})
"""Codes of findings about ends that nearly meet: the clean-up knows how to join them."""
MENDED = JOINED | {"stray", "overlap", "speck", "detached", "off-axis", "near-tangent"}
"""Codes of findings that have such ways."""
TOGETHER = frozenset({"stray", "detached", "speck"})
"""Codes of findings of which all curves go; of those that overlap one stays."""


def finding_job(bench: Bench, code: str, ids: Sequence[str]) -> Job[tuple[Offer, ...]]:
    """Return the job of finding the ways out of a finding of the part on the bench."""
    return Job("What would mend it", finding_offers,
               (bench.part, bench.report, code, tuple(ids), bench.solving.solver))


def finding_offers(
    part: Part, report: SolveReport, code: str, ids: tuple[str, ...], solver: Solver
) -> tuple[Offer, ...]:
    """Return the ways out of a finding, each tried: with it the finding goes and no other comes.

    What leaves the fewest findings comes first.

    Parameters
    ----------
    part : Part
    report : SolveReport
        What the solver said of it.
    code : str
        Of the finding.
    ids : tuple of str
        Curves that it names, images among them.
    solver : callable
    """
    from sketcher.inspect.inspection import inspect_part  # an empty desk does without it

    drawn = tuple(dict.fromkeys(name for name in (read_image_id(i).source for i in ids)
                                if name in part.curves))
    if code not in MENDED or not drawn:
        return ()
    before = inspect_part(part, report).findings
    codes = {finding.code for finding in before}
    found = []
    for offer in _offers(part, code, ids, drawn, solver):
        try:
            after = solver(offer.edit(part))
            left = inspect_part(after.part, after.report).findings
        except SketcherError:
            continue
        if any(f.code == code and f.ids == ids for f in left) or len(left) >= len(before) \
                or not {finding.code for finding in left} <= codes:
            continue
        says = f"{plural(len(left), 'finding')} left" if left else "the part is sound"
        shown = ghosts(whole(part), after.part)
        found.append((len(left), replace(offer, says=says, ghosts=shown)))
    return tuple(offer for _, offer in sorted(found, key=lambda each: each[0]))


def _offers(
    part: Part, code: str, ids: tuple[str, ...], drawn: tuple[str, ...], solver: Solver
) -> Iterator[Offer]:
    """Offer what may mend a finding of a code, untried."""
    if code == "off-axis":
        yield from _bound(ids)
    elif code == "near-tangent":
        yield from _made_smooth(part, drawn, solver)
    elif code in JOINED:
        for defect in defects(part):
            if defect.kind == "gap" and set(defect.ids) <= set(drawn) and defect.step is not None:
                yield Offer(defect.offer, drawn[0], defect.offer, partial(_mended, defect.step))
    else:
        yield from _ways(part, code, drawn)


def _ways(part: Part, code: str, names: tuple[str, ...]) -> Iterator[Offer]:
    told: set[str] = set()
    for defect in defects(part):  # what the clean-up would do keeps the most
        if defect.kind == code and set(defect.ids) == set(names) and defect.step is not None:
            told.add(defect.offer)
            yield Offer(defect.offer, names[0], defect.offer, partial(_mended, defect.step))
    groups = [names] if code in TOGETHER else [(name,) for name in names]
    for role in ("", "layout"):
        for group in groups:
            label = f"Make {listed(group)} layout" if role else f"Delete {listed(group)}"
            if label not in told:
                yield Offer(label, group[0], label, partial(_layout if role else _without, group))


def _bound(ids: tuple[str, ...]) -> Iterator[Offer]:
    """Offer to hold the ends of a half on its axis, which is named behind them."""
    *points, axis = ids
    label = f"Bind {listed(points)} to {axis}"
    yield Offer(label, axis, label, partial(_on, tuple(points), axis))


def _on(points: tuple[str, ...], axis: str, part: Part) -> Part:
    for point in points:
        part = add_binding(part, "on", (point, axis)).part
    return part


def _made_smooth(part: Part, names: tuple[str, ...], solver: Solver) -> Iterator[Offer]:
    """Offer to bind two curves tangent, two lines in line.

    Where a dimension forbids it, it is offered without that dimension.
    """
    if len(names) != 2:
        return
    label = f"Bind {listed(names)} {smooth_kind(*(part.curves[name] for name in names))}"
    yield Offer(label, names[0], label, partial(_smooth, names, ""))
    clashes = solver(_smooth(names, "", part)).report.clashes
    forbid = dict.fromkeys(name for clash in clashes for name in clash)
    for name in forbid:
        if name in part.bindings and part.bindings[name].value is not None:
            without = f"{label} and drop {name}"
            yield Offer(without, name, without, partial(_smooth, names, name))


def _smooth(names: tuple[str, ...], without: str, part: Part) -> Part:
    if without:
        part = remove_binding(part, without).part
    kind = smooth_kind(*(part.curves[name] for name in names))
    return add_binding(part, kind, names).part


def _mended(step: MendStep, part: Part) -> Part:
    return step.apply(part).part


def _without(names: tuple[str, ...], part: Part) -> Part:
    return delete(part, *names).part


def _layout(names: tuple[str, ...], part: Part) -> Part:
    return set_role(part, names, "layout").part
