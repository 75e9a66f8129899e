# mypy: ignore-errors
"""Name what a hand-in drew otherwise than the key: read first, solve again to confirm."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from math import degrees

import numpy as np

from sketcher.errors import SketcherError
from sketcher.geometry.curves import Line
from sketcher.intake.round_figures import ValueSort, round_figures
from sketcher.marking.assignment import FeatureTable, Matching, matched
from sketcher.marking.key_changes import KeyChange, changed
from sketcher.marking.key_shape import KeyShape
from sketcher.marking.outline_features import Feature
from sketcher.marking.poses import Pose, carried, orientations, votes
from sketcher.marking.value_reading import Reading, read_values
from sketcher.part.kinds import KINDS
from sketcher.part.value import GridPattern, Part, PolarPattern
from sketcher.part.wanted import evaluator
from sketcher.quantity.format import exact
from sketcher.quantity.parameters import evaluate_all
from sketcher.quantity.parse import evaluate
from sketcher.solve.newton import newton
from sketcher.solve.search import search
from sketcher.solve.system import System

OFF = 1.9
"""What a feature costs that is off, missing or extra, in wrong values."""
POSES = 5
ROUNDS = 3


@dataclass(frozen=True, slots=True)
class Explanation:
    """The key with some changes, beside the hand-in."""

    changes: tuple[KeyChange, ...]
    shape: KeyShape
    pose: Pose
    hand: tuple[Feature, ...]
    matching: Matching
    cost: float


class Explainer:
    """A key made ready: what it knows of the key is computed once for all hand-ins."""

    def __init__(self, part: Part, within: float) -> None:
        self.key = KeyShape(part, within)
        self.within = within
        self.system = System(part)
        self.values = evaluate_all(part.parameters, part.unit)
        self._systems: dict[tuple[KeyChange, ...], tuple[KeyShape, System] | None] = {}
        self.solves = 0

    # The key under changes.

    def under(self, changes: tuple[KeyChange, ...]) -> tuple[KeyShape, System] | None:
        """Return the key with changes, solved; None where there is no such part."""
        if not changes:
            return self.key, self.system
        ordered = tuple(sorted(changes, key=lambda c: (c.sort, c.name)))
        if ordered not in self._systems:
            if len(self._systems) > 200:
                self._systems.clear()
            self._systems[ordered] = self._solved(ordered)
        return self._systems[ordered]

    def _solved(self, changes: tuple[KeyChange, ...]) -> tuple[KeyShape, System] | None:
        self.solves += 1
        try:
            part = changed(self.key.part, changes)
            system = System(part)
            found = search(system)
        except SketcherError:
            return None
        sound, _ = system.kept(found.x)
        if not found.converged or not sound:
            return None
        try:
            shape = KeyShape(system.to_part(found.x), self.within)
        except SketcherError:
            return None
        system.x0 = found.x
        return shape, system

    # The hand-in beside it.

    def beside(self, changes: tuple[KeyChange, ...], hand: Sequence[Feature], pose: Pose
               ) -> Explanation | None:
        """Lay a hand-in beside the changed key; its shift is found anew."""
        under = self.under(changes)
        if under is None:
            return None
        shape, _ = under
        laid = carried(hand, pose)
        matching = matched(shape.table, FeatureTable(laid), shape.size)
        if matching.wrong(self.within):
            shift = self._shift(shape, laid, matching)
            if max(map(abs, shift)) > 0.02 * self.within:
                pose = replace(pose, shift=(pose.shift[0] + shift[0], pose.shift[1] + shift[1]))
                laid = carried(hand, pose)
                matching = matched(shape.table, FeatureTable(laid), shape.size)
        cost = OFF * matching.wrong(self.within) + sum(c.cost for c in changes) + (
            0.05 * (pose.turn != 0.0) + 0.06 * pose.mirrored)
        return Explanation(tuple(changes), shape, pose, laid, matching, cost)

    def _shift(self, shape: KeyShape, hand: Sequence[Feature], matching: Matching
               ) -> tuple[float, float]:
        """Return the move that brings most of the hand-in onto the key."""
        moves = []
        for i, j in matching.pairs:
            a, b = shape.found[i].curve, hand[j].curve
            if isinstance(a, Line):
                continue
            moves.append((a.center[0] - b.center[0], a.center[1] - b.center[1]))
        for i, j in matching.pairs:
            a, b = shape.found[i].curve, hand[j].curve
            if isinstance(a, Line):
                bs = (b.start, b.end)
                if (a.end[0] - a.start[0]) * (b.end[0] - b.start[0]) + (
                        a.end[1] - a.start[1]) * (b.end[1] - b.start[1]) < 0.0:
                    bs = bs[::-1]
                for p, q in zip((a.start, a.end), bs, strict=True):
                    moves.append((p[0] - q[0], p[1] - q[1]))
        if not moves:
            return (0.0, 0.0)
        table = np.array(moves)
        bins = np.floor(table / (2.0 * self.within)).astype(np.int64)
        _, inverse, count = np.unique(bins, axis=0, return_inverse=True, return_counts=True)
        inverse = inverse.ravel()
        at = np.median(table[inverse == int(count.argmax())], axis=0)
        near = np.hypot(*(table - at).T) <= 2.0 * self.within
        at = np.median(table[near], axis=0)
        if (np.hypot(*table.T) <= self.within).sum() >= near.sum():
            return (0.0, 0.0)
        return float(at[0]), float(at[1])

    # The way through.

    def explain(self, hand: Sequence[Feature], scales: Sequence[float] = (1.0,)
                ) -> Explanation | None:
        """Return the cheapest explanation that was found."""
        best: Explanation | None = None
        for pose in self._poses(hand, scales):
            found = self._explained(hand, pose)
            if found is not None and (best is None or found.cost < best.cost - 1e-9):
                best = found
            if best is not None and best.matching.wrong(self.within) == 0 and (
                    len(best.changes) <= 1):
                break
        if best is not None and best.matching.wrong(self.within):
            best = self._otherwise(hand, best)
        return best

    def _poses(self, hand: Sequence[Feature], scales: Sequence[float]) -> list[Pose]:
        voted = sorted(votes(self.key.found, hand, orientations(scales), self.within),
                       key=lambda each: -each[0])[:12]
        tried = []
        for number, (_, pose) in enumerate(voted):
            laid = carried(hand, pose)
            matching = matched(self.key.table, FeatureTable(laid), self.key.size)
            tried.append((sum(min(off, 0.1 * self.key.size) ** 0.5 for off in matching.off)
                          + (0.1 * self.key.size) ** 0.5 * (
                len(matching.missing) + len(matching.extra)) + 0.06 * pose.mirrored
                + 0.05 * (pose.turn != 0.0), number, pose))
        tried.sort()
        return [pose for *_, pose in tried[:POSES]]

    def _explained(self, hand: Sequence[Feature], pose: Pose) -> Explanation | None:
        trial = self.beside((), hand, pose)
        if trial is None or not trial.matching.wrong(self.within):
            return trial
        best = trial
        changes: tuple[KeyChange, ...] = ()
        for _ in range(ROUNDS):
            under = self.under(changes)
            assert under is not None
            shape, system = under
            reading = read_values(system, shape, trial.matching, trial.hand)
            following = self._read(changes, shape, system, reading, trial)
            if following == changes:
                break
            at = replace(trial.pose, shift=(trial.pose.shift[0] - float(reading.shift[0]),
                                            trial.pose.shift[1] - float(reading.shift[1])))
            later = self.beside(following, hand, at)
            if later is None:
                break
            trial, changes = later, following
            if trial.cost < best.cost - 1e-9:
                best = trial
            if not trial.matching.wrong(self.within):
                break
        return self._pruned(hand, best)

    def _read(
        self, changes: tuple[KeyChange, ...], shape: KeyShape, system: System, reading: Reading,
        trial: Explanation,
    ) -> tuple[KeyChange, ...]:
        """Return the changes that a reading asks for, those that were made among them."""
        part = self.key.part
        wanted = evaluator(part)
        now = evaluator(shape.part)
        found: dict[str, float] = {}
        for name in dict.fromkeys((*(c.name for c in changes if c.sort == "dimension"),
                                   *reading.deviations)):
            binding = part.bindings[name]
            quantity = KINDS[binding.kind].quantity or "length"
            off = reading.deviations.get(name, 0.0)
            found[name] = now(name, shape.part.bindings[name], quantity) + (
                degrees(off) if quantity == "angle" else off)
        # what a changed parameter carries is read as values of its own and put together again
        out: list[KeyChange] = [c for c in changes if c.sort in ("count", "side")]
        for name, value in found.items():
            binding = part.bindings[name]
            quantity = KINDS[binding.kind].quantity or "length"
            was = wanted(name, binding, quantity)
            change = self._figure("dimension", name, binding.value or "", was, value, quantity,
                                  binding.kind)
            if change is not None:
                out.append(change)
        out += self._patterns(shape, trial)
        return self._by_parameters(tuple(out))

    def _figure(self, sort: str, name: str, text: str, was: float, value: float, quantity: str,
                kind: str) -> KeyChange | None:
        t = 0.05 if quantity == "angle" else self.within
        if abs(value - was) <= t:
            return None
        kinds: dict[str, ValueSort] = {"radius": "radius", "diameter": "hole"}
        what: ValueSort = "angle" if quantity == "angle" else kinds.get(kind, "length")
        figures = round_figures(value, 0.5 * t if quantity == "angle" else t, what,
                                self.key.part.unit)
        share = (value - was) / was if was else 1.0
        if figures:
            return KeyChange(sort, name, text, figures[0].text, share, figures[0].rank)
        return KeyChange(sort, name, text, exact(value), share, -1)

    def _patterns(self, shape: KeyShape, trial: Explanation) -> list[KeyChange]:
        """Return steps, spans and angles of patterns that the instances have otherwise."""
        part = self.key.part
        out: list[KeyChange] = []
        by_source: dict[str, dict[int, tuple[float, float]]] = {}
        for i, j in trial.matching.pairs:
            piece = shape.pieces[shape.found[i].sources[0]]
            curve = trial.hand[j].curve
            if piece.image.mirrors or isinstance(curve, Line):
                continue
            by_source.setdefault(piece.source, {})[piece.image.instance] = curve.center
        values = evaluate_all(shape.part.parameters, part.unit)
        for name, pattern in part.patterns.items():
            source = next((s for s in pattern.curves if s in by_source and 0 in by_source[s]), None)
            if source is None:
                continue
            at = by_source[source]
            seed = np.array(at[0])
            if isinstance(pattern, GridPattern):
                rows, wanted = [], []
                for number, place in at.items():
                    column, row = number % pattern.count[0], number // pattern.count[0]
                    if number:
                        rows.append((column, row))
                        wanted.append(np.array(place) - seed)
                if not rows:
                    continue
                angle = np.radians(evaluate(pattern.angle, "angle", part.unit, values))
                for k, way in ((0, (np.cos(angle), np.sin(angle))),
                               (1, (-np.sin(angle), np.cos(angle)))):
                    each = [float(np.dot(w, way)) / r[k] for r, w in zip(rows, wanted, strict=True)
                            if r[k] and not r[1 - k]]
                    if each:
                        was = evaluate(pattern.step[k], "length", part.unit, self.values)
                        change = self._figure("pattern", f"{name}.step.{k}", pattern.step[k], was,
                                              float(np.median(each)), "length", "run")
                        if change:
                            out.append(change)
            else:
                span = evaluate(pattern.span, "angle", part.unit, self.values)
                if abs(span) == 360.0:
                    continue
                center = np.array(shape.part.points[pattern.center])
                first = np.degrees(np.arctan2(*(seed - center)[::-1]))
                each = []
                for number, place in at.items():
                    if number:
                        turn = np.degrees(np.arctan2(*(np.array(place) - center)[::-1])) - first
                        expected = span * number / (pattern.count - 1)
                        turn += 360.0 * round((expected - turn) / 360.0)
                        each.append(turn * (pattern.count - 1) / number)
                if each:
                    change = self._figure("pattern", f"{name}.span", pattern.span, span,
                                          float(np.median(each)), "angle", "angle")
                    if change:
                        out.append(change)
        return out

    def _by_parameters(self, changes: tuple[KeyChange, ...]) -> tuple[KeyChange, ...]:
        """Put values that go with one parameter together as a change of that."""
        part = self.key.part
        texts = {c.name: c for c in changes if c.sort in ("dimension", "pattern")}
        for name in part.parameters:
            users = self._users(name)
            hit = [n for n in users if n in texts]
            if len(users) < 2 or len(hit) < 2:
                continue
            asked = [(float(self._amount(texts[n])) - was) / slope
                     for n, (was, slope) in users.items() if n in texts]
            step = float(np.median(asked))
            if max(abs(a - step) for a in asked) > 2.0 * self.within or len(hit) < len(users):
                continue
            now = float(self.values[name].amount)
            change = self._figure("parameter", name, part.parameters[name], now, now + step,
                                  "length", "run")
            if change is not None:
                changes = (*(c for c in changes if c.name not in hit), change)
        return changes

    def _amount(self, change: KeyChange) -> float:
        quantity = "angle" if change.name.endswith((".span", ".angle")) else "length"
        if change.sort == "dimension":
            quantity = KINDS[self.key.part.bindings[change.name].kind].quantity or "length"
        return evaluate(change.found, quantity, self.key.part.unit, self.values)

    def _users(self, parameter: str) -> Mapping[str, tuple[float, float]]:
        """Dimensions that a parameter goes into: the value of each and its derivative."""
        part = self.key.part
        moved = part.having(parameters={
            **part.parameters, parameter: f"({part.parameters[parameter]})*1.001"})
        values, after = self.values, evaluate_all(moved.parameters, part.unit)
        step = float(after[parameter].amount) - float(values[parameter].amount)
        if not step:
            return {}
        one, other = evaluator(part), evaluator(moved)
        out = {}
        for name, b in part.bindings.items():
            quantity = KINDS[b.kind].quantity
            if not b.drives or quantity is None:
                continue
            was, now = one(name, b, quantity), other(name, b, quantity)
            if now != was:
                out[name] = (was, (now - was) / step)
        return out

    def _pruned(self, hand: Sequence[Feature], trial: Explanation) -> Explanation:
        """Drop changes, singly and in pairs, while that makes it cheaper."""
        better = True
        while better and trial.changes:
            better = False
            for many in (1, 2):
                for drop in combinations(trial.changes, many):
                    if many == 2 and len(trial.changes) == 2:
                        continue
                    rest = tuple(c for c in trial.changes if c not in drop)
                    if len(trial.changes) == 1 and trial.matching.wrong(self.within) == 0:
                        break
                    found = self.beside(rest, hand, trial.pose)
                    if found is not None and found.cost < trial.cost - 1e-9:
                        trial, better = found, True
                        break
                if better:
                    break
        return trial

    def _otherwise(self, hand: Sequence[Feature], best: Explanation) -> Explanation:
        """Try other sides, counts and steps while something is still off."""
        for other in self._others():
            if any(c.sort == other.sort and c.name == other.name for c in best.changes):
                continue
            trial = self.beside((*best.changes, other), hand, best.pose)
            if trial is not None and trial.cost < best.cost - 1e-9:
                best = trial
                if not best.matching.wrong(self.within):
                    break
        return best

    def _others(self) -> Iterable[KeyChange]:
        part = self.key.part
        for name, b in part.bindings.items():
            if b.drives and KINDS[b.kind].has_sides and b.side:
                for side in KINDS[b.kind].choices(part, b.of):
                    if side != b.side:
                        yield KeyChange("side", name, b.side, side)
        for name, pattern in part.patterns.items():
            counts = pattern.count if isinstance(pattern, GridPattern) else (pattern.count,)
            for k, count in enumerate(counts):
                for step in (-1, 1, -2, 2):
                    if count + step >= 1 and count > 1:
                        where = f"{name}.count.{k}" if isinstance(
                            pattern, GridPattern) else f"{name}.count"
                        yield KeyChange("count", where, str(count), str(count + step))


__all__ = ["Explainer", "Explanation", "PolarPattern", "newton"]
