"""The smallest sets of bindings that cannot all hold.

At the point of least squares the residual of a system without solution is a combination of
dependent rows, so the rows where it stands name the suspects. Suspects are narrowed to a set of
which every member is needed by QuickXplain (Junker, "QUICKXPLAIN: preferred explanations and
relaxations for over-constrained problems", AAAI 2004): about ``k log(n / k)`` trial solves for k
members out of n. A trial takes the bindings alone, with the curves that they name, so it is small
whatever the part.

Whether a set of nonlinear equations has no solution at all is beyond any quick method. A set counts
as impossible when the solve fails from the geometry as drawn, from the point of least squares and
from two moved starts. The whole search is bounded by `TRIALS` trial solves.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np

from sketcher.part.kinds import KINDS
from sketcher.part.value import ArcCurve, Part, frozen
from sketcher.solve.rank import Floats
from sketcher.solve.system import System
from sketcher.solve.witness import jacobian, least_step

TRIALS = 150
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
    members the others hold together. Sets may overlap; at most `MOST` are named.
    """
    search = _Search(part)
    out: list[tuple[str, ...]] = []
    given_up: set[str] = set()
    system = System(part) if system is None else system
    spot = system.x0 if x is None else x
    while len(out) < MOST and search.left > 0:
        spot, solved = approach(system, spot)
        if solved and "clashing" not in system.merged.values():
            break
        found = search.narrowed(system, spot)
        if not found:
            break
        out.append(found)
        given_up.add(found[-1])
        rest = {name: b for name, b in system.part.bindings.items() if name not in given_up}
        raw = system.raw(spot)
        system = System(system.part.having(bindings=rest))
        spot = system.reduction.gather(raw)
    return tuple(out)


def approach(system: System, x: Floats, steps: int = 40) -> tuple[Floats, bool]:
    """Walk to a solution or to the point of least squares; returns it and whether all rows hold.

    Gauss-Newton with the shortest step, halved while the residual rises.
    """
    rows = system.residual(x)
    limit = HOLDS * system.size
    norm = float(np.linalg.norm(rows))
    idle = 0
    for _ in range(steps):
        if np.abs(rows).max(initial=0.0) <= limit:
            return x, system.kept(x)[0]
        step = least_step(jacobian(system, x), rows)
        longest = np.abs(step).max(initial=0.0)
        if longest > 0.3 * system.size:
            step *= 0.3 * system.size / longest
        before = norm
        for _ in range(6):
            trial = x + step
            rows_there = system.residual(trial)
            norm_there = float(np.linalg.norm(rows_there))
            if norm_there < norm:
                x, rows, norm = trial, rows_there, norm_there
                break
            step *= 0.5
        idle = idle + 1 if norm > 0.95 * before else 0
        if idle > 2 or norm == before:
            break
    return x, bool(np.abs(rows).max(initial=0.0) <= limit) and system.kept(x)[0]


@dataclass(slots=True)
class _Search:
    """Trial solves on a few bindings of a part, counted and remembered."""

    part: Part
    left: int = TRIALS
    known: dict[frozenset[str], bool] = field(default_factory=dict)
    place: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.place = {name: k for k, name in enumerate(self.part.bindings)}

    def narrowed(self, system: System, spot: Floats) -> tuple[str, ...]:
        """Return one smallest set among the suspects, in file order; empty when none is found."""
        raw = dict(zip(system.names, system.raw(spot).tolist(), strict=True))
        for suspects in _suspects(system, spot):
            if self.possible(system, suspects, raw):
                continue
            best = tuple(suspects)
            for order in (suspects, suspects[::-1]):
                found = self._explain(system, raw, [], False, list(order))
                if len(found) < len(best):
                    best = tuple(found)
                if len(best) <= 2:
                    break
            return tuple(sorted(best, key=self.place.__getitem__))
        return ()

    def _explain(
        self, system: System, raw: dict[tuple[str, str], float], base: list[str], grown: bool,
        choice: list[str],
    ) -> list[str]:
        """Members of `choice` that are needed beside `base` for a clash (QuickXplain)."""
        if grown and not self.possible(system, base, raw):
            return []
        if len(choice) == 1 or self.left <= 0:
            return choice
        half = len(choice) // 2
        one, other = choice[:half], choice[half:]
        second = self._explain(system, raw, base + one, bool(one), other)
        first = self._explain(system, raw, base + second, bool(second), one)
        return first + second

    def possible(
        self, system: System, names: Sequence[str], raw: dict[tuple[str, str], float]
    ) -> bool:
        """Whether these bindings can hold together, as far as four starts tell."""
        key = frozenset(names)
        if key not in self.known:
            self.left -= 1
            self.known[key] = _holds(excerpt(system.part, names), raw)
        return self.known[key]


def _holds(part: Part, raw: dict[tuple[str, str], float]) -> bool:
    system = System(part)
    if "clashing" in system.merged.values():
        return False
    stalled = system.reduction.gather(np.array([raw[slot] for slot in system.names]))
    rng = np.random.default_rng(7)
    spread = 0.2 * system.size
    for start in (stalled, system.x0, stalled + spread * rng.uniform(-1, 1, system.width),
                  system.x0 + spread * rng.uniform(-1, 1, system.width)):
        if approach(system, start)[1]:
            return True
    return False


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
