"""Clean-up: a list of what is left over, doubled or not quite joined, each shown before it goes."""

from __future__ import annotations

from math import dist
from typing import TYPE_CHECKING

from sketcher.board.preview import Mark, Pointer, Preview, Word
from sketcher.board.steps.bench import Bench
from sketcher.board.toolkit.tool_base import Tool
from sketcher.board.toolkit.trial import Trial
from sketcher.errors import SketcherError
from sketcher.part.edited import Edited

if TYPE_CHECKING:
    from sketcher.inspect.mend import Defect, MendStep


class CleanUpTool(Tool):
    """Goes through the defects of the outline; mends one, or all whose mend is sure."""

    name = "clean up"
    label = "Clean up"
    hint = ("Finds leftovers, doubled and overlapping pieces, bits without length, ends that "
            "nearly meet and strays, and shows what would mend each.")
    key = "Shift+U"
    group = "shape"
    lets_sheet_move = True  # its list takes room of the sheet

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.defects: tuple[Defect, ...] = ()
        self.looking = self.stopped = False
        self.at = 0
        self._trial = Trial(bench)

    def begin(self) -> None:
        """Look for defects."""
        self.refresh()

    def refresh(self) -> None:
        """Look again; the place in the list stays."""
        from sketcher.board.mending.cleanup_trials import look

        self.defects, self.looking, self.stopped = (), True, False
        look(self.bench, self._take)

    def _take(self, defects: tuple[Defect, ...] | None) -> None:
        self.looking, self.stopped = False, defects is None
        self.defects = defects or ()
        self.at = min(self.at, max(len(self.defects) - 1, 0))
        self.bench.show_again()

    # What it says.

    @property
    def chosen(self) -> Defect | None:
        """The defect that is shown; None when there is none."""
        return self.defects[self.at] if self.defects else None

    @property
    def prompt(self) -> str:
        """The defect that is shown, and what can be done."""
        defect = self.chosen
        if self.looking:
            return "Looking for what is left over, doubled or almost joined."
        if self.stopped:
            return "Nobody has looked to the end: it was stopped. Enter looks again."
        if defect is None:
            return "Nothing to clean up: nothing is left over, doubled or almost joined."
        trouble = self.trouble()
        head = f"{self.at + 1} of {len(self.defects)}: {defect.text}."
        if trouble:
            return f"{head} {trouble} Tab goes on."
        other = f" {defect.other.offer}: O." if defect.other is not None else ""
        return f"{head} {defect.offer}: Enter.{other} Tab goes on, A mends all that are sure."

    def trouble(self) -> str:
        """Why the defect that is shown cannot be mended here; empty when it can."""
        defect = self.chosen
        if defect is None or defect.step is None:
            return "Only you can tell what was meant."
        outcome = self._outcome(defect.step)
        return f"Not by itself: {outcome.problem}." if isinstance(outcome, SketcherError) else ""

    def _outcome(self, step: MendStep) -> Edited | SketcherError:
        from sketcher.board.mending.cleanup_trials import mended

        report = self.bench.report
        return self._trial.of(step, lambda part: mended(self.bench, part, step, report))

    @property
    def preview(self) -> Preview:
        """What would leave and what would come; a sign at every other defect."""
        defect = self.chosen
        if defect is None:
            return Preview()
        marks = tuple(Mark(d.at, "handle") for d in self.defects if d is not defect)
        shown = Preview((), (*marks, Mark(defect.at, "start")), (Word(defect.at, defect.text),),
                        lit=defect.ids)
        if defect.step is None or isinstance(self._outcome(defect.step), SketcherError):
            return shown
        return Preview(self._trial.ghosts) + shown

    # Events.

    def choose(self, number: int) -> None:
        """Show another defect of the list."""
        if self.defects:
            self.at = number % len(self.defects)

    def press(self, pointer: Pointer) -> None:
        """Show the defect at the pointer."""
        near = [(dist(d.at, pointer.at), k) for k, d in enumerate(self.defects)]
        if near and min(near)[0] <= 2.0 * pointer.reach:
            self.choose(min(near)[1])

    def type_key(self, name: str) -> bool:
        """Take Tab and Backspace (next, before), Enter and O (mend this one), A (mends all)."""
        if name in ("tab", "backspace") and self.defects:
            self.choose(self.at + (1 if name == "tab" else -1))
        elif name == "enter" and self.stopped:
            self.refresh()
        elif name == "enter":
            self.mend()
        elif name == "o" and self.defects:
            self.mend_otherwise()
        elif name == "a":
            self.mend_all()
        else:
            return False
        return True

    def mend(self) -> bool:
        """Mend the defect that is shown; return whether the part changed."""
        defect = self.chosen
        if defect is None:
            return False
        step = defect.step
        if step is None:
            self.bench.say(f"{defect.text}: only you can tell what was meant.")
            return False
        return self._mend_by(step, defect.offer)

    def mend_otherwise(self) -> bool:
        """Mend the defect that is shown in its other way; return whether the part changed."""
        other = self.chosen.other if self.chosen is not None else None
        return other is not None and self._mend_by(other.step, other.offer)

    def _mend_by(self, step: MendStep, offer: str) -> bool:
        self._trial.ask_again()
        self._outcome(step)
        done = self.bench.do(offer, self._trial.committed)
        self.refresh()
        return done.done

    def mend_all(self) -> bool:
        """Mend all that can be mended without a doubt, in one step."""
        from sketcher.board.mending.cleanup_trials import all_mended

        done = self.bench.do("Clean up", lambda part: all_mended(self.bench))
        self.refresh()
        return done.done


TOOL = CleanUpTool
