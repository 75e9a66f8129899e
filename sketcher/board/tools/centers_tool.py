"""Center lines by hand: pull an end, switch one off or on, take a change back."""

from __future__ import annotations

from functools import partial
from math import dist

from sketcher.board.dimensions.shown_center_lines import (
    CenterLine,
    as_computed,
    center_lines,
    end_at,
    is_changed,
    line_at,
    pull,
    switch,
)
from sketcher.board.job import Job
from sketcher.board.preview import Ghost, Mark, Pointer, Preview, Word
from sketcher.board.steps.bench import Bench
from sketcher.board.toolkit.tool_base import Tool
from sketcher.part.value import Part

BEGINS = 0.5  # reaches that the pointer must travel before a press becomes a pull


def lines_to_pull(part: Part) -> tuple[CenterLine, ...]:
    """Return all center lines with what their ends can be pulled to."""
    return center_lines(part, pulls=True)


class CentersTool(Tool):
    """Changes single center lines of the finished drawing; the geometry stays."""

    name = "centers"
    label = "Center lines"
    hint = ("Pull an end of a center line to another hole or slot, past an axis, past the outline, "
            "or back to its center; press a line to switch it off or on. The end keeps to what you "
            "pull it to. Backspace over a line takes your changes back.")
    ask = "Pull an end of a center line to what it belongs to, or press a line to switch it."
    key = "Shift+A"
    group = "draw"

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self._asked: Part | None = None
        self._lines: tuple[Part, tuple[CenterLine, ...]] | None = None
        self._waits = self._lost = False
        self._here: Pointer | None = None
        self._pressed: Pointer | None = None
        self._grip: tuple[CenterLine, str] | None = None
        self._trial: tuple[Part, str] | None = None

    # What it knows.

    @property
    def lines(self) -> tuple[CenterLine, ...]:
        """All center lines of the part as it stands, or as the pull makes it.

        Where they take long they are made elsewhere: none until then, while a pull goes on those
        of its last place that are known.
        """
        part = self.bench.part if self._trial is None else self._trial[0]
        if self._asked is not part:
            self._asked = part
            self._waits = self._lost = False
            if self._lines is None or self._lines[0] is not part:
                self.bench.worker.start(
                    Job("Center lines", lines_to_pull, (part,), self.bench.derived.quick),
                    partial(self._know, part), partial(self._lose, part),
                )
                self._waits = self._lines is None or self._lines[0] is not part
        if self._lines is None or (self._trial is None and self._lines[0] is not part):
            return ()
        return self._lines[1]

    def _know(self, part: Part, lines: tuple[CenterLine, ...]) -> None:
        if part is not self._asked:
            return
        self._lines = (part, lines)
        if self._waits:
            self._waits = False
            self.bench.show_again()

    def _lose(self, part: Part, error: BaseException) -> None:
        self.bench.notices.tell_failed(error)
        if part is self._asked:
            self._waits, self._lost = False, True
            self.bench.show_again()

    @property
    def prompt(self) -> str:
        """What can be done."""
        if self._trial is not None:
            return f"{self._trial[1]}. Let go to keep it, Esc to go back."
        if not self.lines:
            if self._waits:
                return "The center lines are being worked out."
            if self._lost:
                return "The center lines were not worked out: it was stopped. Enter begins again."
            return "There is no center line yet: draw a hole, an arc or an axis."
        return self.opening

    def pointed(self) -> CenterLine | None:
        """Return the line under the pointer."""
        if self._grip is not None:
            return next((n for n in self.lines if n.id == self._grip[0].id), None)
        if self._here is None:
            return None
        found = end_at(self.lines, self._here.at, self._here.reach)
        return found[0] if found else line_at(self.lines, self._here.at, self._here.reach)

    @property
    def preview(self) -> Preview:
        """Every line with its ends; what is off is dotted, what is pointed at has its name."""
        pointed = self.pointed()
        ghosts, marks, words = [], [], []
        for line in self.lines:
            if line.off or (pointed is not None and line.id == pointed.id) or (
                    self._trial is not None):
                mood = "leaves" if line.off else "new"
                ghosts += [Ghost(d, "layout", mood)  # type: ignore[arg-type]
                           for d in line.dashes]
            if not (line.off or line.closed):
                marks += [Mark(at, "handle") for at in (line.start, line.end)]
        if self._grip is not None:
            grip, end = self._grip
            marks += [Mark(stop.at, "free") for stop in grip.stops.get(end, ())]
        if pointed is not None and self._here is not None:
            told = self._trial[1] if self._trial is not None else (
                f"{pointed.words}{' (off)' if pointed.off else ''}")
            words.append(Word(self._here.at, told))
        return Preview(tuple(ghosts), tuple(marks), tuple(words))

    # Events.

    def begin(self) -> None:
        """Show the center lines, which this is about."""
        if not self.bench.settings["show_centers"]:
            self.bench.set_setting("show_centers", True)

    def press(self, pointer: Pointer) -> None:
        """Take hold of an end, or of a line."""
        self._pressed = self._here = pointer
        self._grip = end_at(self.lines, pointer.at, pointer.reach)

    def move(self, pointer: Pointer) -> None:
        """Point at a line, or pull the end that is held."""
        self._here = pointer
        if self._pressed is None or self._grip is None:
            return
        if self._trial is None and dist(pointer.at, self._pressed.at) <= BEGINS * pointer.reach:
            return
        line, end = self._grip
        stop = line.stop(end, pointer.at)
        if stop is not None:
            done = pull(self.bench.part, line, end, stop)
            self._trial = (done.part, done.said)

    def release(self, pointer: Pointer) -> None:
        """Keep the pull; a press without a motion switches the line."""
        pressed, grip, pulled = self._pressed, self._grip, self._trial
        self._stop()
        if pressed is None:
            return
        if pulled is not None and grip is not None:
            made = pulled[0]
            self.bench.do(f"Pull the {grip[0].words}", lambda part: made)
            return
        line = grip[0] if grip else line_at(self.lines, pressed.at, pressed.reach)
        if line is None:
            self.bench.say("No center line is under the pointer.")
        else:
            name = line.id
            self.bench.do(f"Switch the {line.words}", lambda part: switch(part, name))

    def type_key(self, name: str) -> bool:
        """Give a pull up with Escape; take the changes of a line back with Backspace."""
        if name == "escape" and self._pressed is not None:
            self._stop()
            return True
        if name == "enter" and self._lost:
            self._asked = None
            return True
        pointed = self.pointed()
        if name == "backspace" and pointed is not None:
            if is_changed(self.bench.part, pointed):
                self.bench.do(f"Reset the {pointed.words}",
                              lambda part: as_computed(part, pointed))
            else:
                self.bench.say(f"The {pointed.words} is as computed.")
            return True
        return False

    def leave(self) -> None:
        """Give a pull up."""
        self._stop()

    def refresh(self) -> None:
        """Give a pull up: what it began from is no longer there."""
        self._stop()

    def _stop(self) -> None:
        self._pressed = self._grip = self._trial = None


TOOL = CentersTool
