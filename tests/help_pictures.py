"""Makes the pictures of the help from the real window: ``python -m tests.help_pictures``.

The window is driven as a person drives it, grabbed, cropped and stored with few colours. Two runs
give the same files, as long as window and demo parts are the same.
"""

from __future__ import annotations

import io
import os
import sys
import tempfile
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
from PIL import Image
from PySide6.QtCore import QBuffer, QIODevice, QRect
from PySide6.QtGui import QPixmap
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from sketcher.board.settings import Settings
from sketcher.desk.constructing import Constructing
from sketcher.desk.practice_desk import PracticeDesk
from sketcher.desk.theme import dress, load_font
from sketcher.shipped import shipped
from tests.gui.class_desk import class_desk
from tests.gui.driver import Driver, wait_until

FOLDER = Path(__file__).resolve().parents[1] / "resources" / "help"
WIDTH, COLOURS = 460, 64


def draw(driver: Driver) -> tuple[QWidget, QRect]:
    """A half while it is drawn: what a press would bind stands beside the pointer."""
    driver.new()
    driver.tool("axis")
    driver.click(0, 0)
    driver.click(0, 60)
    driver.tool("outline")
    for at in ((0, 0), (40, 0), (40, 35)):
        driver.click(*at)
    driver.move(0, 35)
    return driver.view, middle(driver.view, 4)


def bind(driver: Driver) -> tuple[QWidget, QRect]:
    """Ledger and sheet, with an edge that is pointed at."""
    opened(driver, "gate-strap")
    driver.board.bench.select(("e4",))
    settled(driver)
    return driver.window, QRect(0, 22, 1030, 580)


def mirror(driver: Driver) -> tuple[QWidget, QRect]:
    """The sheet of a part with two axes."""
    opened(driver, "pump-flange")
    return driver.view, middle(driver.view)


def construct(driver: Driver) -> tuple[QWidget, QRect]:
    """A construction by hand moves: the compass strikes the circle of Thales."""
    opened(driver, "gate-strap")
    driver.act("view.construction")
    shown: Any = driver.window.findChild(Constructing)
    wait_until(lambda: shown.is_on)
    shown.bar.hand.setChecked(True)
    place = next(k for k, beat in enumerate(shown.play.telling.beats) if beat.name == "p7")
    swung = max(k for k in range(place) if shown.play.telling.beats[k].tool == "compass")
    shown.play.at = shown.play.telling.begin_of_beat(swung + 1) - 0.4
    shown._follow()
    settled(driver)
    return driver.window, QRect(0, 22, 1040, 576)


def practice(driver: Driver) -> tuple[QWidget, QRect]:
    """A problem beside the sheet, half drawn, with a size that is off and a hint."""
    driver.act("file.practice")
    desk: Any = driver.window.findChild(PracticeDesk)
    desk.dialog.list.setCurrentRow(1)
    desk.dialog.begin.click()
    wait_until(lambda: desk.model.problem is not None)
    key = desk.model.problem.key
    keep = [name for name in key.curves if name not in ("e3", "e4", "e5", "h3")]
    points = {point for name in keep for point in key.curves[name].points}
    bindings = {name: binding for name, binding in key.bindings.items()
                if {*binding.of} <= points | set(keep)}
    bindings["b15"] = replace(bindings["b15"], value="18")
    driver.board.bench.do("Draw", lambda _: key.having(
        curves={name: key.curves[name] for name in keep}, bindings=bindings,
        points={name: at for name, at in key.points.items() if name in points}))
    driver.act("view.fit")
    wait_until(lambda: desk.model.judged is driver.board.part)
    desk.pane.ask.click()
    wait_until(desk.pane.hint.isVisible)
    settled(driver)
    return driver.window, QRect(342, 22, 1024, 704)


def inspect(driver: Driver) -> tuple[QWidget, QRect]:
    """Sheet and inspection of the part that is to be mended, with a finding chosen."""
    opened(driver, "latch-plate")
    driver.window.inspection.tables["findings"].selectRow(2)
    settled(driver)
    return driver.window, QRect(450, 22, 916, 580)


def deliver(driver: Driver) -> tuple[QWidget, QRect]:
    """The finished drawing."""
    opened(driver, "gate-strap")
    from sketcher.desk.dialogs.drawing_desk import DrawingDesk

    desk = DrawingDesk(driver.board, driver.window.commands.run, driver.window)
    desk.show()
    settled(driver, 4000)
    return desk, desk.rect()


def mend(driver: Driver) -> tuple[QWidget, QRect]:
    """The clean-up with what it lists."""
    opened(driver, "latch-plate")
    driver.act("tool.clean up")
    driver.window.cleanup.list.setCurrentRow(0)
    settled(driver)
    return driver.window, QRect(0, 22, 1060, 650)


def mark(driver: Driver) -> tuple[QWidget, QRect]:
    """The page of a class, at a hand-in."""
    opened(driver, "gate-strap")
    desk = class_desk(driver)
    desk.names.setChecked(False)
    desk.resize(1060, 640)
    desk.show()
    settled(driver)
    return desk, desk.rect()


PICTURES: dict[str, Callable[[Driver], tuple[QWidget, QRect]]] = {
    "draw": draw, "bind": bind, "mirror": mirror, "construct": construct, "practice": practice,
    "inspect": inspect, "deliver": deliver, "mend": mend, "mark": mark,
}


def middle(view: QWidget, share: int = 9) -> QRect:
    """Return the sheet without so much of its height above and below."""
    return view.rect().adjusted(0, view.height() // share, 0, -view.height() // share)


def opened(driver: Driver, name: str) -> None:
    """Open a demo part and wait until all is shown."""
    driver.window.filing.open_demo(f"{name}.profile.json")
    settled(driver)


def settled(driver: Driver, milliseconds: int = 1200) -> None:
    """Wait until the inspection is there and dimensions stand at rest."""
    derived = driver.board.bench.derived
    wait_until(lambda: derived.known_inspection() is not None)
    QTest.qWait(milliseconds)
    QApplication.processEvents()


def stored(grabbed: QPixmap) -> bytes:
    """Return a picture as a small PNG."""
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    grabbed.save(buffer, "PNG")
    image = Image.open(io.BytesIO(buffer.data().data())).convert("RGB")
    high = round(image.height * WIDTH / image.width)
    image = image.resize((WIDTH, high), Image.Resampling.LANCZOS)
    out = io.BytesIO()
    few = image.quantize(COLOURS, Image.Quantize.MAXCOVERAGE, dither=Image.Dither.NONE)
    few.save(out, "PNG", optimize=True)
    return out.getvalue()


def picture(name: str, app: QApplication) -> bytes:
    """Return one picture, from a window of its own."""
    from sketcher.desk.window import MainWindow

    with tempfile.TemporaryDirectory() as folder:
        look: Any = dress(app, "dye", load_font())
        window = MainWindow(Settings({"look": "dye"}), Path(folder), look)
        window.resize(1366, 768)
        window.show()
        window.begin(None)
        driver = Driver(window, app)
        widget, part = PICTURES[name](driver)
        data = stored(widget.grab(part))
        if widget.isWindow() and widget is not window:
            widget.close()
        driver.close()
    return data


def main(names: list[str]) -> None:
    """Make these pictures, or all."""
    made = QApplication.instance() or QApplication([])
    assert isinstance(made, QApplication)
    assert shipped("resources", "help") == FOLDER
    for name in names or PICTURES:
        data = picture(name, made)
        (FOLDER / f"{name}.png").write_bytes(data)
        print(f"{name}.png {len(data) / 1024:.0f} KiB")


if __name__ == "__main__":
    main(sys.argv[1:])
