"""A person who does anything at all on the board: random actions, and what must hold after each.

An action is a plain tuple that names things by number ("the third point"), so that it means
something on whatever part it meets; a list of actions can be cut down to the few that matter.
"""

from __future__ import annotations

import time
import traceback
from collections.abc import Callable
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from random import Random
from typing import Any

from sketcher.board.action_table import all_actions, perform
from sketcher.board.board import Board
from sketcher.board.ledger import ledger_edits
from sketcher.board.ledger.ledger_rows import ledger_rows, parameter_rows
from sketcher.board.ledger.spacing_rows import spacing_rows
from sketcher.board.preview import Pointer
from sketcher.board.settings import TABLE
from sketcher.board.steps.notices import Change
from sketcher.board.steps.solver_cache import default_solver
from sketcher.geometry.bounds import bounds_of
from sketcher.geometry.evaluate import point_at
from sketcher.part.file_text import read, write
from sketcher.part.kinds import KINDS
from sketcher.part.value import Part
from sketcher.part.whole import curve_value
from tests.hosts import AnsweringHost

Action = tuple[Any, ...]

TEXTS = ("3", "12", "25", "40", "7.5", "0.5", "1/2", "1 5/8", "2*wall", "wall+4", "45", "90", "30",
         "0", "-4", "360", "1e-9", "9e8", "1e99", "1/", "x", "", " ", "10 mm", "3, 5, +4", "8-1/3")
KEYS = ("enter", "enter", "enter", "escape", "backspace", "tab", "tab", "a", "w", "e", "o", "q",
        "delete", "space")
HELD = ("", "", "", "", "shift", "ctrl", "alt")
NOT_DONE = {"file.export_sheet", "file.quit"}
"""Actions left out: the sheet takes seconds and has a proof of its own, closing ends the walk."""
MOST_CURVES = 60
EVERY = 25
"""Actions between two looks at everything that takes long."""


class Stale(AssertionError):
    """A listener was told of a state that does not hold."""


@dataclass(frozen=True)
class Fault:
    """What went wrong: its kind, where in the program (or which promise), and in words."""

    kind: str
    place: str
    text: str


class Anybody(AnsweringHost):
    """Answers every question at random."""

    def __init__(self, random: Random, folder: Path) -> None:
        super().__init__()
        self.random, self.folder = random, folder

    def ask_path(
        self, title: str, save: bool, suffix: str, suggestion: str = ""
    ) -> Path | None:
        path = self.folder / f"walk{suffix}"
        return path if save or path.exists() else None

    def ask_choice(self, title: str, label: str, choices: Any) -> str | None:
        return self.random.choice((None, *choices))

    def ask_form(
        self, title: str, fields: Any, caution: str = "", take: Any = None, long: Any = (),
        follow: Any = None,
    ) -> dict[str, str] | None:
        if self.random.random() < 0.2:
            return None
        values = {name: self.random.choice((value, value, *TEXTS)) for name, _, value in fields}
        if follow is not None:
            values |= follow(values)
        if take is not None:
            take(values)
        return values

    def confirm(self, title: str, text: str, yes: str) -> bool:
        return self.random.random() < 0.7

    def ask_unsaved(self, name: str) -> str:
        return self.random.choice(("save", "discard", "cancel"))


# What is done.


def actions(random: Random, count: int) -> list[Action]:
    """Return random actions; a third comes in rows that are likely to draw or change something."""
    makers = [maker for maker, weight in MAKERS for _ in range(weight)]
    found: list[Action] = []
    while len(found) < count:
        found += random.choice(ROWS)(random) if random.random() < 0.12 else [
            random.choice(makers)(random)]
    return found[:count]


def place(random: Random) -> Action:
    """Return a place: a point, a place on a curve, the image of one, or anywhere."""
    kind = random.choice(("point", "point", "curve", "curve", "piece", "any", "any", "any"))
    if kind == "point":
        return kind, random.randrange(60)
    if kind in ("curve", "piece"):
        return kind, random.randrange(60), random.choice((0.0, 0.5, 0.5, 1.0, random.random()))
    return kind, round(random.uniform(-0.3, 1.3), 3), round(random.uniform(-0.3, 1.3), 3)


def _mouse(random: Random) -> Action:
    what = random.choice(("click", "click", "click", "move", "press", "release", "double"))
    return what, place(random), random.choice(HELD), random.choice((1.0, 1.0, 0.2, 4.0))


def _drag(random: Random) -> Action:
    return "drag", place(random), [place(random) for _ in range(random.randint(1, 3))]


def _use(random: Random) -> Action:
    return "use", random.randrange(100)


def _type(random: Random) -> Action:
    return "type", random.choice(TEXTS), random.choice(("enter", "enter", "tab", "escape", ""))


def _key(random: Random) -> Action:
    return "key", random.choice(KEYS)


def _row(random: Random) -> Action:
    what = random.choice(("hold", "hold", "let_go", "open"))
    return what, random.randrange(8), random.choice(TEXTS)


def _select(random: Random) -> Action:
    what = random.choice(("points", "curves", "curves", "curves", "bindings", "mixed"))
    return "select", what, [random.randrange(60) for _ in range(random.randint(0, 3))]


def _steps(random: Random) -> Action:
    return random.choice(("undo", "undo", "redo")), random.choice((1, 1, 1, 2, 5))


def _perform(random: Random) -> Action:
    return "perform", random.randrange(1000), random.randrange(1 << 30)


def _cell(random: Random) -> Action:
    field = random.choice(("id", "value", "value", "value", "drives", "tolerance", "kind"))
    text = random.choice((*TEXTS, "yes", "no", "+0.1 -0.2", "0.05", "b1", "nose"))
    return "cell", random.randrange(60), field, text


def _ledger(random: Random) -> Action:
    what = random.choice(("drop", "reorder", "bind", "bind", "spacing", "parameter", "expression",
                          "drop parameter"))
    return what, random.randrange(60), random.randrange(60), random.choice(TEXTS)


def _setting(random: Random) -> Action:
    return "setting", random.randrange(100), random.randrange(1 << 30)


def _rarely(random: Random) -> Action:
    return random.choice((("restore",), ("load", random.randrange(10)), ("halve",), ("unit",)))


def _work(random: Random) -> list[Action]:
    """Return a tool taken in hand and used as it is meant to be."""
    found: list[Action] = [_use(random)]
    for _ in range(random.randint(1, 5)):
        found.append(("move", place(random), "", 1.0))
        if random.random() < 0.3:
            found.append(("type", random.choice(TEXTS[:12]), "enter"))
        found.append(random.choice((("click", found[-1][1], "", 1.0), ("key", "enter")))
                     if found[-1][0] == "move" else ("key", "enter"))
    return found


def _binding(random: Random) -> list[Action]:
    """Return some geometry chosen and bound."""
    return [("select", "mixed" if random.random() < 0.3 else "curves",
             [random.randrange(60) for _ in range(random.choice((1, 1, 2)))]),
            ("fitting", random.randrange(60), random.choice(("", *TEXTS[:12])))]


ROWS = (_work, _work, _work, _binding)

MAKERS: tuple[tuple[Callable[[Random], Action], int], ...] = (
    (_mouse, 30), (_drag, 5), (_use, 10), (_type, 10), (_key, 10), (_row, 4), (_select, 6),
    (_steps, 8), (_perform, 7), (_cell, 5), (_ledger, 4), (_setting, 2), (_rarely, 1),
)


class Walk:
    """One board, what is done on it, and what must hold.

    Parameters
    ----------
    starts : list of Part
        Parts to begin with; the first one first.
    folder : Path
        Where files are saved.
    """

    def __init__(self, starts: list[Part], folder: Path) -> None:
        self.starts, self.folder = starts, folder
        self.board = Board(starts[0])
        self.seen: Part | None = None
        self.texts: dict[int, tuple[Part, str]] = {}  # as written when first seen, by identity
        self.slowest = (0.0, "")
        self.board.bench.notices.listen(self.hear)
        self.look()

    def run(self, doings: list[Action]) -> Fault | None:
        """Do actions one after the other; return what went wrong, or None."""
        for number, action in enumerate(doings, 1):
            began = time.process_time()
            fault = self._guarded(lambda action=action: self.do(action))
            took = time.process_time() - began
            if took > self.slowest[0]:
                self.slowest = (took, f"{action} with {self.board.tool.name} in hand")
            fault = fault or self._guarded(self.look)
            if fault is None and number % EVERY == 0:
                fault = self._guarded(self.look_closely)
            if fault is not None:
                return fault
        return self._guarded(self.look_closely) or self._guarded(self.go_back_and_forth)

    def _guarded(self, work: Callable[[], object]) -> Fault | None:
        try:
            work()
        except Broken as broken:
            return broken.fault
        except Exception as error:  # noqa: BLE001 - that nothing escapes is what is tried
            here = [frame for frame in traceback.extract_tb(error.__traceback__)
                    if "/sketcher/" in frame.filename]
            at = here[-1] if here else traceback.extract_tb(error.__traceback__)[-1]
            where = f"{Path(at.filename).parent.name}/{Path(at.filename).name}:{at.lineno}"
            kind = "stale" if isinstance(error, Stale) else "exception"
            return Fault(kind, f"{type(error).__name__} {where}", f"{error} in {where}")
        return None

    # Doing.

    def do(self, action: Action) -> None:
        """Do one action as the window would hand it to the board."""
        what, *given = action
        board, part = self.board, self.board.part
        match what:
            case "click":
                pointer = self.pointer(*given)
                board.press(pointer)
                board.release(pointer)
            case "move" | "press" | "release" | "double":
                getattr(board, what)(self.pointer(*given))
            case "drag":
                board.press(self.pointer(given[0]))
                for each in given[1]:
                    board.move(self.pointer(each))
                board.release(self.pointer(given[1][-1]))
            case "use":
                board.use(nth(sorted(board.tools), given[0]))
            case "type":
                board.typing.type_text(given[0])
                if given[1]:
                    board.key(given[1])
            case "key":
                board.key(given[0])
            case "hold" | "let_go" | "open":
                self._do_row(what, *given)
            case "select":
                self._do_select(*given)
            case "undo" | "redo":
                for _ in range(given[0]):
                    board.bench.undo() if what == "undo" else board.bench.redo()
            case "perform":
                names = [name for name in all_actions() if name not in NOT_DONE]
                perform(nth(names, given[0]), board, Anybody(Random(given[1]), self.folder))
            case "cell":
                name = nth(list(part.bindings), given[0])
                if name is not None:
                    ledger_edits.set_cell(board.bench, name, *given[1:])
            case "fitting":
                choice = nth(ledger_edits.fitting_kinds(board.bench), given[0])
                if choice is not None:
                    ledger_edits.make(board.bench, choice.kind, given[1] or None)
            case "setting":
                self._do_setting(*given)
            case "restore":
                board.bench.gesture.restore()
            case "load":
                self.load(given[0])
            case "halve":
                board.typing.halve()
            case "unit":
                board.bench.show_unit("in" if board.bench.shown_unit == "mm" else "mm")
            case _:
                self._do_ledger(what, *given)
        if len(board.part.curves) > MOST_CURVES:
            self.load(0)

    def load(self, number: int) -> None:
        """Put another part on the board."""
        self.board.load(nth(self.starts, number))

    def _do_row(self, what: str, number: int, text: str) -> None:
        row = nth(self.board.typing.rows(), number)
        if row is None:
            return
        if what == "hold":
            self.board.typing.hold(row.name, text)
        elif what == "let_go":
            self.board.typing.let_go(row.name)
        else:
            self.board.typing.open_row(row.name)

    def _do_select(self, what: str, numbers: list[int]) -> None:
        part = self.board.part
        groups = {"points": part.points, "curves": part.curves, "bindings": part.bindings,
                  "mixed": (*part.points, *part.curves)}
        names = [nth(list(groups[what]), number) for number in numbers]
        self.board.bench.select([name for name in names if name is not None])

    def _do_setting(self, number: int, seed: int) -> None:
        setting, random = nth(TABLE, number), Random(seed)
        choices = {"switch": (True, False), "choice": setting.choices}.get(
            setting.kind, (setting.least, setting.default, setting.most, "nothing"))
        self.board.bench.set_setting(setting.name, random.choice(choices))

    def _do_ledger(self, what: str, one: int, other: int, text: str) -> None:
        board, part = self.board, self.board.part
        binding, parameter = nth(list(part.bindings), one), nth(list(part.parameters), one)
        if what == "bind":
            ledger_edits.make(board.bench, nth(sorted(KINDS), one), text if other % 2 else None)
        elif what == "parameter":
            ledger_edits.add_parameter(board.bench, ("wall", "gap", "2x", "sin")[other % 4], text)
        elif what == "spacing":
            row = nth(spacing_rows(board.bench), one)
            if row is not None:
                ledger_edits.set_cell(board.bench, row.id, "value", text)
        elif what == "expression" and parameter is not None:
            ledger_edits.set_parameter_cell(
                board.bench, parameter, "name" if other % 5 == 0 else "text", text)
        elif what == "drop parameter" and parameter is not None:
            ledger_edits.drop_parameter(board.bench, parameter)
        elif what == "drop" and binding is not None:
            ledger_edits.drop(board.bench, binding)
        elif what == "reorder" and binding is not None:
            ledger_edits.reorder(board.bench, binding, other)

    def pointer(self, where: Action, held: str = "", reach: float = 1.0) -> Pointer:
        """Return the board's pointer at a place."""
        part = self.board.part
        curves = [curve_value(part, curve) for curve in islice(part.curves.values(), 200)]
        x0, y0, x1, y1 = bounds_of(curves) if curves else (-50.0, -50.0, 50.0, 50.0)
        size = max(x1 - x0, y1 - y0, 1e-6)
        kind, *given = where
        at = None
        if kind == "point":
            at = part.points.get(nth(list(part.points), given[0]) or "")
        elif kind in ("curve", "piece"):
            pieces = self.board.bench.derived.picker().pieces
            found = curves if kind == "curve" else [p.curve for p in pieces]
            curve = nth(found, given[0])
            at = None if curve is None else point_at(curve, given[1])
        if at is None:
            u, v = (float(value) for value in (*given, 0.5)[-2:])
            at = (x0 + u * size, y0 + v * size)
        return Pointer(at[0], at[1], 0.01 * reach * size, frozenset({held} - {""}))

    # What must hold.

    def hear(self, change: Change) -> None:
        """Read what the window reads at every notice."""
        board = self.board
        if change.after is not board.part or change.report is not board.report:
            raise Stale(f"{change.reason}: the part or its report is not the board's")
        part = board.part
        for name in (*board.bench.selection.ids, *board.bench.hover):
            if name not in part.points and name not in part.curves and name not in part.bindings:
                raise Stale(f"{change.reason}: {name} is gone and still selected or lit")
        if change.reason != "drag" and not board.prompt:
            raise Stale(f"{change.reason}: no prompt")
        if board.preview is None or board.typing.rows() is None:
            raise Stale(change.reason)

    def look(self) -> None:
        """See that the part is what its file holds."""
        part = self.board.part
        if part is self.seen:
            return
        self.seen = part
        if id(part) not in self.texts:
            text = write(part)
            self.texts[id(part)] = (part, text)
            again = read(text)
            expect(again == part, "bytes", "another part was read than was written")
            expect(write(again) == text, "bytes", "written again it differs")

    def look_closely(self) -> None:
        """See what takes long: a fresh solve says the same, everything can be shown."""
        board = self.board
        board.bench.gesture.restore()
        part, report = board.part, board.report
        fresh = default_solver(part).report
        for name in ("state", "freedoms", "converged"):
            is_, was = getattr(fresh, name), getattr(report, name)
            expect(is_ == was, "report", f"{name} is {was}, solved afresh {is_}")
        expect(set(report.states) == set(part.curves), "report", "states of other curves")
        inspection = board.bench.derived.inspection()
        inspection.as_dict(cutting=False)
        inspection.as_text()
        expect(inspection.sound == (not inspection.findings), "inspection", "sound with findings")
        ledger_rows(board.bench)
        parameter_rows(board.bench)
        spacing_rows(board.bench)
        board.bench.derived.pieces()
        board.bench.derived.glyphs()
        board.bench.derived.dimensions(0.1)
        board.bench.derived.center_lines_at_hand()

    def go_back_and_forth(self) -> None:
        """See that undo leads to the first part and redo to the last, byte for byte."""
        board = self.board
        board.bench.gesture.restore()
        last = write(board.part)
        first = write(board.bench.history.steps[0].part)
        steps = 0
        while board.bench.undo():
            steps += 1
        expect(board.bench.history.position == 0, "bytes", "undo ended before the first part")
        expect(write(board.part) == first, "bytes", "undo did not lead to the first part")
        for _ in range(steps):
            board.bench.redo()
        expect(write(board.part) == last, "bytes", "redo did not lead to the last part")
        for part, text in self.texts.values():
            expect(write(part) == text, "bytes", "a part has changed after it was written")


class Broken(Exception):
    """Carries a fault out of what looks for it."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault.text)
        self.fault = fault


def expect(holds: bool, kind: str, text: str) -> None:
    """Raise where something does not hold."""
    if not holds:
        raise Broken(Fault(kind, text.split(",")[0] if kind == "bytes" else kind, text))


def nth(items: Any, number: int) -> Any:
    """Return an item by number, counting round; None of nothing."""
    return items[number % len(items)] if items else None


# Cutting down.


def shortest(
    starts: list[Part], folder: Path, doings: list[Action], fault: Fault, seconds: float = 20.0
) -> list[Action]:
    """Return fewer actions that lead to the same fault, as few as are found in the time.

    Runs of actions are left out, halves first, then ever shorter ones (Zeller & Hildebrandt,
    "Simplifying and isolating failure-inducing input", IEEE TSE 28(2), 2002; the plain form).
    """
    until = time.monotonic() + seconds
    size = max(1, len(doings) // 2)
    while size:
        at = 0
        while at < len(doings) and time.monotonic() < until:
            fewer = doings[:at] + doings[at + size:]
            found = Walk(starts, folder).run(fewer)
            if found is not None and (found.kind, found.place) == (fault.kind, fault.place):
                doings = fewer
            else:
                at += size
        size //= 2
    return doings
