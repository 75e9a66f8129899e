"""The smallest sets of bindings that cannot all hold: where a part is over-constrained.

Two ways, in turn. Most clashes are a matter of count: a dimension too many whose value does not
fit. Then the rows of its members depend on one another, and `circuit` finds the set by linear
algebra, at the shape as drawn with whatever sizes it has; one trial solve tells whether its values
fit. What is left are values out of range, like the sides of a triangle: at the point of least
squares the rows that do not vanish name the suspects, which are narrowed by QuickXplain (Junker,
"QUICKXPLAIN: preferred explanations and relaxations for over-constrained problems", AAAI 2004):
about ``k log(n / k)`` trials for k members out of n. A trial takes the bindings alone, with the
curves that they name, so it is small whatever the part.

Whether a set of nonlinear equations has no solution at all is beyond any quick method. A set counts
as impossible when the solve fails from the geometry as drawn, along a walk of its values, from the
point of least squares and from starts moved ever further: few while suspects are narrowed,
`THOROUGH` of them for the set that is named. The search is bounded by `TRIALS` trials of `STEPS`
steps of Newton's method; when they are used up the suspects are named as far as they were narrowed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import dist

import numpy as np

from sketcher.part.kinds import KINDS, residual
from sketcher.part.value import ArcCurve, Part, frozen
from sketcher.solve.circuit import circuits
from sketcher.solve.newton import NewtonOutcome, newton
from sketcher.solve.rank import Floats
from sketcher.solve.system import System
from sketcher.solve.walk import walk
from sketcher.solve.witness import shaped

TRIALS = 100
STEPS = 60  # of a trial; one that takes more counts as several
MORE = 75  # left of them when another set is looked for: mending the first may mend all
QUICK, THOROUGH = 3, 9  # starts of a trial while narrowing, and to confirm the outcome
LONG = 100  # members of a circuit that are not tried one by one
MOST = 8  # clashes that are named at once
HOLDS = 1e-9  # of the part's size: a binding holds


def find_clashes(
    part: Part, x: Floats | None = None, system: System | None = None
) -> tuple[tuple[str, ...], ...]:
    """Return the smallest sets of driving bindings that cannot all hold; none for a sound part.

    Parameters
    ----------
    part : Part
    x : array, optional
        Unknowns of ``System(part)`` at which the solver gave up, near the point of least squares.
    system : System, optional
        ``System(part)`` where the caller has it.

    Returns
    -------
    tuple of tuples of binding ids in file order. Each set is irreducible: without any one of its
    members the others hold together. Sets may overlap; at most `MOST` are named, and a further one
    is looked for only while trials are plenty, so that a person does not wait for it.
    """
    system = System(part) if system is None else system
    search = _Search(system)
    out = search.overcounted()
    spot = system.raw(system.x0 if x is None else x)
    while len(out) < MOST and search.left > (MORE if out else 0):
        given_up = {members[-1] for members in out}
        rest = {name: b for name, b in system.part.bindings.items() if name not in given_up}
        left = System(system.part.having(bindings=rest)) if given_up else system
        spot, solved = search.tried(left, spot)
        if solved and "clashing" not in left.merged.values():
            break
        found = search.narrowed(left, spot)
        if not found:
            break
        out.append(found)
    return tuple(out)


def approach(system: System, x: Floats) -> tuple[NewtonOutcome, bool]:
    """Go to a solution or to the point of least squares; returns it and whether all rows hold."""
    found = newton(system, x)
    return found, found.converged and system.kept(found.x)[0]


class _Search:
    """Trial solves on a few bindings of a part, counted and remembered."""

    def __init__(self, system: System) -> None:
        self.system = system
        self.left = TRIALS
        self.starts = QUICK
        self.known: dict[frozenset[str], tuple[bool, int]] = {}
        self.solutions: dict[frozenset[str], Part] = {}
        self.place = {name: k for k, name in enumerate(system.part.bindings)}
        y = newton(system, system.x0, system.measured(system.x0)).x
        shape = shaped(system, y)
        self.shape = y if shape is None else shape
        self.raw = system.raw(self.shape)
        self.stalled = self.raw

    def overcounted(self) -> list[tuple[str, ...]]:
        """Smallest sets around dependent rows whose values do not fit."""
        found: list[tuple[str, ...]] = []
        for members in circuits(self.system, self.shape):
            grown = self.grown(list(members))
            if grown and len(found) < MOST:
                # Of a chain through half the part a trial without one member takes as long as the
                # whole solve, and there are hundreds; that the rest is independent is known.
                plain = len(grown) == len(members) > LONG
                found.append(tuple(grown) if plain else self._smallest(grown))
        return [members for members in dict.fromkeys(found) if members]

    def _smallest(self, members: list[str]) -> tuple[str, ...]:
        """Return the smallest clash in a set, grown again where many starts find a solution of it.

        Two sides of a frame of different lengths hold with its plumb edges once the far side may
        slope; few starts from where it is level never see that, for there the slope changes
        nothing to first order.
        """
        found = self.reduced(members)
        while not found:
            grown = self.grown(members)
            if len(grown) <= len(members):
                return ()
            members, found = grown, self.reduced(grown)
        return found

    def grown(self, members: list[str]) -> list[str]:
        """Add what a solution of the members alone breaks, until there is none; else empty.

        To first order a row may hold nothing although it holds all of the rest in place (a plumb
        line at the end of a radius that points along it); no circuit then names it.
        """
        while self.possible(members):
            solution = self.solutions.get(frozenset(members))
            broken = [] if solution is None else self._broken(solution, set(members))
            if not broken:
                return []
            members = self._ordered([*members, *broken])
        return members

    def _broken(self, solution: Part, without: set[str]) -> list[str]:
        """Bindings between the things of a solution that do not hold there."""
        there = {**solution.points, **solution.curves}
        size = self.system.size
        out = []
        for name in self.system.binding_ids[self.system.first_binding :]:
            binding = self.system.part.bindings[name]
            if name in without or not there.keys() >= set(binding.of):
                continue
            moved = [dist(solution.points[p], self.system.part.points[p])
                     for p, _ in KINDS[binding.kind].held(solution, binding.of)]
            if max([abs(residual(solution, binding)), *moved]) > 1e-6 * size:
                out.append(name)
        return out

    def _ordered(self, names: Iterable[str]) -> list[str]:
        return sorted(names, key=self.place.__getitem__)

    def reduced(self, members: list[str]) -> tuple[str, ...]:
        """Drop every member without which the others still cannot hold; in file order.

        That they cannot is judged with few starts and confirmed with many; should one of those
        lead to a solution, the search goes on with many from the last set that has none. Empty
        when not even all members together are a clash.
        """
        sets = self._dropped(members)
        smallest = len(sets)
        self.starts = THOROUGH
        while sets and self.left > 0 and self.possible(sets[-1]):
            sets.pop()
        if 0 < len(sets) < smallest:
            sets = self._dropped(sets[-1])
        self.starts = QUICK
        return tuple(self._ordered(sets[-1])) if sets else ()

    def _dropped(self, members: list[str]) -> list[list[str]]:
        """Sets that cannot hold, each without some members of the one before, down to the smallest.

        Beside a member that is not needed are more of them, so twice as many are tried at once
        after each success and half as many after a failure.
        """
        sets = [members]
        needed, many = 0, 1
        while needed < len(sets[-1]):
            best = sets[-1]
            rest = best[:needed] + best[needed + many :]
            if rest and not self.possible(rest):
                sets.append(rest)
                many *= 2
            elif many > 1:
                many = 1 if many > len(best) - needed else many // 2
            else:
                needed += 1
        return sets

    def tried(self, system: System, spot: Floats) -> tuple[Floats, bool]:
        """Raw vector where a solve of a system ends, and whether it is a solution."""
        starts = [self.raw, spot]
        for start in starts:
            found, solved = approach(system, system.reduction.gather(start))
            if solved:
                return system.raw(found.x), True
        x = found.x
        found = walk(system, system.reduction.gather(self.raw))
        solved = found.converged and system.kept(found.x)[0]
        return system.raw(found.x if solved else x), solved

    def narrowed(self, system: System, spot: Floats) -> tuple[str, ...]:
        """Return one smallest set among the suspects, in file order; empty when none is found."""
        self.stalled = spot
        for suspects in _suspects(system, system.reduction.gather(spot)):
            if self.possible(suspects):
                continue
            return self.reduced(self._ordered(self._explain([], False, suspects)))
        return ()

    def _explain(self, base: list[str], grown: bool, choice: list[str]) -> list[str]:
        """Members of `choice` that are needed beside `base` for a clash (QuickXplain)."""
        if grown and not self.possible(base):
            return []
        if len(choice) == 1 or self.left <= 0:
            return choice
        half = len(choice) // 2
        one, other = choice[:half], choice[half:]
        second = self._explain(base + one, bool(one), other)
        first = self._explain(base + second, bool(second), one)
        return first + second

    def possible(self, names: Sequence[str]) -> bool:
        """Whether these bindings can hold together, as far as the starts tell.

        True without a trial once the trials are used up, so that no suspect is cleared by it.
        """
        key = frozenset(names)
        holds, tried = self.known.get(key, (False, 0))
        if holds or tried >= self.starts:
            return holds
        if self.left <= 0:
            return True
        taken = 0
        solution = None
        for outcome, found in self._solutions(excerpt(self.system.part, names), tried):
            taken += outcome.iterations
            solution = found
        self.left -= max(1, round(taken / STEPS))
        self.known[key] = solution is not None, self.starts
        if solution is not None:
            self.solutions[key] = solution
        return solution is not None

    def _solutions(self, part: Part, first: int) -> Iterator[tuple[NewtonOutcome, Part | None]]:
        """Where the starts from number `first` on lead, until one leads to a solution."""
        system = System(part)
        if "clashing" in system.merged.values():
            return
        here, slots = self.system.slots, system.names
        places = np.array([here.at(slot) for slot in slots], int)
        settled, stalled = (system.reduction.gather(raw[places])
                            for raw in (self.raw, self.stalled))
        rng = np.random.default_rng(7)
        for number in range(self.starts):
            start = (settled, system.x0, stalled)[number % 3]
            if number == 2 and np.array_equal(stalled, settled):
                continue
            if number > 2:
                reach = 0.1 * (number // 3) * system.size
                start = start + rng.uniform(-reach, reach, system.width)
            if number >= first:
                found, solved = approach(system, start)
                yield found, system.to_part(found.x) if solved else None
                if solved:
                    return
        if self.starts == THOROUGH:
            found = walk(system, settled)
            solved = found.converged and system.kept(found.x)[0]
            yield found, system.to_part(found.x) if solved else None


def _suspects(system: System, spot: Floats) -> Iterable[list[str]]:
    """Sets of bindings that may hold a clash: the worst rows' first, at last all of them."""
    groups = _substituted(system)
    rows = np.abs(system.residual(spot))
    worst = rows.max(initial=0.0)
    driving = list(system.binding_ids[system.first_binding :])
    seeds = [name for name, how in system.merged.items() if how == "clashing"]
    for share in (0.02, 1e-5):
        owners = system.row_binding[rows > max(share * worst, HOLDS * system.size)]
        names = {system.binding_ids[k] for k in owners if k >= system.first_binding}
        yield _with_substitutions(system, groups, [*seeds, *sorted(names)], driving)
    yield driving


def _substituted(system: System) -> dict[int, list[str]]:
    """Bindings by the group of unknowns (its representative) that they join or hold."""
    groups: dict[int, list[str]] = {}
    at, root = system.slots.at, system.reduction.root
    for name in system.binding_ids[system.first_binding :]:
        binding = system.part.bindings[name]
        kind = KINDS[binding.kind]
        slots = [slot for pair in kind.unions(system.part, binding.of) for slot in pair]
        slots += kind.held(system.part, binding.of)
        for group in {int(root[at(slot)]) for slot in slots}:
            groups.setdefault(group, []).append(name)
    return groups


def _with_substitutions(
    system: System, groups: dict[int, list[str]], names: Sequence[str], order: Sequence[str]
) -> list[str]:
    """Names and whatever was substituted in the unknowns that they touch, in file order."""
    chosen = set(names)
    root = system.reduction.root
    number = {name: k for k, name in enumerate(system.binding_ids)}
    wanted = np.array([number[name] for name in names], int)
    touched = {
        int(group) for block in system.blocks
        for group in np.unique(root[block.slots[np.isin(block.owner, wanted)]])
    }
    for group, members in groups.items():
        if group in touched or chosen.intersection(members):
            chosen.update(members)
    return [name for name in order if name in chosen]


def excerpt(part: Part, names: Iterable[str]) -> Part:
    """Return a part of these bindings alone, with all that they name and the arcs between."""
    bindings = {name: part.bindings[name] for name in names}
    curves, points = set(), set()
    for binding in bindings.values():
        for name in binding.of:
            if name in part.points:
                points.add(name)
            else:
                curves.add(name)
                points.update(part.curves[name].points)
    arcs = {name: c for name, c in part.curves.items() if isinstance(c, ArcCurve)}
    while True:
        more = {n for n, arc in arcs.items()
                if n not in curves and len(points.intersection(arc.points)) > 1}
        if not more:
            break
        curves |= more
        points.update(p for name in more for p in arcs[name].points)
    return part.having(
        points={n: xy for n, xy in part.points.items() if n in points},
        curves={n: c for n, c in part.curves.items() if n in curves},
        bindings=frozen(bindings), mirrors=(), patterns={})
