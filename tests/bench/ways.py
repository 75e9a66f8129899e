"""Counts the frames and modules of the three ways through the program.

The ways are: a typed value to the repaint, a drag to its frame, a file to its PDF. On each, marks
that do not depend on how the program is cut are waited for: the file's text being parsed, the
factors of a solve, the request to paint, a stroke of the painter. Of each mark one stack of calls
that led to it is taken; a way's frames are the program's functions on those stacks, each once, in
order. So the number is how many functions somebody reads who follows the way from end to end.

    python -m tests.bench.ways [--list]
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from types import CodeType, FrameType
from typing import Any, TypeAlias

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

ROOT = Path(__file__).resolve().parents[2]
PROGRAM = str(ROOT / "sketcher") + os.sep
PART = ROOT / "demo_parts" / "gate-strap.profile.json"

PARSED, FACTORED, ASKED, PAINTED = "parsed", "factored", "asked to paint", "painted"
Way: TypeAlias = tuple[tuple[CodeType, ...], tuple[CodeType, ...]]
SHORTEST = (FACTORED, PAINTED)
"""Marks that many stacks lead to; of the others the first counts."""


class Ways:
    """Listens to calls and keeps, for each mark, the shortest stack that led to it."""

    def __init__(self) -> None:
        self.stacks: dict[str, tuple[CodeType, ...]] = {}
        self.deepest: tuple[CodeType, ...] = ()

    @contextmanager
    def listening(self) -> Iterator[Ways]:
        """Listen while the block runs."""
        sys.setprofile(self._heard)
        try:
            yield self
        finally:
            sys.setprofile(None)

    def _heard(self, frame: FrameType, event: str, said: Any) -> None:
        if event == "call" and _ours(frame.f_code):
            stack = _stack(frame)
            if len(stack) > len(self.deepest):
                self.deepest = stack
        mark = _mark(frame, event, said)
        if mark is not None and (mark not in self.stacks or mark in SHORTEST):
            stack = _stack(frame)
            if stack and len(stack) < len(self.stacks.get(mark, (*stack, None))):
                self.stacks[mark] = stack

    def frames(self, *marks: str) -> tuple[CodeType, ...]:
        """Return the functions on the stacks of some marks, each once, in the order of the way.

        Raises
        ------
        LookupError
            When a mark was never reached: then the way was not walked.
        """
        missing = [mark for mark in marks if mark not in self.stacks]
        if missing:
            raise LookupError(f"the way never came to: {', '.join(missing)}")
        return tuple(dict.fromkeys(code for mark in marks for code in self.stacks[mark]))



def _mark(frame: FrameType, event: str, said: Any) -> str | None:
    if event == "call":
        code = frame.f_code
        if code.co_name in ("solve", "lstsq", "svd", "qr", "inv", "cholesky", "splu") and (
                "linalg" in code.co_filename):
            return FACTORED
        return PARSED if code.co_filename.endswith(f"json{os.sep}decoder.py") else None
    if event != "c_call":
        return None
    name = getattr(said, "__name__", "")
    of = type(getattr(said, "__self__", None)).__name__
    if of == "QPainter" and (name.startswith("draw") or name == "strokePath"):
        return PAINTED
    if name == "update" and hasattr(getattr(said, "__self__", None), "winId"):
        return ASKED
    return None


def _stack(frame: FrameType) -> tuple[CodeType, ...]:
    return tuple(reversed([f.f_code for f in _up(frame) if _ours(f.f_code)]))


def _up(frame: FrameType | None) -> Iterator[FrameType]:
    while frame is not None:
        yield frame
        frame = frame.f_back


def _ours(code: CodeType) -> bool:
    return code.co_filename.startswith(PROGRAM) and not code.co_name.startswith("<")


def typed() -> Way:
    """A value typed into the readout's row of a selected line, to the repaint."""
    from PySide6.QtCore import Qt
    from PySide6.QtTest import QTest

    with _window() as (window, app):
        board = window.board
        name = next(n for n, b in board.part.bindings.items()
                    if b.kind == "radius" and b.value is not None)
        board.bench.select((board.part.bindings[name].of[0],))
        app.processEvents()
        ways = Ways()
        window.view.setFocus()
        row = next(row.name for row in board.typing.rows() if row.takes)
        board.typing.open_row(row, str(1.01 * float(board.part.bindings[name].value)))
        with ways.listening():
            QTest.keyClick(window.view.viewport(), Qt.Key.Key_Return)
            window.view.viewport().repaint()
        return ways.frames(FACTORED, ASKED, PAINTED), ways.deepest


def dragged() -> Way:
    """A motion of the pointer with a loose point held, to the painted frame."""
    from PySide6.QtCore import QPoint, QPointF, Qt
    from PySide6.QtTest import QTest

    from sketcher.part.edits.remove_binding import remove_binding

    with _window() as (window, app):
        board = window.board
        for name in tuple(board.part.bindings):
            if board.part.bindings[name].kind in ("distance", "run", "rise", "offset"):
                board.bench.do("Loosen", lambda part, name=name: remove_binding(part, name))
                if board.report.loose:
                    break
        app.processEvents()
        port, camera = window.view.viewport(), window.view.sheet.camera
        ways = Ways()
        for each in board.report.loose:  # until one lies free of what else can be pressed
            at = camera.to_screen(board.part.points[each.point])
            here = QPointF(*at).toPoint()
            QTest.mousePress(port, Qt.MouseButton.LeftButton, pos=here)
            for step in (1, 2):
                _moved(port, here + step * QPoint(12, 8))
            with ways.listening():
                _moved(port, here + 3 * QPoint(12, 8))
                app.processEvents()
                port.repaint()
            QTest.mouseRelease(port, Qt.MouseButton.LeftButton, pos=here + 3 * QPoint(12, 8))
            if FACTORED in ways.stacks:
                break
        return ways.frames(FACTORED, ASKED, PAINTED), ways.deepest


def _moved(port: Any, at: Any) -> None:
    """Move the pointer with the main button held."""
    from PySide6.QtCore import QEvent, QPointF, Qt
    from PySide6.QtGui import QMouseEvent
    from PySide6.QtWidgets import QApplication

    left = Qt.MouseButton.LeftButton
    QApplication.sendEvent(port, QMouseEvent(
        QEvent.Type.MouseMove, QPointF(at), QPointF(port.mapToGlobal(at)), left, left,
        Qt.KeyboardModifier.NoModifier))


def printed() -> Way:
    """The command that writes a PDF of a file."""
    from sketcher.cli import main

    ways = Ways()
    with tempfile.TemporaryDirectory() as folder:
        target = str(Path(folder) / "sheet.pdf")
        with ways.listening():
            assert main(["export", str(PART), "--sheet", target]) == 0
    return ways.frames(PARSED, FACTORED, PAINTED), ways.deepest


WAYS: dict[str, Callable[[], Way]] = {
    "typed value to repaint": typed, "drag to frame": dragged, "file to PDF": printed,
}


@contextmanager
def _window() -> Iterator[tuple[Any, Any]]:
    from PySide6.QtWidgets import QApplication

    from sketcher.board.settings import Settings
    from sketcher.desk.theme import dress, load_font
    from sketcher.desk.window import MainWindow

    app = QApplication.instance() or QApplication([])
    assert isinstance(app, QApplication)
    with tempfile.TemporaryDirectory() as folder:
        window = MainWindow(Settings(), Path(folder), dress(app, "dye", load_font()))
        window.resize(1366, 768)
        window.show()
        window.begin(PART)
        window.host.ask_unsaved = lambda name: "discard"
        for _ in range(20):
            app.processEvents()
        yield window, app
        window.close()


def main() -> int:
    """Print the ways."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--list", action="store_true", help="print the functions too")
    listed = parser.parse_args().list
    for name, way in WAYS.items():
        frames, deepest = way()
        modules = {code.co_filename for code in frames}
        print(f"{name}: {len(frames)} frames in {len(modules)} modules; "
              f"the deepest stack on it has {len(deepest)}")
        if listed:
            for code in (*frames, None, *deepest):
                print("  --- deepest" if code is None else
                      f"  {code.co_filename.removeprefix(PROGRAM)}: {code.co_qualname}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
