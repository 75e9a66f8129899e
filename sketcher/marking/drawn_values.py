"""From what was read off a hand-in to changes of the key: figures, patterns, parameters."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations
from math import degrees, radians

import numpy as np

from sketcher.errors import SketcherError
from sketcher.geometry.curves import XY, Line
from sketcher.intake.round_figures import ValueSort, round_figures
from sketcher.marking.key_changes import (
    KeyChange,
    KeyChangeSort,
    changed,
    pattern_fields,
    pattern_quantity,
    pattern_value,
)
from sketcher.marking.laid import Explanation
from sketcher.marking.value_reading import Reading
from sketcher.part.kinds import KINDS
from sketcher.part.value import Binding, GridPattern, Part, PolarPattern
from sketcher.part.wanted import evaluator
from sketcher.quantity.parameters import Value, evaluate_all
from sketcher.quantity.parse import evaluate, names_in

ANGLE_WITHIN = 0.05
"""Degrees by which an angle may be off and is still the key's."""
FINE = {"mm": 2e-5, "in": 1e-6}
"""How exactly values are read off a drawing that was drawn exactly: a tenth of a millimetre is told
from chance there. What was drawn less so still shows half millimetres."""
DECIMALS = {"mm": 4, "in": 5}


@dataclass(frozen=True, slots=True)
class _Asked:
    """A value of the key: its expression, what it comes to, what it measures."""

    sort: KeyChangeSort
    text: str
    value: float
    quantity: str
    figure: ValueSort


class DrawnValues:
    """Names what a reading says, in the words of the key.

    Parameters
    ----------
    part : Part
        The key.
    within : float
        Tolerance in the part's unit.
    """

    def __init__(self, part: Part, within: float) -> None:
        self.part, self.within = part, within

    def changes(self, reading: Reading, seen: Explanation) -> tuple[KeyChange, ...]:
        """Return the changes that a reading asks for; values that go together as their parameter.

        Parameters
        ----------
        reading : Reading
            Of the key without changes of values.
        seen : Explanation
            Whose matching was read; its changes of sides and counts are kept.
        """
        read: dict[str, float] = {}
        for name, off in reading.deviations.items():
            asked = self._asked[name]
            read[name] = asked.value + (degrees(off) if asked.quantity == "angle" else off)
        read |= self._patterns(seen)
        kept = {c.name: c for c in seen.changes if c.sort in ("side", "count")}
        out: list[KeyChange] = []
        for change in self.named(read):
            out += self._turned_over(change)
        return (*(c for c in kept.values() if c.name not in {o.name for o in out}), *out)

    # What the key asks.

    @cached_property
    def _parameters(self) -> Mapping[str, Value]:
        return evaluate_all(self.part.parameters, self.part.unit)

    @cached_property
    def _asked(self) -> Mapping[str, _Asked]:
        """Every value of the key by name of dimension or pattern field."""
        part, value = self.part, evaluator(self.part)
        figures: dict[str, ValueSort] = {"radius": "radius", "diameter": "hole"}
        found: dict[str, _Asked] = {}
        for name, binding in part.bindings.items():
            quantity = KINDS[binding.kind].quantity
            if binding.drives and quantity is not None and binding.value is not None:
                figure: ValueSort = "angle" if quantity == "angle" else (
                    figures.get(binding.kind, "length"))
                found[name] = _Asked("dimension", binding.value, value(name, binding, quantity),
                                     quantity, figure)
        for name in pattern_fields(part):
            text, figure = pattern_value(part, name), pattern_quantity(name)
            found[name] = _Asked("pattern", text, evaluate(
                text, figure, part.unit, self._parameters), figure, figure)
        return found

    @cached_property
    def _users(self) -> Mapping[str, Mapping[str, float]]:
        """For each parameter the values that it goes into, with the derivative of each."""
        part = self.part
        found: dict[str, dict[str, float]] = {}
        for parameter, text in part.parameters.items():
            moved = changed(part, [KeyChange("parameter", parameter, "", f"({text})*1.001")])
            try:
                after = evaluate_all(moved.parameters, part.unit)
                step = after[parameter].amount - self._parameters[parameter].amount
                if step:
                    slopes = {name: (value - self._asked[name].value) / step
                              for name, value in DrawnValues(moved, self.within).values.items()}
                    found[parameter] = {n: s for n, s in slopes.items() if s != 0.0}
            except SketcherError:
                continue
        return found

    @property
    def values(self) -> Mapping[str, float]:
        """What every dimension and pattern field comes to: lengths in the part's unit, degrees."""
        return {name: asked.value for name, asked in self._asked.items()}

    def measures(self, name: str) -> str:
        """Return what a dimension or pattern field measures: ``length`` or ``angle``."""
        return self._asked[name].quantity

    def sizes(self, name: str) -> bool:
        """Whether a dimension is a radius or a diameter."""
        return name in self._asked and self._asked[name].figure in ("radius", "hole")

    # What was drawn.

    def _patterns(self, seen: Explanation) -> dict[str, float]:
        """Return steps, spans and angles of patterns that the instances have otherwise."""
        part, shape = seen.shape.part, seen.shape
        centers: dict[str, dict[int, list[XY]]] = {}
        for i, j in seen.matching.pairs:
            piece = shape.pieces[shape.found[i].sources[0]]
            curve = seen.hand[j].curve
            if not isinstance(curve, Line):
                centers.setdefault(piece.source, {}).setdefault(piece.image.instance, []).append(
                    shape.unreflected(curve.center, piece.image.mirrors))
        out: dict[str, float] = {}
        for name, pattern in part.patterns.items():
            source = next((s for s in pattern.curves if 0 in centers.get(s, {})), None)
            if source is None:
                continue
            at = {n: np.median(np.array(where), axis=0) for n, where in centers[source].items()}
            out |= self._grid(name, pattern, at) if isinstance(pattern, GridPattern) else (
                self._polar(name, pattern, at, shape.part.points[pattern.center]))
        return {name: value for name, value in out.items()
                if abs(value - self._asked[name].value) > self._room(name)}

    def _grid(self, name: str, pattern: GridPattern, at: Mapping[int, np.ndarray]
              ) -> dict[str, float]:
        """Read steps and angle from all pairs of members in one row or one column."""
        cells = {divmod(number, pattern.count[0])[::-1]: place for number, place in at.items()}
        turn = radians(self._asked[f"{name}.angle"].value)
        steps: tuple[list[np.ndarray], list[np.ndarray]] = ([], [])
        for (one, here), (other, there) in combinations(sorted(cells.items()), 2):
            for k in (0, 1):
                if one[1 - k] == other[1 - k]:
                    steps[k].append((there - here) / (other[k] - one[k]))
        leans = [(np.arctan2(step[1], step[0]) - 0.5 * np.pi * k - turn + np.pi) % (2.0 * np.pi)
                 - np.pi for k in (0, 1) for step in steps[k] if np.hypot(*step) > 0.0]
        out: dict[str, float] = {}
        lean = _most(leans, radians(ANGLE_WITHIN))
        if lean is not None and radians(ANGLE_WITHIN) < abs(lean) < 0.5 and (
                np.ptp(leans) <= radians(ANGLE_WITHIN)):
            turn += lean
            out[f"{name}.angle"] = degrees(turn)
        for k, way in ((0, (np.cos(turn), np.sin(turn))), (1, (-np.sin(turn), np.cos(turn)))):
            drawn = _most([float(np.dot(each, way)) for each in steps[k]], self.within)
            if drawn is not None and abs(drawn) > self.within:  # else one hole stands for two
                out[f"{name}.step.{k}"] = drawn
        return out

    def _polar(self, name: str, pattern: PolarPattern, at: Mapping[int, np.ndarray], center: XY
               ) -> dict[str, float]:
        span = self._asked[f"{name}.span"].value
        if abs(span) == 360.0 or pattern.count < 2:
            return {}
        rays = {number: place - np.array(center) for number, place in at.items()}
        each = []
        for number, ray in rays.items():
            if number:
                turn = degrees(np.arctan2(ray[1], ray[0]) - np.arctan2(rays[0][1], rays[0][0]))
                share = number / (pattern.count - 1)
                turn += 360.0 * round((span * share - turn) / 360.0)
                each.append(turn / share)
        drawn = _most(each, ANGLE_WITHIN)
        return {} if drawn is None else {f"{name}.span": drawn}

    # In the words of the key.

    def _room(self, name: str) -> float:
        return ANGLE_WITHIN if self._asked[name].quantity == "angle" else self.within

    def named(self, read: Mapping[str, float]) -> list[KeyChange]:
        """Return the changes to some values, those that go with one parameter as its change."""
        out: list[KeyChange] = []
        left = dict(read)
        while left:
            best: tuple[tuple[int, int, int, int], KeyChange, set[str]] | None = None
            for parameter, users in self._users.items():
                change = self._of_parameter(parameter, users, left)
                if change is None:
                    continue
                direct = any(parameter in names_in(self._asked[n].text, self.part.unit)
                             for n in users)
                rank = (-len(users), change.rank if change.rank >= 0 else 9, not direct,
                        len(change.found))
                if best is None or rank < best[0]:
                    best = (rank, change, set(users))
            if best is None:
                break
            out.append(best[1])
            left = {name: value for name, value in left.items() if name not in best[2]}
        for name, value in left.items():
            change = self.figure(name, value)
            if change is not None:
                out.append(change)
        return out

    def _of_parameter(
        self, parameter: str, users: Mapping[str, float], read: Mapping[str, float]
    ) -> KeyChange | None:
        """Return the change of a parameter that all its users show; None where one does not."""
        shown = {name: slope for name, slope in users.items() if name in self.visible}
        if not shown or not all(name in read for name in shown):
            return None
        steps = [(read[name] - self._asked[name].value) / slope for name, slope in shown.items()]
        step = float(np.median(steps))
        if any(abs(each - step) * abs(slope) > 2.0 * self._room(name)
               for each, (name, slope) in zip(steps, shown.items(), strict=True)):
            return None
        first = self._asked[next(iter(shown))]
        now = float(self._parameters[parameter].amount)
        sort: ValueSort = "angle" if first.quantity == "angle" else (
            first.figure if len(shown) == 1 and first.text.strip() == parameter else "length")
        return self._figure("parameter", parameter, self.part.parameters[parameter], now,
                            now + step, sort)

    visible: frozenset[str] = frozenset()
    """Dimensions and pattern fields that the outline shows: `moved_features`."""

    def figure(self, name: str, value: float) -> KeyChange | None:
        """Return the change of one dimension or pattern field to a value; None where it is none."""
        asked = self._asked[name]
        return self._figure(asked.sort, name, asked.text, asked.value, value, asked.figure)

    def _figure(self, sort: KeyChangeSort, name: str, text: str, was: float, value: float,
                figure: ValueSort) -> KeyChange | None:
        unit = self.part.unit
        room = ANGLE_WITHIN if figure == "angle" else self.within
        if abs(value - was) <= room:
            return None
        share = (value - was) / was if was else 1.0
        fine = 2e-5 if figure == "angle" else FINE[unit]
        for t in (fine, 0.3 * room):
            figures = round_figures(value, t, figure, unit)
            if figures:
                return KeyChange(sort, name, text, figures[0].text, share, figures[0].rank)
        found = f"{value:.{DECIMALS[unit]}f}".rstrip("0").rstrip(".")
        return KeyChange(sort, name, text, found, share, -1)

    def _turned_over(self, change: KeyChange) -> list[KeyChange]:
        """Return a value below zero as its other side, with the value where that differs."""
        if not change.found.startswith("-"):
            return [change]
        binding = self.part.bindings.get(change.name)
        if change.sort != "dimension" or binding is None or not binding.side:
            return []
        other = self.other_sides(binding)
        if len(other) != 1:
            return []
        side = KeyChange("side", change.name, binding.side, other[0])
        value = -evaluate(change.found[1:], self._asked[change.name].quantity, self.part.unit)
        again = self.figure(change.name, -value)
        return [side] if again is None else [side, again]

    def other_sides(self, binding: Binding) -> tuple[str, ...]:
        """Return the sides on which a binding of the key is not."""
        kind = KINDS[binding.kind]
        if not (binding.drives and kind.has_sides and binding.side):
            return ()
        return tuple(side for side in kind.choices(self.part, binding.of) if side != binding.side)


def _most(values: Sequence[float], within: float) -> float | None:
    """Return the mean of the values that most agree on, the plainer one where two tie."""
    if not values:
        return None
    table = np.array(values)
    near = np.abs(table[:, None] - table[None, :]) <= within
    many = near.sum(axis=1)
    best = max(range(len(table)), key=lambda n: (many[n], -len(f"{table[n]:.6g}")))
    return float(table[near[best]].mean())
