"""The part on the bench: the current value, its last solve, its history, and who listens.

Tools and actions work on a bench; the board adds the tool in hand and the readout's entry.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

from sketcher.board.job import AtOnce, Worker
from sketcher.board.places.pending_bindings import Typed
from sketcher.board.places.selection import Selection
from sketcher.board.places.zero import Zero
from sketcher.board.settings import Settings
from sketcher.board.steps.derived import Derived
from sketcher.board.steps.gesture import Gesture
from sketcher.board.steps.notices import Message, Notices, Reason, Severity
from sketcher.board.steps.outcome import Outcome
from sketcher.board.steps.reach import check_reach
from sketcher.board.steps.refusals import named
from sketcher.board.steps.solver_cache import Solver, Solving, default_solver
from sketcher.errors import EditError, SketcherError
from sketcher.interrupt import Stopped
from sketcher.part.atomic import digest as digest_of
from sketcher.part.atomic import read_bytes
from sketcher.part.check import check_changes
from sketcher.part.edited import Edited
from sketcher.part.file_text import MAX_BYTES
from sketcher.part.history import History
from sketcher.part.value import Part, Unit, begun
from sketcher.solve.solve_report import Solution, SolveReport

Edit = Callable[[Part], Part | Edited]


class Bench:
    """Current part, report, history, selection and settings; the only place where they change.

    What is computed from the part is asked of `derived`, what is said goes through `notices`.

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
        self.part = part if part is not None else begun(self.settings["unit"])
        self.report = SolveReport()
        self.worker: Worker = AtOnce()
        self.notices = Notices(lambda: (self.part, self.report))
        self.derived = Derived(self)
        self.after_step: Callable[[], None] = nothing
        self.give_back: Callable[[], None] | None = None  # while another part lies here on trial
        self._refused: Callable[[], object] | None = None
        self.selection = Selection()
        self.hover: tuple[str, ...] = ()
        self.path: Path | None = None
        self.digest: str | None = None
        self.zero = Zero()
        self.shown_unit: Unit = self.part.unit
        self.lasting: dict[str, dict[str, Typed]] = {}  # values typed last, by tool and row
        self.lined_up = 0  # places taken in line with another point: who knows it needs no hint
        self.layout_told = False  # that what is scribed is layout is news once for each part
        self.solving = Solving(solver)
        if part is not None:
            solution = solver(part)
            self.part, self.report = solution.part, solution.report
        self.history = History(self.part)
        self.gesture = Gesture(self)

    # Reading and saying.

    @property
    def message(self) -> Message:
        """The last thing said."""
        return self.notices.message

    def say(self, text: str, severity: Severity = "note", place: str = "") -> None:
        """Say something to the person at the board."""
        self.notices.say(text, severity, place)

    def show_again(self) -> None:
        """Tell that the tool in hand has something else to show, without an event of its own."""
        self.notices.add("preview")

    def solve(self, part: Part) -> Solution:
        """Return the solution of a part; the last one asked for is remembered.

        Raises
        ------
        Stopped
            When it took long and the person thought better of it.
        """
        solving = self.solving
        solution = solving.remembered(part, Solution(self.part, self.report))
        if solution is None:
            solution = solving.tried(part, self.worker, keeps=part)
        solving.remember(part, solution)
        return solution

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

    @contextmanager
    def taking(self, refused: Callable[[], object]) -> Iterator[None]:
        """Within it a step that is refused raises why, once `refused` was called.

        So a refusal is told where the value was typed that led to it.
        """
        was, self._refused = self._refused, refused
        try:
            yield
        finally:
            self._refused = was

    def do(
        self, name: str, edit: Edit, merge: str | None = None, tells: bool = True
    ) -> Outcome:
        """Apply an edit, solve, push the result on the history and tell the listeners once.

        Parameters
        ----------
        name : str
            Name of the step as undo shows it.
        edit : callable
            From a part to the next part, or to a value with `part`, `dropped` and `said`.
        merge : str, optional
            Steps with the same key that follow each other become one.
        tells : bool
            Whether a refusal is said here; False where the one who asks tells it.

        Returns
        -------
        Outcome
            Whether the part changed, and why an edit was refused. Bindings that clash are kept,
            with the last good geometry, and told.

        Raises
        ------
        SketcherError
            Why the edit was refused, within `taking`.
        """
        with self.notices.held():
            if self.worker.waits_for:
                return self._refuse(EditError(self.worker.waits_for, "goes on",
                                              "wait for it, or stop it"), tells)
            self.gesture.restore()
            before, was = self.part, self.report
            drawn = before
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
                return self._refuse(named(error, before, drawn), tells)
            except Stopped:
                return self._refuse(EditError(name, "stopped and taken back"), tells)
            self.history.push(name, solution.part, merge)
            self.show(solution, "edit")
            self._tell_step(name, result, was)
            self.after_step()
        return Outcome(True)

    def _refuse(self, error: SketcherError, tells: bool) -> Outcome:
        if self._refused is not None:
            self._refused()
            raise error
        if tells:
            self.say(str(error), "error", error.place)
        return Outcome(False, error)

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
            self.gesture.restore()
            if name is None:
                self.say(f"Nothing to {word.lower()}.")
                return False
            part = go()
            try:
                solution = self.solve(part)
            except Stopped:
                back()
                return self.taken_back(f"{word} of {name}")
            self.show(solution, "redo" if forward else "undo", keep=part)
            self.say(f"{told}: {name}.", "done")
            self.after_step()
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
        before = self.part
        self.gesture = Gesture(self)
        self.history = History(solution.part)
        self.solving = Solving(self.solving.solver)  # no step leads back to what it remembers
        if not saved:
            self.history.mark_unsaved()
        self.path, self.selection, self.zero = path, Selection(), Zero()
        self.digest = digest if digest is not None else fingerprint(path)
        self.shown_unit = part.unit
        self.lasting, self.layout_told = {}, False
        self.part = before
        with self.notices.held():
            self.show(solution, "load")
            if not self._tell_trouble(SolveReport()) and self.part.doubts:
                self.say(*question(self.part))

    def mark_saved(self, path: Path, digest: str | None = None) -> None:
        """Note that the part as it stands is in a file; `digest` is the file's fingerprint."""
        self.path, self.digest = path, digest if digest is not None else fingerprint(path)
        self.history.mark_saved()
        self.notices.add("saved")

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
            self.notices.add("selection")

    def set_zero(self, zero: Zero) -> None:
        """Measure X and Y from another place."""
        self.zero = zero
        self.notices.add("settings")

    def show_unit(self, unit: Unit) -> None:
        """Show lengths in mm or in inches; the part keeps its own unit."""
        self.shown_unit = unit
        self.notices.add("settings")

    def set_setting(self, name: str, value: object) -> bool:
        """Change a setting; a value that does not fit is told and changes nothing."""
        try:
            self.settings[name] = value
        except SketcherError as error:
            self.say(str(error), "error", error.place)
            return False
        self.notices.add("settings")
        return True

    # Inside.

    def _is_waiting(self) -> bool:
        """Tell, and say, that a job is waited for: one step after the other."""
        name = self.worker.waits_for
        if name:
            self.say(f"{name} goes on: wait for it, or stop it.", "warning")
        return bool(name)

    def taken_back(self, name: str) -> bool:
        """Say that something was stopped and changed nothing; return False."""
        self.say(f"{name}: stopped and taken back.", "warning")
        return False

    def show(self, solution: Solution, reason: Reason, keep: Part | None = None) -> None:
        """Put a solution in the place of the part, and tell; `keep` is the very part to show."""
        # An undone part comes back as the very value that it was, so `keep` outranks the solution.
        before = self.part
        self.part, self.report = keep if keep is not None else solution.part, solution.report
        self.selection = self.selection.living(self.part)
        self.hover = tuple(n for n in self.hover if n in self.part.points or n in self.part.curves)
        self.zero = self.zero.living(self.part)
        self.notices.add(reason, before)

    def _tell_step(self, name: str, result: Part | Edited, was: SolveReport) -> None:
        if not self._tell_trouble(was):
            self._remark(result, name)
        elif isinstance(result, Edited) and result.dropped:
            # What got worse comes first, but what was dropped is told all the same.
            told = self.message
            self.say(f"{told.text} Dropped: {listed(result.dropped)}.", told.severity, told.place)

    def _remark(self, result: Part | Edited, name: str = "") -> None:
        said = (isinstance(result, Edited) and result.said) or (name and f"{name}.")
        if said:
            self.say(said, "done")

    def _tell_trouble(self, was: SolveReport) -> bool:
        """Say what got worse; return whether anything did."""
        text, place = trouble(was, self.report)
        if text:
            self.say(text, "warning", place)
        return bool(text)


def nothing() -> None:
    """Do nothing after a step."""


def question(part: Part) -> tuple[str, Severity, str]:
    """Return what to say of a part of which the sketch leaves a side open; see `Bench.say`."""
    name = next(iter(part.doubts[0].sides))
    return (f"The sketch leaves open on which side {name} is meant. The ledger asks for it.",
            "warning", name)


def trouble(was: SolveReport, now: SolveReport) -> tuple[str, str]:
    """Return what is worse than it was, in words, and the binding that it is about, if any."""
    fresh = [clash for clash in now.clashes if clash not in was.clashes]
    if fresh:
        whole = "all " if len(fresh[0]) > 1 else ""
        return (f"{listed(fresh[0])} cannot {whole}hold; the last good geometry stays. "
                "Below the inspection stands what would mend it.", fresh[0][-1])
    fresh_values = [name for name in now.unreached if name not in was.unreached]
    if fresh_values:
        verb = "its value" if len(fresh_values) == 1 else "their values"
        return (f"{listed(fresh_values)} cannot have {verb} here; the last good geometry stays. "
                "Below the inspection stands what would mend it.", fresh_values[0])
    if not now.converged and was.converged:
        return ("No solution was reached; the last good geometry stays. "
                "Try a value nearer to the sketch.", "")
    doubled = [name for name in now.doubled if name not in was.doubled]
    if doubled:
        verb = "follows" if len(doubled) == 1 else "follow"
        return f"{listed(doubled)} {verb} from the other bindings: redundant.", doubled[0]
    return "", ""


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
