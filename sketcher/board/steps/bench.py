"""The part on the bench: the current value, its last solve, its history, and who listens.

Tools and actions work on a bench; the board adds the tool in hand and the readout's entry.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path

from sketcher.board.places.pending_bindings import Typed
from sketcher.board.places.selection import Selection
from sketcher.board.readout.zero import Zero
from sketcher.board.settings import Settings
from sketcher.board.steps.derived import Derived
from sketcher.board.steps.notices import Reason, Severity
from sketcher.board.steps.outcome import Outcome
from sketcher.board.steps.solver_cache import Solver, Solving, default_solver
from sketcher.errors import EditError, SketcherError
from sketcher.geometry.curves import XY
from sketcher.interrupt import Stopped
from sketcher.part.atomic import digest as digest_of
from sketcher.part.atomic import read_bytes
from sketcher.part.check import check_changes
from sketcher.part.edited import Edited
from sketcher.part.file_text import MAX_BYTES
from sketcher.part.history import History
from sketcher.part.node import MAX_NUMBER
from sketcher.part.value import CircleCurve, Part, Unit
from sketcher.solve.solve_report import Solution, SolveReport

Edit = Callable[[Part], Part | Edited]


class Bench(Derived):
    """Current part, report, history, selection and settings; the only place where they change.

    Parameters
    ----------
    part : Part, optional
        What to begin with; an empty part in the settings' unit when left out.
    settings : Settings, optional
        Defaults when left out.
    solver : callable, optional
        From a part to a `Solution`; the program's own solver when left out.
    """

    def __init__(
        self, part: Part | None = None, settings: Settings | None = None,
        solver: Solver = default_solver,
    ) -> None:
        self.settings = settings or Settings()
        super().__init__(part if part is not None else Part(unit=self.settings["unit"]))
        self.selection = Selection()
        self.hover: tuple[str, ...] = ()
        self.path: Path | None = None
        self.digest: str | None = None
        self.zero = Zero()
        self.shown_unit: Unit = self.part.unit
        self.lasting: dict[str, dict[str, Typed]] = {}  # values typed last, by tool and row
        self.solving = Solving(solver)
        self._moving: tuple[Part, SolveReport] | None = None
        if part is not None:
            solution = solver(part)
            self.part, self.report = solution.part, solution.report
        self.history = History(self.part)

    # Reading.

    def solve(self, part: Part) -> Solution:
        """Return the solution of a part; the last one asked for is remembered.

        Raises
        ------
        Stopped
            When it took long and the person thought better of it.
        """
        return self.solving.solved(part, Solution(self.part, self.report), self.worker)

    def try_out(self, part: Part) -> Solution:
        """Return the solution of a part that is only looked at, such as a way to mend a clash."""
        return self.solving.tried(part, self.worker)

    @property
    def is_changed(self) -> bool:
        """True when the part differs from what was saved last."""
        return not self.history.is_saved

    @property
    def finds_layout(self) -> bool:
        """Whether layout curves can be picked: what is hidden cannot."""
        return bool(self.settings["show_layout"])

    # Changing the part.

    def do(self, name: str, edit: Edit, merge: str | None = None) -> Outcome:
        """Make a step of an edit as `attempt` does, and tell why where it is refused."""
        with self.notices.held():
            outcome = self.attempt(name, edit, merge)
            if outcome.error is not None:
                self.say(str(outcome.error), "error", outcome.error.place)
        return outcome

    def attempt(self, name: str, edit: Edit, merge: str | None = None) -> Outcome:
        """Apply an edit, solve, push the result on the history and tell the listeners.

        Parameters
        ----------
        name : str
            Name of the step as undo shows it.
        edit : callable
            From a part to the next part, or to a value with `part`, `dropped` and `said`.
        merge : str, optional
            Steps with the same key that follow each other become one.

        Returns
        -------
        Outcome
            Whether the part changed, and why an edit was refused; the one who asks tells it.
            Bindings that clash are kept, with the last good geometry, and told.
        """
        if self.worker.waits_for:
            return Outcome(False, EditError(self.worker.waits_for, "goes on",
                                            "wait for it, or stop it"))
        with self.notices.held():
            self.restore()
            before, was = self.part, self.report
            try:
                result = edit(before)
                drawn = result if isinstance(result, Part) else result.part
                if drawn is before:
                    self._remark(result)
                    return Outcome(False)
                check_changes(before, drawn)
                solution = self.solve(drawn)
                check_reach(solution.part)
            except SketcherError as error:
                return Outcome(False, error)
            except Stopped:
                return Outcome(False, EditError(name, "stopped and taken back"))
            self.history.push(name, solution.part, merge)
            self._show(solution, "edit")
            self._tell_step(name, result, was)
        return Outcome(True)

    def undo(self) -> bool:
        """Go one step back; return whether there was one."""
        return self._go(False)

    def redo(self) -> bool:
        """Go one step forward again; return whether there was one."""
        return self._go(True)

    def _go(self, forward: bool) -> bool:
        history = self.history
        word, told = ("Redo", "Done again") if forward else ("Undo", "Undone")
        go, back = (history.redo, history.undo) if forward else (history.undo, history.redo)
        name = history.redo_name if forward else history.undo_name
        if self._is_waiting():
            return False
        with self.notices.held():
            self.restore()
            if name is None:
                self.say(f"Nothing to {word.lower()}.")
                return False
            part = go()
            try:
                solution = self.solve(part)
            except Stopped:
                back()
                return self._taken_back(f"{word} of {name}")
            self._show(solution, "redo" if forward else "undo", keep=part)
            self.say(f"{told}: {name}.", "done")
        return True

    def load(
        self, part: Part, path: Path | None = None, saved: bool = True, digest: str | None = None
    ) -> None:
        """Put another part on the bench with a history of its own.

        `saved` is False for a recovered part, which still has to be saved; `digest` is the
        fingerprint of the file's version that it came from, left out that of the file as it is.

        Raises
        ------
        Stopped
            When solving it took long and was stopped, or another job is waited for; the part that
            was there stays.
        """
        if self._is_waiting():
            raise Stopped
        solution = self.try_out(part)
        self._moving, before = None, self.part
        self.history = History(solution.part)
        self.solving = Solving(self.solving.solver)  # no step leads back to what it remembers
        if not saved:
            self.history.mark_unsaved()
        self.path, self.selection, self.zero = path, Selection(), Zero()
        self.digest = digest if digest is not None else fingerprint(path)
        self.shown_unit = part.unit
        self.lasting = {}
        self.part = before
        with self.notices.held():
            self._show(solution, "load")
            if not self._tell_trouble(SolveReport()) and self.part.doubts:
                self.say(*question(self.part))

    def mark_saved(self, path: Path, digest: str | None = None) -> None:
        """Note that the part as it stands is in a file; `digest` is the file's fingerprint."""
        self.path, self.digest = path, digest if digest is not None else fingerprint(path)
        self.history.mark_saved()
        self._notify("saved")

    # A gesture: many solutions, one step.

    def shift(self, solution: Solution) -> None:
        """Show a solution without a step in the history, as a drag goes on."""
        if self._moving is None:
            self._moving = (self.part, self.report)
        begun = self._moving[1]
        # A gesture changes no freedoms, so its solutions do not tell them.
        report = replace(solution.report, freedoms=begun.freedoms, loose=begun.loose,
                         doubled=begun.doubled, clashes=begun.clashes, states=begun.states)
        self._show(Solution(solution.part, report), "drag")

    def settle(self, name: str) -> bool:
        """Make one step of what was shifted; return whether anything was.

        What ends beyond the sheet goes back to where it began, and that is told.
        """
        if self._moving is None:
            return False
        begun, self._moving = self._moving, None
        if self.part is begun[0]:
            return False
        with self.notices.held():
            try:
                solution = self.solve(self.part)
                check_reach(solution.part)
            except SketcherError as error:
                self._show(Solution(*begun), "drag")
                self.say(str(error), "error", error.place)
                return False
            except Stopped:
                self._show(Solution(*begun), "drag")
                return self._taken_back(name)
            self.history.push(name, solution.part)
            self._show(solution, "edit")
            self.say(f"{name}.", "done")
        return True

    def restore(self) -> bool:
        """Go back to where the gesture began; return whether one went on."""
        if self._moving is None:
            return False
        begun, self._moving = self._moving, None
        self._show(Solution(*begun), "drag")
        return True

    # Selection, zero, unit.

    def select(self, names: Iterable[str]) -> None:
        """Select these alone."""
        self._select(self.selection.only(names))

    def toggle(self, names: Iterable[str]) -> None:
        """Select what was not, and let go what was."""
        self._select(self.selection.toggled(names))

    def _select(self, selection: Selection) -> None:
        selection = selection.living(self.part)
        if selection != self.selection:
            self.selection = selection
            self._notify("selection")

    def set_zero(self, zero: Zero) -> None:
        """Measure X and Y from another place."""
        self.zero = zero
        self._notify("settings")

    def show_unit(self, unit: Unit) -> None:
        """Show lengths in mm or in inches; the part keeps its own unit."""
        self.shown_unit = unit
        self._notify("settings")

    def set_setting(self, name: str, value: object) -> bool:
        """Change a setting; a value that does not fit is told and changes nothing."""
        try:
            self.settings[name] = value
        except SketcherError as error:
            self.say(str(error), "error", error.place)
            return False
        self._notify("settings")
        return True

    # Inside.

    def _is_waiting(self) -> bool:
        """Tell, and say, that a job is waited for: one step after the other."""
        name = self.worker.waits_for
        if name:
            self.say(f"{name} goes on: wait for it, or stop it.", "warning")
        return bool(name)

    def _taken_back(self, name: str) -> bool:
        self.say(f"{name}: stopped and taken back.", "warning")
        return False

    def _show(self, solution: Solution, reason: Reason, keep: Part | None = None) -> None:
        # An undone part comes back as the very value that it was, so `keep` outranks the solution.
        before = self.part
        self.part, self.report = keep if keep is not None else solution.part, solution.report
        self.selection = self.selection.living(self.part)
        self.hover = tuple(n for n in self.hover if n in self.part.points or n in self.part.curves)
        self.zero = self.zero.living(self.part)
        self._notify(reason, before)

    def _tell_step(self, name: str, result: Part | Edited, was: SolveReport) -> None:
        if not self._tell_trouble(was):
            self._remark(result, name)
        elif isinstance(result, Edited) and result.dropped:
            # What got worse comes first, but what was dropped is told all the same.
            told = self.message
            self.say(f"{told.text} Dropped: {listed(result.dropped)}.", told.severity, told.place)

    def _remark(self, result: object, name: str = "") -> None:
        said = getattr(result, "said", "") or (name and f"{name}.")
        if said:
            self.say(said, "done")

    def _tell_trouble(self, was: SolveReport) -> bool:
        """Say what got worse; return whether anything did."""
        text, place = trouble(was, self.report)
        if text:
            self.say(text, "warning", place)
        return bool(text)


def question(part: Part) -> tuple[str, Severity, str]:
    """Return what to say of a part of which the sketch leaves a side open; see `Derived.say`."""
    name = next(iter(part.doubts[0].sides))
    return (f"The sketch leaves open on which side {name} is meant. The ledger asks for it.",
            "warning", name)


def trouble(was: SolveReport, now: SolveReport) -> tuple[str, str]:
    """Return what is worse than it was, in words, and the binding that it is about, if any."""
    fresh = [clash for clash in now.clashes if clash not in was.clashes]
    if fresh:
        whole = "all " if len(fresh[0]) > 1 else ""
        return (f"{listed(fresh[0])} cannot {whole}hold; the last good geometry stays. "
                "The ledger offers what would mend it.", fresh[0][-1])
    if not now.converged and was.converged:
        return ("No solution was reached; the last good geometry stays. "
                "Try a value nearer to the sketch.", "")
    doubled = [name for name in now.doubled if name not in was.doubled]
    if doubled:
        verb = "follows" if len(doubled) == 1 else "follow"
        return f"{listed(doubled)} {verb} from the other bindings: said twice.", doubled[0]
    return "", ""


def check_reach(part: Part) -> None:
    """Raise an EditError when something lies further out than a file can hold."""
    for name, at in part.points.items():
        check_place(name, at)
    for name, curve in part.curves.items():
        if isinstance(curve, CircleCurve) and not curve.radius < MAX_NUMBER:
            raise EditError(name, "would be larger than the sheet", "give a smaller radius")


def check_place(name: str, at: XY) -> None:
    """Raise an EditError when a place lies further out than a file can hold."""
    if not (abs(at[0]) < MAX_NUMBER and abs(at[1]) < MAX_NUMBER):
        raise EditError(name, "would lie beyond the sheet", "give smaller values")


def fingerprint(path: Path | None) -> str | None:
    """Return the fingerprint of a file, or None where there is none."""
    if path is None or not path.is_file():
        return None
    try:
        return digest_of(read_bytes(path, MAX_BYTES))
    except SketcherError:
        return None


def listed(names: Iterable[str]) -> str:
    """Return names as a person lists them: ``b1, b2 and b5``."""
    *front, last = names
    return f"{', '.join(front)} and {last}" if front else last
