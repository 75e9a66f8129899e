"""The part that a rough sketch means: its sides are searched, and near rivals are named.

A sketch without stored sides is taken as the meant part with every point moved a little, each by
itself, by the same unknown amount. Of the parts that satisfy the bindings the likeliest is then the
one nearest to the sketch (least squares), and of two the log likelihood ratio is ``n/2 ln(b/a)``
with the sums of squares a and b of their n coordinates' distances from the sketch (the unknown
amount estimated for each; Cox & Hinkley, *Theoretical Statistics*, 1974, ch. 9, from memory).

So sides are searched, not guessed: single sides are flipped with what turns along, the cheapest for
its operands first, and solved from the solution that was flipped; of the sound parts the nearest to
the sketch is taken. A rival of other outline within a log likelihood ratio of `LIKELY` becomes a
`Doubt` of the part: kept in its file, and a finding until somebody confirms it or turns it (the
edits `confirm_side`, `turn_side`). Sides that are stored are never searched.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from heapq import heappop, heappush
from itertools import count
from math import exp, log
from operator import itemgetter

import numpy as np

from sketcher.part.equations import Array
from sketcher.part.kinds import KINDS
from sketcher.part.part_size import part_size
from sketcher.part.value import Part, circle_radii
from sketcher.progress import stage
from sketcher.solve.choices import Choices
from sketcher.solve.newton import NewtonOutcome, newton
from sketcher.solve.search import search, straight
from sketcher.solve.system import System

LIKELY = 6.0
"""Log likelihood ratio up to which a rival counts."""
LOOKED = 16.0
"""Log likelihood ratio, by what flips would cost the operands alone, up to which is searched."""
BARRED = 3.0
"""Log likelihood ratio by which flips come later that led to no solution before."""
ROUGH = 0.07
"""Roughness beyond which what a search did not try counts as well.

Moves of every coordinate by up to a tenth of the size, evenly spread, come to 0.058; a search that
had no time for the right sides was seen at 0.079.
"""
NAMED = 5
"""So many of those are named."""
STEPS = 20
"""Newton steps from each start of a trial: what takes more ends far away, or nowhere."""
MOST = 40
"""Solves that a search may take."""


@dataclass(slots=True)
class RivalTrial:
    """One set of sides that was solved.

    Attributes
    ----------
    sides : mapping of str to str
        Side by binding id.
    system, outcome, part
        The solution.
    apart : float
        Sum of the squared distances from the sketch.
    faults : int or None
        What speaks against the solution; None before that was asked.
    """

    sides: Mapping[str, str]
    apart: float
    system: System
    outcome: NewtonOutcome
    part: Part
    faults: int | None = None


@dataclass(slots=True, order=True)
class FlipPlan:
    """Sides to be tried.

    Attributes
    ----------
    guess : float
        What the sum of squared distances from the sketch may be.
    number : int
        Order among equals.
    sides : mapping of str to str
    parent : RivalTrial or None
        The solution of which sides were flipped.
    turned : tuple of str
        The bindings flipped.
    failed : int
        How many flips in a row led to no solution.
    """

    guess: float
    number: int
    sides: Mapping[str, str] = field(compare=False)
    parent: RivalTrial | None = field(default=None, compare=False)
    turned: tuple[str, ...] = field(default=(), compare=False)
    failed: int = field(default=0, compare=False)


class Hunt:
    """The search among the sides of one sketch; see the module.

    Sides are flipped one after the other, together with those of the neighbours that turn with
    them, in the order of what that costs the operands alone on top of what is known to be solved:
    so pairs are tried where single flips come near. It ends when what is left would be too dear to
    matter, or after `MOST` solves.

    Parameters
    ----------
    part : Part
        As drawn.
    faults : callable
        From a system and its outcome to the number of things that speak against the solution.
    alike : callable
        Whether two parts are the same geometry as a whole.

    Attributes
    ----------
    best : RivalTrial or None
        The nearest to the sketch among those with the fewest faults; None when nothing was solved.
    rivals : tuple of RivalTrial
        One of each other geometry with no more faults that is nearly as near, the nearest first.
    untold : tuple of mapping of str to str
        Of a sketch so rough that a search finds but some of what it could mean: other sides by
        binding id that cost little and were not tried, the likeliest first.
    """

    def __init__(
        self, part: Part, faults: Callable[[System, NewtonOutcome], int],
        alike: Callable[[Part, Part], bool],
    ) -> None:
        self.choices = Choices(rescaled(part))
        self._faults, self._alike = faults, alike
        drawn = self.choices.part
        held = {name for b in drawn.bindings.values()
                for name, _ in KINDS[b.kind].held(drawn, b.of)}
        self._free = [name for name in drawn.points if name not in held]
        self._sketch = self._places(drawn)
        self.trials: dict[tuple[str, ...], RivalTrial] = {}
        self._tried: set[tuple[str, ...]] = set()
        self._learned: dict[tuple[str, str], float] = {}
        self.best: RivalTrial | None = None
        self._queue = [FlipPlan(0.0, 0, self.choices.settled)]
        self._look()
        self.rivals = self._rivals()
        self.untold = self._untold()

    @property
    def roughness(self) -> float:
        """How far the sketch is off, root mean square of a coordinate, as a part of the size."""
        assert self.best is not None
        return float(np.sqrt(self.best.apart / len(self._sketch))) / self._size

    def ratio(self, apart: float) -> float:
        """Log likelihood ratio of the best to a solution at a distance from the sketch."""
        assert self.best is not None
        least = (1e-9 * self._size) ** 2
        return 0.5 * len(self._sketch) * log(max(apart, least) / max(self.best.apart, least))

    @cached_property
    def _size(self) -> float:
        return part_size(self.choices.part)

    def _places(self, part: Part) -> Array:
        points = [coordinate for name in self._free for coordinate in part.points[name]]
        return np.array([*points, *circle_radii(part).values()])

    def _look(self) -> None:
        queue, number = self._queue, count(1)
        while queue and len(self._tried) < MOST:
            plan = heappop(queue)
            if self.best is not None and self.ratio(plan.guess) > LOOKED:
                break
            key = tuple(plan.sides.values())
            if key in self._tried:
                continue
            self._tried.add(key)
            with stage((len(self._tried) - 1) / MOST, len(self._tried) / MOST):
                trial = self._solved(plan)
                self._learn(plan, trial)
                if trial is not None:
                    self._tried.add(tuple(trial.sides.values()))
                    self._compare(trial)
            for following in self._following(plan, trial):
                following.number = next(number)
                heappush(queue, following)

    def _following(self, plan: FlipPlan, trial: RivalTrial | None) -> Iterator[FlipPlan]:
        """Flips from a trial: all from the first and from each new best, else those beside it.

        What cannot be solved is tried once more, together with each choice beside it.
        """
        names: Collection[str] = self.choices.words
        if trial is None:
            base, parent, sides, failed = plan.guess, plan.parent, plan.sides, plan.failed + 1
            if failed > 1 and self.best is not None:
                return
            if len(plan.turned) == 1:
                (name,) = plan.turned
                along = self.choices.along(name, sides[name])
                yield FlipPlan(base, 0, {**sides, **along}, parent, tuple(along), failed)
            base += self._worth(BARRED)
        else:
            base, parent, sides, failed = trial.apart, trial, trial.sides, 0
        if plan.turned and trial is not self.best:
            names = {near for name in plan.turned
                     for near in (name, *self.choices.neighbours(name))}
        for name in names:
            for word in self.choices.words[name]:
                if word != sides[name]:
                    extra = self._learned.get((name, word))
                    if extra is None:
                        extra = self.choices.extra(name, word, sides[name])
                    turned = (name,) if trial is not None else (*plan.turned, name)
                    yield FlipPlan(base + extra, 0, {**sides, name: word}, parent, turned, failed)

    def _learn(self, plan: FlipPlan, trial: RivalTrial | None) -> None:
        """Note what a flip cost, for the same one from elsewhere."""
        if len(plan.turned) == 1 and plan.parent is not None:
            (name,) = plan.turned
            extra = (self._worth(BARRED) + max(plan.guess - plan.parent.apart, 0.0)
                     if trial is None else trial.apart - plan.parent.apart)
            self._learned[name, plan.sides[name]] = extra

    def _worth(self, ratio: float) -> float:
        """Squared distance that stands for a log likelihood ratio beside the best."""
        return self.best.apart * (exp(2.0 * ratio / len(self._sketch)) - 1.0) if self.best else 0.0

    def _solved(self, plan: FlipPlan) -> RivalTrial | None:
        """Return the solution on these sides; None where there is none near."""
        sides = plan.sides
        system = System(self.choices.having(sides))
        found: list[tuple[int, NewtonOutcome]] = []
        for outcome in self._outcomes(system, plan):
            positive, off = system.kept(outcome.x)
            if outcome.converged and positive:
                found.append((off, outcome))
                if not off:
                    break
        if not found:
            return None
        outcome = min(found, key=itemgetter(0))[1]
        unmet = system.unmet(outcome.x)
        if not self.choices.words.keys() >= set(unmet):
            return None
        if unmet:  # what it does not keep makes it the solution on other sides
            sides = {**sides, **{name: self.choices.other(name, sides[name]) for name in unmet}}
            system = System(self.choices.having(sides))
        key = tuple(sides.values())
        part = system.to_part(outcome.x)
        apart = float(((self._places(part) - self._sketch) ** 2).sum())
        if key not in self.trials or apart < self.trials[key].apart:
            self.trials[key] = RivalTrial(sides, apart, system, outcome, part)
        return self.trials[key]

    def _outcomes(self, system: System, plan: FlipPlan) -> Iterator[NewtonOutcome]:
        """From the solution that was flipped, from the sketch, from the sketch with its flips."""
        choices, sides, parent = self.choices, plan.sides, plan.parent
        if not plan.turned:
            yield search(system)
            return
        if parent is not None:
            yield newton(system, system.at(choices.moved(sides, parent.part, parent.sides)),
                         most=STEPS)
        yield straight(system, system.x0, STEPS)
        yield newton(system, system.at(choices.moved(sides, choices.part, choices.settled)),
                     most=STEPS)

    def _compare(self, trial: RivalTrial) -> None:
        best = self.best
        if best is None or best.faults or trial.apart < best.apart:
            rank = (self._count(trial), trial.apart)
            if best is None or rank < (self._count(best), best.apart):
                self.best = trial

    def _count(self, trial: RivalTrial) -> int:
        if trial.faults is None:
            trial.faults = self._faults(trial.system, trial.outcome)
        return trial.faults

    def _untold(self) -> tuple[Mapping[str, str], ...]:
        best = self.best
        if best is None or self.roughness <= ROUGH:
            return ()
        found: list[dict[str, str]] = []
        for plan in sorted(self._queue):
            if self.ratio(plan.guess) > LIKELY or len(found) == NAMED:
                break
            other = {n: side for n, side in plan.sides.items() if side != best.sides[n]}
            if tuple(plan.sides.values()) not in self._tried and other not in found:
                found.append(other)
        return tuple(found)

    def _rivals(self) -> tuple[RivalTrial, ...]:
        best = self.best
        if best is None:
            return ()
        near = sorted((t for t in self.trials.values() if t is not best
                       and self.ratio(t.apart) <= LIKELY),
                      key=lambda trial: trial.apart)
        found: list[RivalTrial] = []
        for trial in near:
            if self._count(trial) <= self._count(best) and not any(
                    self._alike(trial.part, known.part) for known in (best, *found)):
                found.append(trial)
        return tuple(found)


def rescaled(part: Part) -> Part:
    """Return a sketch at the scale of its dimensions; the part itself where it is."""
    system = System(part)
    x = system.rescaled(system.x0)
    if x is system.x0:
        return part
    there = system.to_part(x)
    return part.having(points=there.points, curves=there.curves)
