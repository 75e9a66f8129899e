"""Bases of the shape tools: point at what is meant, see what would change, press."""

from __future__ import annotations

from collections.abc import Hashable
from math import dist
from typing import ClassVar

from sketcher.board.places.pending_bindings import Typed, read_typed
from sketcher.board.preview import Pointer, Preview, Word
from sketcher.board.readout.readout_content import row
from sketcher.board.readout.row import Row
from sketcher.board.steps.bench import Bench
from sketcher.board.toolkit.tool_base import Tool
from sketcher.board.toolkit.trial import Proposal, Trial
from sketcher.errors import SketcherError
from sketcher.geometry.curves import XY
from sketcher.part.curve_questions import ends_of
from sketcher.part.edited import Edited

Question = tuple[Hashable, Proposal]
STAYS = 0.5
"""Reaches that the pointer must travel after an edit before another one is proposed: a hand
that lets the button go shifts the pointer by a pixel or two of the reach's ten or so."""


class ShapeTool(Tool):
    """A tool whose press is one edit of the part.

    A subclass says which edit a press would make now (`question`) and what values it takes
    (`takes`). What was typed stays ready for the next place, and for the next time that the tool is
    taken in hand.
    """

    group = "shape"
    takes: ClassVar[tuple[tuple[str, str], ...]] = ()
    step: ClassVar[str] = ""

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.pointer: Pointer | None = None
        self.trial = Trial(bench)
        self._made_at: Pointer | None = None  # where the pointer has rested since the last edit
        self._anew: list[str] = []  # rows typed since the last edit: what Escape takes back first

    # What a subclass says.

    def question(self) -> Question | None:
        """Return the edit that would be made now, and what tells it from others."""
        return None

    def lit(self) -> tuple[str, ...]:
        """Return the ids that are chosen or meant."""
        return ()

    def is_begun(self) -> bool:
        """True when something was chosen that Escape lets go."""
        return False

    def restart(self) -> None:
        """Let go what was chosen."""

    def done(self, made: Edited) -> None:
        """Go on after the edit was made."""
        self.restart()

    # Values.

    @property
    def typed(self) -> dict[str, Typed]:
        """The values as typed, by row."""
        return self.bench.lasting.setdefault(self.name, {})

    def rows(self) -> tuple[Row, ...]:
        """Return the values that the tool takes."""
        return tuple(
            row(self.bench, name, self.typed[name].amount if name in self.typed else None,
                self.typed.get(name), True, quantity)
            for name, quantity in self.takes
        )

    def hold(self, row: str, text: str) -> bool:
        """Take a typed value."""
        quantity = dict(self.takes).get(row)
        if quantity is None:
            return False
        bench = self.bench
        values = bench.derived.values()
        self.know(row, read_typed(text, quantity, bench.part, bench.shown_unit, values))
        return True

    def know(self, row: str, typed: Typed) -> None:
        """Keep a typed value for this edit and the next ones."""
        self.typed[row] = typed
        self._anew = [*(n for n in self._anew if n != row), row]

    def take_typed(self) -> None:
        """Make the edit, or say what it still needs; the value is kept."""
        if self.question() is None:
            self.bench.say(self.prompt)
        else:
            super().take_typed()

    def let_go(self, row: str) -> bool:
        """Forget a typed value."""
        return self.typed.pop(row, None) is not None

    # Showing.

    def outcome(self) -> Edited | SketcherError | None:
        """Return what the edit would make, or why it cannot be made; None without an edit."""
        asked = self.question()
        return None if asked is None else self.trial.of(*asked)

    @property
    def preview(self) -> Preview:
        """What would leave and what would come; beside the pointer, why it cannot be.

        Nothing right after an edit: what it made lies under the pointer and is to be seen.
        """
        if self._made_at is not None:
            return Preview()
        found = self.outcome()
        if found is None:
            return Preview(lit=self.lit())
        if isinstance(found, SketcherError):
            at = self.pointer.at if self.pointer is not None else (0.0, 0.0)
            return Preview(words=(Word(at, self._in_words(found)),), lit=self.lit())
        return Preview(self.trial.ghosts, lit=self.lit())

    def _in_words(self, error: SketcherError) -> str:
        """Return why it cannot be done; the geometry knows no names, so they are put in here."""
        names = self.lit()
        if error.place != "curves" or not names:
            return error.problem
        return f"{' and '.join(names)} {error.problem}"

    # Events.

    def move(self, pointer: Pointer) -> None:
        """Look at what is under the pointer."""
        self.pointer = pointer
        rested = self._made_at
        if rested is not None and dist(rested.at, pointer.at) > STAYS * pointer.reach:
            self._made_at = None

    def press(self, pointer: Pointer) -> None:
        """Make the edit."""
        self.pointer = pointer
        self.make()

    def make(self, merge: str | None = None) -> bool:
        """Make the edit; what goes wrong is told. Return whether the part changed.

        `merge` is the key of the step, for one that may be made anew; see `Bench.do`.
        """
        asked = self.question()
        if asked is None:
            return False
        made = self.trial.of(*asked)
        done = self.bench.do(self.step or self.label, self.trial.committed, merge).done
        if done and isinstance(made, Edited):
            self._anew = []
            self._made_at = self.pointer
            self.done(made)
        return done

    def type_key(self, name: str) -> bool:
        """Take Enter (makes the edit) and Escape (lets go)."""
        if name == "enter":
            return self.make()
        if name in ("escape", "backspace"):
            return self.one_back()
        return False

    def one_back(self) -> bool:
        """Let the value typed last go, else what was chosen last; return whether there was one."""
        if self._anew:
            self.let_go(self._anew.pop())
            return True
        begun = self.is_begun()
        self.choose_less()
        return begun

    def choose_less(self) -> None:
        """Let what was chosen last go."""
        self.restart()

    def refresh(self) -> None:
        """Let go what is no longer there."""
        part = self.bench.part
        if any(name not in part.curves and name not in part.points for name in self.lit()):
            self.restart()

    # Pointing.

    def curve_at(self, pointer: Pointer | None) -> tuple[str, XY] | None:
        """Return the drawn curve under the pointer and the place on it."""
        if pointer is None:
            return None
        picker = self.bench.derived.picker()
        found = picker.nearest_curve(pointer.at, pointer.reach, drawn_only=True)
        return None if found is None else (found.id, found.at)

    def nothing(self, pointer: Pointer, wanted: str) -> str:
        """Return why a press meant nothing: no curve is there, or only the image of one."""
        found = self.bench.derived.picker().nearest_curve(pointer.at, pointer.reach)
        if found is None or found.drawn:
            return f"No curve is there: {wanted}."
        what = "a reflection" if found.reflected else "a repeat"
        return f"That is {what} of {found.source}, which follows it: {wanted} where it is drawn."


class TwoCurvesTool(ShapeTool):
    """A tool that works on two curves: press one after the other, or the corner that they share."""

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.picked: tuple[tuple[str, XY | None], ...] = ()

    def begin(self) -> None:
        """Take two selected curves."""
        names = self.bench.selection.curves(self.bench.part)
        if len(names) == 2:
            self.picked = tuple((name, None) for name in names)

    def is_begun(self) -> bool:
        """True when a curve was chosen."""
        return bool(self.picked)

    def restart(self) -> None:
        """Choose afresh."""
        self.picked = ()

    def choose_less(self) -> None:
        """Let the curve chosen last go, or both where one press chose their corner."""
        corner = len(self.picked) == 2 and self.picked[0][1] == self.picked[1][1]
        self.picked = () if corner else self.picked[:-1]

    def pair(self) -> tuple[tuple[str, XY | None], tuple[str, XY | None]] | None:
        """Return the two curves that are chosen, or meant by the pointer, with the places."""
        if len(self.picked) == 2:
            return self.picked[0], self.picked[1]
        found = None if self.pointer is None else self._meant(self.pointer)
        if found is None or len(found) + len(self.picked) < 2:
            return None
        one, other = (*self.picked, *found)[-2:]
        return None if one[0] == other[0] else (one, other)

    def lit(self) -> tuple[str, ...]:
        """Return what is chosen and what the pointer means."""
        found = () if self.pointer is None or len(self.picked) == 2 else self._meant(self.pointer)
        return tuple(dict.fromkeys(name for name, _ in (*self.picked, *(found or ()))))

    def near(self) -> XY | None:
        """Return the place that picks one of several corners; None where there is only one."""
        pair = self.pair()
        if pair is None:
            return None
        (a, at_a), (b, at_b) = pair
        curves = self.bench.part.curves
        shared = set(ends_of(curves[a])) & set(ends_of(curves[b]))
        if len(shared) == 1 or at_a is None or at_b is None:
            return None
        return (0.5 * (at_a[0] + at_b[0]), 0.5 * (at_a[1] + at_b[1]))

    def _meant(self, pointer: Pointer) -> tuple[tuple[str, XY | None], ...] | None:
        """Return the curve under the pointer, or the two that end in the point under it."""
        corner = None if self.picked else self._corner(pointer)
        if corner is not None:
            return corner
        found = self.curve_at(pointer)
        return None if found is None else (found,)

    def _corner(self, pointer: Pointer) -> tuple[tuple[str, XY | None], ...] | None:
        part = self.bench.part
        for pick in self.bench.derived.picker().points_near(pointer.at, pointer.reach):
            for role in ("outline", "layout"):
                names = [n for n, c in part.curves.items()
                         if c.role == role and pick.id in ends_of(c)]
                if len(names) == 2:
                    return tuple((name, pick.at) for name in names)
        return None

    def press(self, pointer: Pointer) -> None:
        """Choose a curve or a corner; the second curve makes the edit."""
        self.pointer = pointer
        found = self._meant(pointer)
        if len(self.picked) == 2:
            if found is None or {name for name, _ in found} <= {name for name, _ in self.picked}:
                self.make()
                return
            self.restart()
            found = self._meant(pointer)
        if found is None:
            self.bench.say(self.nothing(pointer, "press one of the two curves, or their corner"))
            return
        if self.picked and found[0][0] == self.picked[0][0]:
            self.bench.say("This curve is chosen already: press the other one.")
            return
        self.picked = (*self.picked, *found)
        if len(self.picked) == 2:
            self.chosen()

    def chosen(self) -> None:
        """Go on once both curves are chosen: make the edit where nothing has to be typed."""
        if self.question() is not None and not self.make() and not self.takes:
            self.restart()  # with a value to type, another one may fit
