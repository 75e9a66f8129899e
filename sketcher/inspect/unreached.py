"""A value that no drawing can have: which it is, the most that holds, and what stands against it.

Of a part that could not be solved the solver tells which dimensions miss their values where all
else holds. Here it is found out what was asked for: one value, or a parameter that several follow.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial
from math import ceil, floor

from sketcher.errors import SketcherError
from sketcher.geometry.bounds import extent
from sketcher.inspect.words import listed, some
from sketcher.part.kinds import KINDS, measure, wanted
from sketcher.part.printed import DECIMAL, in_fractions
from sketcher.part.value import Part
from sketcher.part.whole import half
from sketcher.quantity.format import exact, fraction, length
from sketcher.quantity.parameters import evaluate_all
from sketcher.quantity.parse import names_in
from sketcher.quantity.spelling import spelled
from sketcher.solve.last_value import FINE, Limit, limit_of
from sketcher.solve.newton import EXACT
from sketcher.solve.search import search
from sketcher.solve.solve_report import SolveReport
from sketcher.solve.system import System

PARTS_OF_INCH = 64
"""The finest fraction that inch drawings use (common practice, no source)."""
LEAST_PLACES, MOST_PLACES = 2, 4
"""Decimals of a limit: as many as the wanted value has, within these."""
MOST_TOLD = 4
"""Bindings that are named as standing against a value; of more their number is told."""
INWARD = 3
"""Rounded values that are tried, each one step further inward than the one before."""
SAME = 1e-6
"""Share of a value within which a parameter explains what is measured."""


@dataclass(frozen=True, slots=True)
class Missed:
    """The value that cannot be had.

    Parameters
    ----------
    bindings : tuple of str
        Dimensions that miss it.
    parameter : str
        The parameter that all of them follow; empty where the value stands in the binding itself,
        or where several were changed.
    was, wanted : float
        Its value as the geometry stands and as it is asked for: a length in the part's unit, an
        angle in degrees, or a number. Of the first binding where several were changed.
    sign : str
        What is written behind the number: a degree sign behind the value of a parameter.
    """

    bindings: tuple[str, ...]
    parameter: str
    was: float
    wanted: float
    sign: str = ""

    @property
    def is_one(self) -> bool:
        """Whether one value is to blame."""
        return bool(self.parameter) or len(self.bindings) == 1

    def typed(self, part: Part) -> str:
        """Return what was asked for, as it is written."""
        return part.parameters[self.parameter] if self.parameter \
            else part.bindings[self.bindings[0]].value or ""

    def given(self, part: Part, text: str) -> Part:
        """Return the part with another value in the place of this one."""
        if self.parameter:
            return part.having(parameters={**part.parameters, self.parameter: text})
        name = self.bindings[0]
        changed = replace(part.bindings[name], value=text)
        return part.having(bindings={**part.bindings, name: changed})

    def at(self, part: Part, share: float) -> Part:
        """Return the part with the value so far on its way."""
        amount = self.was + share * (self.wanted - self.was)
        return self.given(part, exact(amount) + self.sign)


@dataclass(frozen=True, slots=True)
class Reach:
    """How far a value can be had.

    Parameters
    ----------
    missed : Missed
    most : bool
        Whether `text` is the most; else it is the least.
    text : str
        The last value that holds, rounded inward as the drawing writes its values and solved; empty
        where none was found between the one that stands and the one that is wanted.
    against : tuple of str
        Bindings that stand against more, as far as they can be told, dimensions first.
    gone : str
        The line or round that would have to shrink to less than nothing; empty where none would.
    """

    missed: Missed
    most: bool
    text: str
    against: tuple[str, ...]
    gone: str = ""


def missed(part: Part, report: SolveReport) -> Missed | None:
    """Return the value that cannot be had; None where no single value is to blame, or none is.

    Parameters
    ----------
    part : Part
        As the solver left it: with the geometry that was there before.
    report : SolveReport
        What it said of it.
    """
    names = report.unreached
    if not names or any(name not in part.bindings for name in names):
        return None
    try:
        for parameter in _followed(part, names):
            found = _by_parameter(part, names, parameter)
            if found is not None:
                return found
        first = part.bindings[names[0]]
        return Missed(names, "", measure(part, first), wanted(part, first) or 0.0)
    except SketcherError:
        return None


def _followed(part: Part, names: tuple[str, ...]) -> Iterator[str]:
    """Yield the parameters that all of some dimensions follow; first those that are plain."""
    common = set.intersection(*(_parameters_of(part, name) for name in names))
    yield from sorted((name for name in part.parameters if name in common),
                      key=lambda name: bool(names_in(part.parameters[name], part.unit)))


def _parameters_of(part: Part, name: str) -> set[str]:
    """Return every parameter that a dimension follows, straight or through others."""
    found: set[str] = set()
    waiting = [*names_in(part.bindings[name].value or "", part.unit)]
    while waiting:
        each = waiting.pop()
        if each in part.parameters and each not in found:
            found.add(each)
            waiting += names_in(part.parameters[each], part.unit)
    return found


def _by_parameter(part: Part, names: tuple[str, ...], parameter: str) -> Missed | None:
    """Return the value of a parameter with which all that follow it are what they measure.

    Found by the secant method. Of two parameters that one dimension follows the other dimensions
    tell which was changed: those that hold follow the one that was not.
    """
    value = evaluate_all(part.parameters, part.unit)[parameter]
    sign = "\N{DEGREE SIGN}" if value.dimension.angle else \
        f" {part.unit}" if value.dimension.length and not value.dimension.bare else ""
    asked = Missed(names, parameter, value.amount, value.amount, sign)
    followers = [*names, *(name for name, binding in part.bindings.items() if name not in names
                           and binding.drives and parameter in _parameters_of(part, name))]
    measured = [measure(part, part.bindings[name]) for name in followers]

    def off(amount: float, k: int) -> float:
        at = asked.given(part, exact(amount) + sign)
        return (wanted(at, at.bindings[followers[k]]) or 0.0) - measured[k]

    one = value.amount
    other = one * (1.0 - 1e-3) if one else 1e-3
    before = off(one, 0)
    for _ in range(20):
        now = off(other, 0)
        if abs(now) <= 1e-12 * max(abs(measured[0]), 1.0) or now == before:
            break
        one, other, before = other, other - now * (other - one) / (now - before), now
    fits = all(abs(off(other, k)) <= SAME * max(abs(size), 1.0)
               for k, size in enumerate(measured))
    return replace(asked, was=other) if fits else None


_last: tuple[Part, Reach | None] | None = None  # the report, the ledger and the ways all ask


def reach_of(part: Part, report: SolveReport) -> Reach | None:
    """Return how far the value that cannot be had goes; some tens of solves.

    None where no single value is to blame, or where it cannot go anywhere: then the bindings say
    the same thing twice, with other numbers.
    """
    global _last
    last = _last  # another thread may put its own part there
    if last is not None and last[0] is part:
        return last[1]
    found = _reach(part, report)
    _last = (part, found)
    return found


def _reach(part: Part, report: SolveReport) -> Reach | None:
    asked = missed(part, report)
    if asked is None or not asked.is_one:
        return None
    try:
        limit = limit_of(part, asked.bindings,
                         partial(asked.at, part) if asked.parameter else None)
        if limit is None:
            return None
        return Reach(asked, asked.wanted > asked.was, _last_text(part, asked, limit),
                     _dimensions_first(part, limit.against), limit.gone)
    except SketcherError:  # an expression that some value on the way does not suit
        return None


def _dimensions_first(part: Part, names: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(sorted(names, key=lambda name: KINDS[part.bindings[name].kind].quantity is None))


def _last_text(part: Part, asked: Missed, limit: Limit) -> str:
    """Return the limit rounded inward, as the first value that is found to hold there."""
    way = asked.wanted - asked.was
    end = asked.was + (limit.share - 2.0 * FINE) * way
    for text, amount in _inward(part, asked, end):
        if (amount - asked.was) * way > 0.0 and holds(asked.given(part, text + asked.sign)):
            return text
    return ""


def _inward(part: Part, asked: Missed, end: float) -> Iterator[tuple[str, float]]:
    """Yield values at and below a limit, as text and number, with ever more decimals."""
    turned = floor if asked.wanted > asked.was else ceil
    inward = -1 if asked.wanted > asked.was else 1
    typed = spelled(asked.typed(part))
    if part.unit == "in" and not DECIMAL.match(typed) and in_fractions(part) \
            and _is_length(part, asked):
        for back in range(INWARD):
            amount = (turned(end * PARTS_OF_INCH) + inward * back) / PARTS_OF_INCH
            yield fraction(amount, PARTS_OF_INCH), amount
    found = DECIMAL.match(typed)
    least = min(max(LEAST_PLACES, len(found[1]) if found else 0), MOST_PLACES)
    for places in range(least, MOST_PLACES + 1):
        for back in range(INWARD):
            amount = (turned(end * 10**places) + inward * back) / 10**places
            yield length(amount, part.unit, places, zeros=False), amount


def _is_length(part: Part, asked: Missed) -> bool:
    return KINDS[part.bindings[asked.bindings[0]].kind].quantity == "length"


def holds(part: Part) -> bool:
    """Tell whether a part has a solution in which no curve has shrunk to nothing.

    Much quicker than a solve that fails, which looks for what clashes.
    """
    return solution_of(part) is not None


def solution_of(part: Part) -> Part | None:
    """Return a part solved, or None where it has no such solution; see `holds`."""
    system = System(part)
    found = search(system)
    if not found.converged or found.worst > EXACT * system.size \
            or system.kept(found.x)[1] > system.kept(system.x0)[1]:
        return None
    solved = system.to_part(found.x)
    before, after = half(part), half(solved)
    whole = all(extent(curve) > FINE * extent(before[name]) for name, curve in after.items())
    return solved if whole else None


def reach_words(part: Part, report: SolveReport) -> str:
    """Return in a clause what cannot be had and what can: ``b7, radius of a2, cannot be 4 here``.

    Empty where no value is to blame.
    """
    asked = missed(part, report)
    if asked is None:
        return ""
    if not asked.is_one:
        return f"{listed(asked.bindings)} cannot all have their values here"
    if asked.parameter:
        name = f"parameter {asked.parameter}"
    else:
        binding = part.bindings[asked.bindings[0]]
        name = f"{asked.bindings[0]}, {KINDS[binding.kind].noun} of {listed(binding.of)},"
    reach = reach_of(part, report)
    said = f"{name} cannot be {asked.typed(part)} here"
    if reach is None or not reach.text:
        return said
    beside = beside_words(part, reach)
    return f"{said}: at {'most' if reach.most else 'least'} {reach.text} holds{beside}"


def beside_words(part: Part, reach: Reach) -> str:
    """Return what stands against a value, with a word before it: dimensions, or else relations."""
    found = [name for name in reach.against
             if KINDS[part.bindings[name].kind].quantity is not None] or reach.against
    return f" with {some(found, MOST_TOLD)}" if found else ""
