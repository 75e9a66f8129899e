"""What is asked and read before a part is cut: findings, what the rules say, the cautions."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import ezdxf
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

from sketcher.desk.dialogs.cutting_desk import CuttingDesk
from sketcher.desk.dialogs.drawing_desk import DrawingDesk
from sketcher.desk.dialogs.findings_question import FindingsQuestion
from sketcher.desk.window_host import DeskHost
from sketcher.part.value import CircleCurve, Drawing, Part
from tests.gui.driver import LEFT, Driver, wait_until
from tests.plates import bound


def astray() -> Part:
    """The plate with a hole beside it that nothing holds: detached and loose."""
    part = bound()
    return part.having(points={**part.points, "c": (60.0, 10.0)},
                       curves={**part.curves, "h": CircleCurve("c", 4.0)})


KEYS = {"enter": Qt.Key.Key_Return, "space": Qt.Key.Key_Space, "escape": Qt.Key.Key_Escape}


class Person:
    """Looks at the question and answers by hand; stands in for the loop of a modal dialog."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, press: str) -> None:
        self.press = press
        self.read: list[str] = []
        monkeypatch.setattr(FindingsQuestion, "exec", self.answer_to())

    def answer_to(self) -> Callable[[FindingsQuestion], int]:
        """Make what the dialog does in place of waiting."""
        person = self

        def answer(question: FindingsQuestion) -> int:
            question.show()
            QTest.qWaitForWindowExposed(question)
            rows = range(question.findings.count())
            person.read = [question.findings.item(row).text() for row in rows]
            if person.press == "go":
                QTest.mouseClick(question.go, LEFT)
            else:
                QTest.keyClick(question.focusWidget() or question, KEYS[person.press])
            assert not question.isVisible()
            return question.result()

        return answer


@pytest.fixture
def asking(driver: Driver, tmp_path: Path) -> Driver:
    """A window that asks this one question itself; where to write is settled."""
    driver.board.load(astray())
    driver.settle()
    host = driver.window.host
    host.ask_despite = DeskHost.ask_despite.__get__(host)
    driver.answers.path = tmp_path / "x.dxf"
    return driver


@pytest.mark.parametrize("press", ["enter", "space", "escape"])
def test_to_leave_it_is_the_default(
    press: str, asking: Driver, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    person = Person(monkeypatch, press)
    asking.act("file.export_cut")
    codes = {line.partition(":")[0] for line in person.read}
    assert codes == {f.code for f in asking.board.bench.derived.inspection().findings}
    assert "detached" in codes
    assert any("(60, 10)" in line for line in person.read)
    assert not (tmp_path / "x.dxf").exists()
    assert asking.answers.told == []


def test_pressed_on_purpose_the_plate_is_cut(
    asking: Driver, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    Person(monkeypatch, "go")
    asking.act("file.export_cut")
    found = ezdxf.readfile(tmp_path / "x.dxf").modelspace()
    assert [entity.dxftype() for entity in found] == ["LWPOLYLINE"]
    assert asking.answers.cuts == 1
    assert asking.answers.told == []  # after the file is written only the status line speaks


def test_a_sound_part_asks_nothing(
    asking: Driver, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    person = Person(monkeypatch, "escape")
    asking.board.load(bound())
    asking.act("file.export_cut")
    assert person.read == []
    assert (tmp_path / "x.dxf").exists()


class Reader:
    """Reads what stands on the page of a cut, and presses one button."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, goes: bool) -> None:
        self.titles: list[str] = []
        self.lines: list[str] = []
        self.bold: list[str] = []
        reader = self

        def answer(desk: CuttingDesk) -> int:
            desk.show()
            QTest.qWaitForWindowExposed(desk)
            wait_until(lambda: desk.trial is not None and desk.advice is not None)
            assert desk.go.isDefault()
            assert desk.lines.isVisible()
            reader.titles.append(desk.windowTitle())
            items = [desk.lines.item(row) for row in range(desk.lines.count())]
            reader.lines = [item.text() for item in items]
            reader.bold = [item.text() for item in items if item.font().bold()]
            QTest.mouseClick(desk.go if goes else desk.stay, LEFT)
            return desk.result()

        monkeypatch.setattr(CuttingDesk, "exec", answer)

    def between(self, first: str, last: str) -> list[str]:
        """Return the lines from one heading to another, without them."""
        heads = [line.split(",")[0] for line in self.lines]
        return self.lines[heads.index(first) + 1:heads.index(last)]


def narrow() -> Part:
    """The plate with a hole too small for its thickness and too near to its edge."""
    part = bound()
    return part.having(points={**part.points, "c": (2.5, 10.0)},
                       curves={**part.curves, "h": CircleCurve("c", 1.0)})


@pytest.mark.parametrize("goes", [True, False])
def test_the_cutting_rules_speak_before_anything_is_written(
    goes: bool, asking: Driver, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    reader = Reader(monkeypatch, goes)
    asking.board.load(narrow())
    host = asking.window.host
    host.ask_despite = lambda *_: True  # it is loose, and that is known
    host.ask_cutting = DeskHost.ask_cutting.__get__(host)
    asking.act("file.export_cut")
    inspection = asking.board.bench.derived.inspection()
    advice = reader.between("Before you cut", "Cautions")
    heads = [line for line in advice if line[:1].isupper()]
    count = len(advice) - len(heads) - len(inspection.remarks)
    assert inspection.remarks
    assert advice[-1].strip() == inspection.remarks[-1].text
    assert count == len({(a.rule, a.where) for a in inspection.cutting})
    assert heads[0] == "Laser and plasma"
    assert any(line.startswith(f"Before you cut, look at {count} places") for line in reader.bold)
    small = next(line.strip() for line in advice if "hole size" in line)
    assert small == "hole size: h is 2, wanted at least 3 mm (laser) and at least 4.5 mm (plasma)"
    # the hole in the edge, first and strong
    assert advice[1].startswith("    ! hole to edge: h to pe4 is 1.5, wanted ")
    assert advice[1] in reader.bold
    assert small not in {line.strip() for line in reader.bold}
    assert any(line.strip().startswith("loose: ") for line in reader.lines)
    assert "cutting" in reader.titles[0]
    assert "fumes" in " ".join(reader.lines)
    assert (tmp_path / "x.dxf").exists() is goes
    assert asking.answers.told == []
    assert ("x.dxf exported" in asking.board.bench.message.text) is goes


def test_with_nothing_to_tell_the_cautions_stand_alone(
    asking: Driver, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    reader = Reader(monkeypatch, True)
    asking.board.load(bound().having(drawing=Drawing(tolerance="none")))
    host = asking.window.host
    host.ask_cutting = DeskHost.ask_cutting.__get__(host)
    asking.act("file.export_cut")
    assert asking.board.bench.derived.inspection().cutting == ()
    assert reader.lines[0] == "Cautions"
    assert "fumes" in " ".join(reader.lines)
    assert (tmp_path / "x.dxf").exists()


def test_the_finished_drawing_says_what_it_leaves_out(asking: Driver) -> None:
    for part, told in ((astray(), True), (bound(), False)):
        asking.board.load(part)
        desk = DrawingDesk(asking.board, asking.window.commands.run, asking.window)
        desk.show()
        QTest.qWaitForWindowExposed(desk)
        assert desk.left_out.isVisible() is told
        assert (desk.left_out.text() == "Not drawn: 1 circle (Ø8 mm at (60, 10)).") is told
        assert desk.keep()  # it is told, and no reason to hold the desk open
        desk.close()
        desk.deleteLater()


def test_many_findings_fit_the_screen(qapp, family: str) -> None:
    parent = QWidget()
    lines = [f"detached: h{k}, Ø8 mm at ({k}, 10), lies off the plate" for k in range(400)]
    question = FindingsQuestion("Cut", "Findings:", lines, "Go on", parent)
    question.show()
    QTest.qWaitForWindowExposed(question)
    free = question.screen().availableGeometry()
    assert question.height() <= free.height()
    assert question.findings.count() == 400
    assert question.stay.isDefault()
    assert not question.go.isDefault()
    question.close()
    parent.deleteLater()
