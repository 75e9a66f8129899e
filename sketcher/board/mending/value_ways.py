"""Ways out of a value that no drawing can have: the last that held, the most that holds."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import partial
from math import dist

from sketcher.board.ledger.offer import Offer
from sketcher.board.steps.bench import Bench
from sketcher.errors import SketcherError
from sketcher.geometry.bounds import extent
from sketcher.inspect.unreached import Missed, Reach, beside_words, missed, reach_of, solution_of
from sketcher.part.curve_questions import ends_of
from sketcher.part.edits.set_parameter import set_parameter
from sketcher.part.edits.set_value import set_value
from sketcher.part.kinds import measure, wanted
from sketcher.part.value import Binding, Part
from sketcher.part.whole import half
from sketcher.quantity.format import exact
from sketcher.solve.solve_report import SolveReport

HELD = "held"
"""Id of a binding that is only tried: no binding of a part has one of its own like it."""
BACK = 200
"""Steps of the history in which the last value that held is looked for."""
SAME = 1e-6
"""Share of a value to which the last one that held agrees with what is measured."""


def values_before(bench: Bench) -> dict[str, str]:
    """Return what was typed where the values that cannot be had now were had last.

    By binding, or by the parameter that is to blame; what no step of the history tells is left out.
    """
    part, found = bench.part, missed(bench.part, bench.report)
    if found is None:
        return {}
    steps = bench.history.steps[: bench.history.position + 1]
    earlier = [step.part for step in reversed(steps[-BACK:])]
    if found.parameter:
        name, first = found.parameter, found.bindings[0]
        texts = (was.parameters[name] for was in earlier
                 if name in was.parameters and _held(was, first, part))
        text = next(texts, "")
        return {name: text} if text else {}
    before = {}
    for name in found.bindings:
        values = (was.bindings[name].value or "" for was in earlier if _held(was, name, part))
        text = next(values, "")
        if text:
            before[name] = text
    return before


def _held(was: Part, name: str, now: Part) -> bool:
    """Tell whether a dimension was asked to be what it measures now."""
    if name not in was.bindings or was.bindings[name].value is None:
        return False
    try:
        measured = measure(now, now.bindings[name])
        asked = wanted(was, was.bindings[name])
    except SketcherError:
        return False
    return asked is not None and abs(asked - measured) <= SAME * max(abs(measured), SAME)


def value_ways(part: Part, report: SolveReport, before: Mapping[str, str]) -> Iterator[Offer]:
    """Yield the ways that change a value which cannot be had: back, then as far as it goes."""
    found = missed(part, report)
    if found is None:
        return
    names = (found.parameter,) if found.parameter else found.bindings
    for name in names:
        text = before.get(name, "")
        if text:
            yield _set(found, name, text, f"Set {name} back to {text}")
    reach = reach_of(part, report)
    if reach is not None and reach.text:
        (name,) = names
        yield _set(found, name, reach.text + found.sign, _most_words(part, reach, name))


def _most_words(part: Part, reach: Reach, name: str) -> str:
    return (f"Set {name} to {reach.text}{reach.missed.sign}, "
            f"the {'most' if reach.most else 'least'} that holds{beside_words(part, reach)}")


def _set(found: Missed, name: str, text: str, label: str) -> Offer:
    edit = partial(_with_parameter if found.parameter else _with_value, name, text)
    return Offer(label, found.bindings[0], f"Set {name} to {text}", edit)


def against(part: Part, report: SolveReport) -> tuple[str, ...]:
    """Return the bindings that stand against the value that cannot be had."""
    reach = reach_of(part, report)
    return reach.against if reach is not None else ()


def held_open(part: Part, report: SolveReport, offer: Offer) -> Offer | None:
    """Return a way that drops a binding, tried from geometry in which nothing has shrunk away.

    What is free without the binding could go either way, and the solver, which moves as little as
    it can, lets a line shrink until nothing is left of it. So the line is held at its length once.

    Parameters
    ----------
    part : Part
    report : SolveReport
        What the solver said of it.
    offer : Offer
        The way, which does not mend from the geometry as it stands.
    """
    reach = reach_of(part, report)
    if reach is None or not reach.gone:
        return None
    curve = part.curves[reach.gone]
    ends = ends_of(curve)
    size = dist(*(part.points[end] for end in ends)) if ends else extent(half(part)[reach.gone])
    without = offer.edit(part)
    held = Binding("distance" if ends else "diameter", ends or (reach.gone,), exact(size))
    with_it = without.having(bindings={**without.bindings, HELD: held})
    there = solution_of(with_it)
    return None if there is None else replace(
        offer, edit=partial(_from_there, offer.edit, there))


def _from_there(edit: Callable[[Part], Part], there: Part, part: Part) -> Part:
    return edit(part).having(points=there.points, curves=there.curves)


def _with_value(name: str, text: str, part: Part) -> Part:
    return set_value(part, name, text).part


def _with_parameter(name: str, text: str, part: Part) -> Part:
    return set_parameter(part, name, text).part
