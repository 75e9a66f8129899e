"""Whether a drawing tells which values it was drawn with, from the construction by hand alone.

A drawing does not decide between the planted set of wrong values and another set when that other
set gives every stroke that the drawing shows exactly, in some place and turn, and is not longer:

- strokes that are missing or moved show nothing; where a planted value can then be exchanged for
  others (or left at the paper's), without more of them, there is no deciding;
- a moved hole may be where other values put it: where they and the planted ones together are no
  more than the planted ones and the move, there is no deciding either;
- values that together show in fewer strokes than they are (both places of a lone hole) may as well
  be that stroke drawn wrong by itself.

A value that goes unnoticed, and the two sides of one that only turns the whole part, are cases of
the first kind: place and turn are free here.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from itertools import combinations

import numpy as np

from tests.hand_ins.local_faults import Spoiled
from tests.hand_ins.strokes import Plate, Ring, Straight, Stroke
from tests.hand_ins.written_paper import Paper, Values

SAME = 1e-7
"""Of the size: strokes nearer than this are reproduced exactly."""
STEPS = 15
"""Most steps of Newton's method; what is no answer stands still long before."""
CHANGED = 1e-6
"""Of a value: changed by more than this is changed."""


def numbers(plate: Plate, hidden: Collection[str] = ()) -> tuple[np.ndarray, np.ndarray]:
    """All places of the strokes that are shown, one after the other, and the radii of rings."""
    shown = [stroke for stroke in plate.strokes if stroke.name not in hidden]
    rings = [stroke for stroke in shown if isinstance(stroke, Ring)]
    return (np.array([z for stroke in shown for z in stroke.numbers]),
            np.array([ring.radius for ring in rings]))


class Riddle:
    """The question which values give the strokes that a drawing shows."""

    def __init__(self, paper: Paper, shown: Plate, hidden: Collection[str]) -> None:
        self.paper, self.hidden = paper, hidden
        self.places, self.radii = numbers(shown, hidden)
        self.size = paper.plate.size

    def off(self, values: Values, pose: np.ndarray) -> np.ndarray:
        """How far the strokes with some values, turned and moved, are from those shown."""
        places, radii = numbers(self.paper.drawn(values), self.hidden)
        places = places * np.exp(1j * pose[0]) + complex(pose[1], pose[2]) * self.size
        off = places - self.places
        return np.concatenate([off.real, off.imag, radii - self.radii]) / self.size

    def jacobian(self, facts: Sequence[str], at: Values, pose: np.ndarray) -> np.ndarray:
        """Derivatives by each fact in shares of the paper's amount, then by turn and place."""
        tiny, columns = 1e-6, []
        for name in facts:
            was = self.paper.amount(name)
            now, step = at.get(name, was), tiny * abs(was)
            columns.append(self.off({**at, name: now + step}, pose)
                           - self.off({**at, name: now - step}, pose))
        for step in tiny * np.eye(3):
            columns.append(self.off(at, pose + step) - self.off(at, pose - step))
        return np.array(columns).T / (2.0 * tiny)

    def answered(self, facts: Sequence[str], start: Values) -> dict[str, float] | None:
        """Values of some facts that give what is shown, the others as on paper; None if none do."""
        at = {name: start.get(name, self.paper.amount(name)) for name in facts}
        pose = np.zeros(3)
        try:
            worst = np.inf
            for _ in range(STEPS):
                off = self.off(at, pose)
                worst, before = np.abs(off).max(), worst
                if worst < SAME:
                    return at
                if worst > 0.9 * before:
                    return None
                step = np.linalg.lstsq(self.jacobian(facts, at, pose), -off, rcond=1e-9)[0]
                for name, share in zip(facts, step, strict=False):
                    at[name] += share * abs(self.paper.amount(name))
                pose += step[len(facts):]
        except (ValueError, ZeroDivisionError, np.linalg.LinAlgError):
            return None
        return None


def changed(paper: Paper, answer: Values) -> set[str]:
    """Facts that an answer takes otherwise than the paper."""
    return {name for name, amount in answer.items()
            if abs(amount - paper.amount(name)) > CHANGED * abs(paper.amount(name))}


def facts_of(paper: Paper) -> list[str]:
    """All dimensions, and the parameters that carry more than one of them."""
    return [*paper.values, *(p.name for p in paper.parameters if len(p.carries) > 1)]


def rival(paper: Paper, planted: Values, spoiled: Spoiled) -> str:
    """What explains a drawing as well as the planted values, in words; empty if nothing does."""
    plate = paper.drawn(planted)
    alone = _seen_in_few(paper, planted, plate, spoiled.hides)
    if alone:
        return alone
    dims = list(paper.values)
    spelled = paper.spelled(planted)
    if spoiled.elsewhere is not None:
        whole = Riddle(paper, spoiled.elsewhere, ())
        answer = whole.answered(dims, spelled)
        if answer is not None:
            named = _as_few(paper, answer)
            if len(named) <= len(planted) + 1:
                return f"{', '.join(sorted(named))} instead of the move"
    riddle = Riddle(paper, plate, spoiled.hides)
    jacobian = riddle.jacobian(dims, spelled, np.zeros(3))
    _, s, v = np.linalg.svd(jacobian)
    rank = int((s > 1e-6 * s[0]).sum())
    free = np.abs(v[rank:]).max(axis=0, initial=0.0)[:len(dims)] > 1e-6
    open_ = {name for name, loose in zip(dims, free, strict=True) if loose}
    if not open_ & set(spelled):
        return ""
    facts = _facts(paper, planted)
    # what is shown holds the others of the planted ones where they are
    held = {name for name in facts if not open_ & _carried(paper, name)}
    others = [name for name in facts_of(paper) if name not in held
              and _carried(paper, name) <= open_ | set(spelled) and open_ & _carried(paper, name)]
    for many in range(len(facts) - len(held) + 1):
        for chosen in combinations(others, many):
            names = held | set(chosen)
            if names != facts and riddle.answered(sorted(names), planted) is not None:
                return ", ".join(sorted(names)) or "nothing"
    return ""


def _seen_in_few(paper: Paper, planted: Values, plate: Plate, hidden: Collection[str]) -> str:
    """Planted values that show in fewer strokes than they are."""
    for many in range(2, len(planted) + 1):
        for left in combinations(planted, many):
            try:
                other = paper.drawn({n: a for n, a in planted.items() if n not in left})
            except (ValueError, ZeroDivisionError):
                continue
            off = [now.name for now, was in zip(plate.strokes, other.strokes, strict=True)
                   if now.name not in hidden and _leaves(now, was) > SAME * paper.plate.size]
            if len(off) < many:
                return f"{', '.join(off)} by itself"
    return ""


def _leaves(now: Stroke, was: Stroke) -> float:
    """How far a stroke leaves the line or circle of another."""
    if isinstance(now, Straight):
        assert isinstance(was, Straight)
        way = (was.end - was.start) / abs(was.end - was.start)
        return max(abs(((z - was.start) / way).imag) for z in (now.start, now.end))
    assert not isinstance(was, Straight)
    return max(abs(now.center - was.center), abs(now.radius - was.radius))


def _carried(paper: Paper, name: str) -> set[str]:
    """The dimensions that a fact is about."""
    return set(paper.carried.get(name, (name,)))


def _facts(paper: Paper, planted: Values) -> set[str]:
    """Planted names; a parameter that carries one dimension is that dimension."""
    return {next(iter(carried)) if len(carried := _carried(paper, name)) == 1 else name
            for name in planted}


def _as_few(paper: Paper, answer: Values) -> set[str]:
    """The facts that an answer by dimensions changes, those that go with a parameter as one."""
    names = changed(paper, answer)
    for parameter in paper.parameters:
        if len(parameter.carries) > 1 and set(parameter.carries) <= names:
            amounts = [(answer[name] - rest) / factor
                       for name, (factor, rest) in parameter.carries.items()]
            if max(amounts) - min(amounts) <= CHANGED * parameter.amount:
                names = names - set(parameter.carries) | {parameter.name}
    return names
