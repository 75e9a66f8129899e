"""Walks every page, pane, dialog and tool of the window and looks for what is cut or covered.

``python -m tests.gui.walk_looks OUT [--look dye] [--size 1366x768]`` grabs a picture of each place
into the folder OUT and prints what was found; ``QT_SCALE_FACTOR=2`` before it shows a dense screen.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication, QWidget

from sketcher.board.board import all_tools
from sketcher.board.settings import Settings
from sketcher.desk.constructing import Constructing
from sketcher.desk.practice_desk import PracticeDesk
from sketcher.desk.theme import dress, load_font
from sketcher.part.edits.add_binding import add_binding
from tests.gui.cut_words import cut_words, overlaps
from tests.gui.driver import Driver, wait_until
from tests.gui.test_dialogs_fit import all_dialogs


def places(driver: Driver, tools: tuple[str, ...] | None = None) -> Iterator[tuple[str, QWidget]]:
    """Yield each place of the program by name, with its window, while it is shown.

    Parameters
    ----------
    driver : Driver
    tools : tuple of str, optional
        Tools to take in hand; all of them when left out.
    """
    window, board = driver.window, driver.board
    yield "start", window
    driver.new()
    yield "empty", window
    window.filing.open_demo("gate-strap.profile.json")
    driver.settle(400)
    yield "demo", window
    box = window.inspection.box
    for number in range(box.count()):
        box.setCurrentIndex(number)
        driver.settle(60)
        yield f"section {box.itemText(number).split()[0].strip(',')}", window
    box.setCurrentIndex(0)
    board.bench.select(("e1", "e2"))
    driver.settle(50)
    yield "two lines selected", window
    for name in tools if tools is not None else tuple(all_tools()):
        board.bench.select(())
        driver.tool(name)
        x, y = board.part.points["p1"]
        for step in (0, 1):
            driver.click(x + 11.3 * step, y + 7.7 * step)
            driver.move(x + 11.3 * step + 9.1, y + 7.7 * step + 4.2)
        driver.settle(30)
        yield f"tool {name}", window
        driver.tool("pick")
        while board.bench.history.can_undo:
            board.bench.undo()
    board.bench.do("Bind", lambda part: add_binding(part, "distance", ("p1", "p4"), "80"))
    wait_until(window.ledger.mending.isVisible)
    driver.settle(50)
    yield "clash", window
    board.bench.undo()
    driver.settle(200)
    for dialog in all_dialogs(driver):
        dialog.show()
        driver.settle(80)
        yield f"dialog {type(dialog).__name__}", dialog
        dialog.close()
        dialog.deleteLater()
    driver.settle(20)
    yield from constructed(driver)
    yield "practice", practised(driver)


def constructed(driver: Driver) -> Iterator[tuple[str, QWidget]]:
    """Play the construction by steps and by hand, then have a step of it drawn and compared."""
    driver.act("view.construction")
    shown = driver.window.findChild(Constructing)
    assert isinstance(shown, Constructing)
    shown.go_to(3)
    shown.onward()
    shown.rest()
    yield "construction", driver.window
    shown.bar.hand.click()
    yield "construction by hand moves", driver.window
    shown.bar.draw.click()
    shown.bar.compare.click()
    driver.settle(50)
    yield "construction, a step drawn", driver.window
    shown.leave()
    driver.settle(20)


def practised(driver: Driver) -> QWidget:
    """Put a problem with notes beside the sheet, unfolded, with a hint."""
    driver.act("file.practice")
    desk = driver.window.findChild(PracticeDesk)
    assert isinstance(desk, PracticeDesk)
    assert desk.dialog is not None
    desk.dialog.list.setCurrentRow(8)
    desk.dialog.begin.click()
    wait_until(lambda: desk.model.problem is not None)
    desk.side.fold(False)
    desk.pane.ask.click()
    wait_until(desk.pane.hint.isVisible)
    desk.pane.ask.click()
    driver.settle(50)
    return driver.window


def screen_of(size: str) -> tuple[str, ...]:
    """Return what gives a window without a display a screen of its own size."""
    if os.environ["QT_QPA_PLATFORM"] != "offscreen":
        return ()
    wide, high = map(int, size.split("x"))
    ratio = float(os.environ.get("QT_SCALE_FACTOR", "1"))
    told = {"name": "walk", "x": 0, "y": 0, "width": round(wide * ratio),
            "height": round(high * ratio), "logicalDpi": 96, "logicalBaseDpi": 96, "dpr": 1}
    place = Path(tempfile.mkdtemp()) / "screens.json"
    place.write_text(json.dumps({"screens": [told]}))
    return ("-platform", f"offscreen:configfile={place}")


def main() -> int:
    """Walk, grab, and tell; return how much was found."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("out", type=Path)
    parser.add_argument("--look", default="dye")
    parser.add_argument("--size", default="1366x768")
    args = parser.parse_args()
    app = QApplication(["walk", *screen_of(args.size)])
    from sketcher.desk.window import MainWindow

    look = dress(app, args.look, load_font())
    window = MainWindow(Settings({"look": args.look}), Path(tempfile.mkdtemp()), look)
    window.resize(*map(int, args.size.split("x")))
    window.show()
    window.begin(None)
    args.out.mkdir(parents=True, exist_ok=True)
    found = 0
    driver = Driver(window, app)
    wait_until(lambda: not window.start.demo_list.without_picture)
    for name, shown in places(driver):
        driver.settle(100)
        shown.grab().save(str(args.out / f"{name.replace(' ', '-')}.png"))
        for trouble in (*cut_words(shown), *overlaps(shown)):
            found += 1
            sys.stdout.write(f"{name}: {trouble}\n")
    sys.stdout.write(f"{found} found\n")
    driver.close()
    return min(found, 1)


if __name__ == "__main__":
    sys.exit(main())
