"""Set-up of the window tests: our font, Fusion, both looks at hand, leaks found."""

from __future__ import annotations

import gc
import subprocess
from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace

import pytest
from PySide6.QtCore import QLocale, QStandardPaths, Qt, QTimer
from PySide6.QtGui import QFont, QImage, QPainter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from sketcher.board.settings import Settings
from sketcher.desk import errands
from sketcher.desk.theme import dress, load_font
from tests import forked
from tests.gui.driver import Driver


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if "qapp" in getattr(item, "fixturenames", ()):
            item.add_marker(pytest.mark.gui)


def ink(letter: str, font: QFont) -> bytes:
    """Pixels of a letter."""
    image = QImage(32, 32, QImage.Format.Format_Grayscale8)
    image.fill(Qt.GlobalColor.white)
    painter = QPainter(image)
    painter.setFont(font)
    painter.drawText(image.rect(), Qt.AlignmentFlag.AlignCenter, letter)
    painter.end()
    return bytes(image.constBits())


@pytest.fixture(scope="session")
def family(qapp: QApplication) -> str:
    """Our font, loaded; without one the offscreen platform draws every letter as one box."""
    QStandardPaths.setTestModeEnabled(True)
    QLocale.setDefault(QLocale.c())
    qapp.setCursorFlashTime(0)
    name = load_font()
    assert ink("1", QFont(name)) != ink("8", QFont(name))
    return name


@pytest.fixture(scope="session", autouse=True)
def quick_processes() -> Iterator[None]:
    """A window's other process has its libraries at once; it is a process all the same."""
    if not forked.CAN_FORK:
        yield
        return
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(errands, "subprocess", SimpleNamespace(
            Popen=forked.ForkedProcess, PIPE=subprocess.PIPE))
        yield


@pytest.fixture
def leaks(qapp: QApplication) -> Iterator[None]:
    """No timer runs on and no top-level widget stays behind after a test."""
    before = {id(w) for w in QApplication.topLevelWidgets()}
    # What is alive now stays alive; to look through it after every test costs more than the test.
    gc.freeze()
    yield
    qapp.processEvents()
    QApplication.sendPostedEvents(None, 52)  # 52: QEvent::DeferredDelete
    gc.collect()
    left = [w for w in QApplication.topLevelWidgets() if id(w) not in before and w.isVisible()]
    assert left == []
    running = [t for t in qapp.findChildren(QTimer) if t.isActive()]
    assert running == []


@pytest.fixture(params=["dye"])
def look_name(request: pytest.FixtureRequest) -> str:
    return request.param


@pytest.fixture
def driver(
    qapp: QApplication, family: str, leaks: None, tmp_path: Path, look_name: str
) -> Iterator[Driver]:
    """The real window at 1366x768, driven by key and mouse."""
    from sketcher.desk.window import MainWindow

    settings = Settings({"look": look_name})
    look = dress(qapp, look_name, family)
    window = MainWindow(settings, tmp_path / "data", look)
    window.resize(1366, 768)
    window.show()
    QTest.qWaitForWindowExposed(window)
    window.begin(None)
    made = Driver(window, qapp)
    yield made
    made.close()
