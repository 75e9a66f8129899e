"""Plays a construction: where it stands, what is seen there, and how it goes on.

What a picture costs depends on the step at hand alone: what was drawn before it stays as it is.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate

from sketcher.board.teaching.beats import Beat
from sketcher.board.teaching.telling import Passage, Told, told
from sketcher.lesson.order_step import OrderStep
from sketcher.part.value import Part

SPEEDS = (0.5, 1.0, 2.0, 4.0, 8.0)
"""How many times quicker than the plain speed."""
SLACK = 1e-9
"""Seconds that rounding may be off."""


@dataclass(frozen=True, slots=True)
class LessonView:
    """What is seen at one moment.

    Parameters
    ----------
    done : int
        How many beats are drawn; helpers among them are seen only while their step is at hand.
    fresh : int
        The first of them that belongs to the step at hand.
    beat : Beat or None
        What is being drawn; None at rest.
    share : float
        How much of its time is over.
    helpers : tuple of Beat
        Helpers that are seen, of this step and of those before.
    names : tuple of str
        What the sentence speaks of.
    """

    done: int
    fresh: int
    beat: Beat | None
    share: float
    helpers: tuple[Beat, ...]
    names: tuple[str, ...]


class LessonPlay:
    """A construction and where it stands.

    Parameters
    ----------
    part : Part
        Solved.
    steps : sequence of OrderStep
        At least one.
    """

    def __init__(self, part: Part, steps: Sequence[OrderStep]) -> None:
        self.part = part
        self.steps = tuple(steps)
        self.at = 0.0
        self.speed = 1.0
        self.plays = False
        self._rest_at: float | None = None
        self._by_hand = False
        self._tellings: dict[bool, TimedTelling] = {}

    # Where it stands.

    @property
    def by_hand(self) -> bool:
        """Whether the hand moves are told."""
        return self._by_hand

    @property
    def has_moves(self) -> bool:
        """Whether any step has moves to be told."""
        return any(step.moves for step in self.steps)

    @property
    def telling(self) -> TimedTelling:
        """What is told, with its times."""
        return self._told(self._by_hand)

    @property
    def told_by_steps(self) -> TimedTelling:
        """The telling of the steps alone."""
        return self._told(False)

    def _told(self, by_hand: bool) -> TimedTelling:
        if by_hand not in self._tellings:
            self._tellings[by_hand] = TimedTelling(told(self.part, self.steps, by_hand))
        return self._tellings[by_hand]

    @property
    def number(self) -> int:
        """Which step is at hand, from 1."""
        return self.passage.step + 1

    @property
    def step(self) -> OrderStep:
        """The step at hand."""
        return self.steps[self.passage.step]

    @property
    def draws_new(self) -> bool:
        """Whether the step at hand draws anything new, and does not only go over what is there."""
        return bool(self.step.points) or any(
            self._first[name] == self.passage.step for name in self.step.curves)

    @cached_property
    def _first(self) -> dict[str, int]:
        """Which step names a curve first."""
        found: dict[str, int] = {}
        for number, step in enumerate(self.steps):
            for name in step.curves:
                found.setdefault(name, number)
        return found

    @property
    def passage(self) -> Passage:
        """The sentence at hand."""
        return self.telling.passages[self._place]

    @property
    def is_over(self) -> bool:
        """Whether all is drawn and said."""
        return self.at >= self.telling.ends[-1] - SLACK

    @property
    def is_drawn(self) -> bool:
        """Whether all of the sentence at hand is drawn."""
        return self.at >= self.telling.drawn[self._place] - SLACK

    @property
    def _place(self) -> int:
        return self.telling.passage_at(self.at)

    def view(self) -> LessonView:
        """Return what is seen."""
        telling, passage = self.telling, self.passage
        index, share = telling.beat_at(self.at, passage)
        fresh = telling.firsts[passage.step]
        beats = telling.beats
        helpers = [beats[k] for k in telling.revived[passage.step]]
        helpers += [beat for beat in beats[fresh:index] if beat.weight == "helper"]
        now = beats[index] if index < passage.last and share > 0.0 else None
        return LessonView(index, fresh, now if now is not None and now.name else None, share,
                          tuple(helpers), passage.names)

    # Going on.

    def tick(self, seconds: float) -> bool:
        """Let time go by while it plays; return whether anything is different."""
        if not self.plays:
            return False
        self.at += seconds * self.speed
        end = self.telling.ends[-1]
        until = end if self._rest_at is None else self._rest_at
        if self.at >= until:
            self.at, self.plays, self._rest_at = until, False, None
        return True

    def toggle(self) -> None:
        """Play on, from the begin where all is over; or rest."""
        if self.plays:
            self.rest()
        else:
            if self.is_over:
                self.at = 0.0
            self.plays, self._rest_at = True, None

    def rest(self) -> None:
        """Stand still."""
        self.plays, self._rest_at = False, None

    def onward(self) -> None:
        """Draw the next sentence and rest; at once where it is being drawn already."""
        telling, place = self.telling, self._place
        begun = self.plays or self.at - telling.begins[place] > SLACK
        if begun and not self.is_drawn:
            self.rest()
            self.at = telling.drawn[place]
            return
        if self.is_drawn:
            if place + 1 == len(telling.passages):
                self.rest()
                self.at = telling.ends[-1]
                return
            place += 1
            self.at = telling.begins[place]
        self.plays, self._rest_at = True, telling.drawn[place]

    def back(self) -> None:
        """Go to the begin of the sentence, or from there to that before; and rest."""
        self.rest()
        place = self._place
        begins = self.telling.begins
        if self.at <= begins[place] + SLACK and place > 0:
            place -= 1
        self.at = begins[place]

    def go_to(self, number: int) -> None:
        """Rest before a step, from 1; past the last one where all is drawn."""
        self.rest()
        if number > len(self.steps):
            self.at = self.telling.ends[-1]
        else:
            self.at = self.telling.begin_of(max(1, number) - 1)

    def finish_step(self) -> None:
        """Rest where all of the step at hand is drawn."""
        self.rest()
        telling, step = self.telling, self.passage.step
        self.at = max(drawn for passage, drawn in zip(telling.passages, telling.drawn, strict=True)
                      if passage.step == step)

    def show_hand(self, by_hand: bool) -> None:
        """Tell the hand moves, or the steps alone, from the step at hand."""
        if by_hand != self._by_hand:
            over, step = self.is_over, self.passage.step
            self.rest()
            self._by_hand = by_hand
            self.at = self.telling.ends[-1] if over else self.telling.begin_of(step)


class TimedTelling:
    """A telling with its times, counted at the plain speed."""

    def __init__(self, telling: Told) -> None:
        self.beats = telling.beats
        self.passages = telling.passages
        self.revived = telling.revived
        self._begins = [0.0, *accumulate(beat.lasts for beat in self.beats)]
        self.begins = [self._begins[passage.first] for passage in self.passages]
        self.drawn = [self._begins[passage.last - 1] for passage in self.passages]
        self.ends = [self._begins[passage.last] for passage in self.passages]

    @cached_property
    def firsts(self) -> dict[int, int]:
        """First beat of each step."""
        found: dict[int, int] = {}
        for passage in self.passages:
            found.setdefault(passage.step, passage.first)
        return found

    @cached_property
    def _drawn_at(self) -> dict[str, list[int]]:
        found: dict[str, list[int]] = {}
        for index, beat in enumerate(self.beats):
            found.setdefault(beat.name, []).append(index)
        return found

    def known(self, name: str, done: int) -> Beat | None:
        """Return how a thing is drawn when `done` beats are; None where it is not there yet."""
        places = self._drawn_at.get(name, [])
        at = bisect_right(places, done - 1)
        return self.beats[places[at - 1]] if at else None

    def begin_of(self, step: int) -> float:
        """Return when a step begins."""
        return self._begins[self.firsts[step]]

    def begin_of_beat(self, index: int) -> float:
        """Return when a beat begins."""
        return self._begins[index]

    def passage_at(self, at: float) -> int:
        """Return which sentence is said at a time."""
        return max(0, min(bisect_right(self.begins, at + SLACK), len(self.passages)) - 1)

    def beat_at(self, at: float, passage: Passage) -> tuple[int, float]:
        """Return which beat of a passage goes on at a time, and its share of time that is over."""
        low, high = passage.first, passage.last
        index = max(bisect_right(self._begins, at + SLACK, low, high + 1) - 1, low)
        if index >= high:
            return high, 0.0
        beat = self.beats[index]
        return index, min(1.0, max(0.0, (at - self._begins[index]) / beat.lasts))
