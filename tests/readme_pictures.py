"""Makes the README's pictures from the window: ``python -m tests.readme_pictures [NAME ...]``.

Each is grabbed at 1,366 by 768 pixels and stored with few colours.
"""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QBuffer, QIODevice
from PySide6.QtWidgets import QApplication

from sketcher.board.settings import Settings
from sketcher.desk.constructing import Constructing
from sketcher.desk.dialogs.cutting_desk import CuttingDesk
from sketcher.desk.dialogs.marking_desk import MarkingDesk
from sketcher.desk.practice_desk import PracticeDesk
from sketcher.desk.theme import dress, load_font
from sketcher.lesson.practice import practice_problems
from sketcher.marking.demo_class import demo_files, demo_hand_ins
from sketcher.marking.marks import PointsByHand
from sketcher.part.edits.add_binding import add_binding
from sketcher.part.edits.remove_binding import remove_binding
from tests.gui.driver import Driver, wait_until
from tests.gui.window_hands import WindowHands
from tests.scribed import gate_strap

FOLDER = Path(__file__).resolve().parents[1] / "resources" / "pictures"
COLOURS = 255


class Traced(Exception):
    """The layout stands, and the trace tool is in hand."""


class ScribingHands(WindowHands):
    """Hands that scribe, and stop where the tracing would begin."""

    def tool(self, name: str) -> None:
        super().tool(name)
        if name == "trace":
            raise Traced


def start(driver: Driver) -> None:
    """The start page, its pictures drawn."""
    driver.settle(4000)


def desk_dye(driver: Driver) -> None:
    """The gate strap with two lines selected."""
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(900)
    driver.board.bench.select(("e2", "e3"))


def desk_paper(driver: Driver) -> None:
    """The shift arm in the paper look."""
    driver.window.filing.open_demo("shift-arm.profile.json")
    driver.act("view.look")


def finding(driver: Driver) -> None:
    """A rounded value in place of a tangency, enlarged until the eye sees the corner."""
    driver.window.filing.open_demo("gate-strap.profile.json")
    bench, pane = driver.board.bench, driver.window.inspection
    bench.do("Drop", lambda part: remove_binding(part, "b32").part)
    bench.do("Type", lambda part: add_binding(part, "rise", ("p1", "w3"), "51.3").part)
    driver.settle(600)
    pane.asked.emit(pane.tables["findings"].rows.entry(0))


def trace(driver: Driver) -> None:
    """Scribed layout, with the pointer in a region that a press makes outline."""
    driver.new()
    driver.view.sheet.camera = driver.view.sheet.camera.fitting((-15.0, -5.0, 75.0, 130.0), 0.05)
    for what in ("show_dimensions", "show_motion"):
        driver.board.bench.set_setting(what, False)
    try:
        gate_strap(ScribingHands(driver))
    except Traced:
        driver.click(30.0, 20.0)
        driver.move(24.0, 60.0)


def mark_class(driver: Driver) -> MarkingDesk:
    """The invented class, marked; one of its hand-ins is shown, and something of it is ruled."""
    home = Path(tempfile.mkdtemp())
    (home / "hand-ins").mkdir()
    for name, data in demo_files().items():
        (home / name).write_bytes(data)
    for each in demo_hand_ins():
        (home / "hand-ins" / each.file).write_bytes(each.content)
    window = driver.window
    desk = MarkingDesk(driver.board, window.host, window.look, window)
    desk.book.use_key(home / "key.profile.json")
    desk.book.use_folder(home / "hand-ins")
    desk.book.use_roster(home / "roster.csv")
    desk.show()
    desk.begin()
    wait_until(lambda: not desk.book.going, 300.0)
    most = max(desk.book.rows, key=lambda row: len(row.marks.deductions))
    number = desk.book.rows.index(most)
    desk.book.say(number, most.marks.deductions[0], "accepted")
    desk.book.give(number, PointsByHand(-2, "a day late"))
    desk.table.point_at(number)
    wait_until(lambda: driver.board.bench.worker.current is None)
    desk.resize(1256, 760)
    return desk


def cutting(driver: Driver) -> CuttingDesk:
    """The gate strap for a plasma table: kerf, lead-ins, tabs, four copies, played half through."""
    driver.window.filing.open_demo("gate-strap.profile.json")
    driver.settle(600)
    desk = CuttingDesk(driver.board, driver.window.look, (), lambda values: False, driver.window)
    for name, text in {"process": "plasma", "kerf": "1.5", "lead": "auto", "tabs": "2",
                       "copies": "4", "plate": "400x280"}.items():
        desk.form.write(name, text)
    desk.show()
    desk.resize(1366, 768)
    desk.plan()
    wait_until(lambda: desk.trial is not None and desk.trial.plan is not None
               and desk.order is not None and desk.trial.plan.settings == desk.order.settings
               and desk.advice is not None, 60.0)
    run = desk.view.run
    assert run is not None
    desk.player.go_to(0.55 * run.takes)
    return desk


def construction(driver: Driver) -> None:
    """The shift arm while it is constructed by hand moves, a tangent to two circles under way."""
    driver.window.filing.open_demo("shift-arm.profile.json")
    driver.settle(600)
    driver.act("view.construction")
    shown = driver.window.findChild(Constructing)
    assert isinstance(shown, Constructing)
    wait_until(lambda: shown.play is not None)
    play = shown.play
    assert play is not None
    shown.bar.hand.click()
    shown.go_to(next(k for k, step in enumerate(play.steps) if "e2" in step.curves))
    shown.toggle()
    number = play.number
    wait_until(lambda: play.number > number or (play.view().share > 0.5
               and play.view().done > play.view().fresh + 9), 60.0)
    shown.toggle()


def practice(driver: Driver) -> None:
    """A practice problem half drawn: its paper, the ticks and a hint."""
    driver.act("file.practice")
    desk = driver.window.findChild(PracticeDesk)
    assert isinstance(desk, PracticeDesk)
    assert desk.dialog is not None
    problem = practice_problems()[-1]
    desk.dialog.chosen.emit(problem.name)
    desk.dialog.close()
    wait_until(lambda: desk.model.problem is not None)
    part = problem.key
    kept = {name: curve for name, curve in part.curves.items() if name not in ("a3", "e2")}
    points = {p for curve in kept.values() for p in curve.points}
    names = {*kept, *points}
    bindings = {name: b for name, b in part.bindings.items() if names.issuperset(b.of)}
    half = part.having(curves=kept, bindings=bindings,
                       points={p: at for p, at in part.points.items() if p in points})
    driver.board.bench.do("Draw", lambda _: half)
    wait_until(lambda: desk.model.judged is driver.board.part)
    driver.act("view.fit")
    desk.pane.hint_asked.emit()


def main() -> int:
    """Make every picture."""
    from PIL import Image

    from sketcher.desk.window import MainWindow

    app = QApplication([])
    family = load_font()
    for scene, name in ((start, "start"), (desk_dye, "desk-dye"), (finding, "finding"),
                        (trace, "trace"), (desk_paper, "desk-paper"),
                        (mark_class, "mark-class"), (cutting, "cutting"),
                        (construction, "construction"), (practice, "practice")):
        if sys.argv[1:] and name not in sys.argv[1:]:
            continue
        look = dress(app, "dye", family)
        window = MainWindow(Settings({"look": "dye"}), Path(tempfile.mkdtemp()), look)
        window.resize(1366, 768)
        window.show()
        window.begin(None)
        driver = Driver(window, app)
        shown = scene(driver) or window
        driver.settle(1500)
        store = QBuffer()
        store.open(QIODevice.OpenModeFlag.WriteOnly)
        shown.grab().save(store, "PNG")
        raw = Path(tempfile.mkdtemp()) / "picture.png"
        raw.write_bytes(bytes(store.data().data()))
        few = Image.open(raw).convert("RGB").quantize(COLOURS, dither=Image.Dither.NONE)
        few.save(FOLDER / f"{name}.png", optimize=True)
        driver.close()
    return 0


if __name__ == "__main__":
    sys.exit(main())
