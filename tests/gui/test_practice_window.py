"""The practice problems in the window by mouse and keys, each from its handout's PDF alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from sketcher.inspect.inspection import inspect_part
from sketcher.part.whole import same_outline
from tests.gui.driver import Driver
from tests.gui.window_hands import WindowHands
from tests.gui.x_hands import UNDER_X, XHands
from tests.handout_paper import HandoutPaper
from tests.hands import BindingHands
from tests.practice_hands import SCRIPTS
from tests.practice_keys import handout_pdf, marked_by_key, practice_solved
from tests.seldom import some_of

OFTEN, OFTEN_BY_X = ("05-drag-link", "10-cradle-arm"), ("09-door-hook",)


def begun(driver: Driver, name: str) -> None:
    """An empty sheet of which as much is seen as the part needs."""
    part = practice_solved(name).part
    driver.new(part.unit)
    x0, y0, x1, y1 = inspect_part(part, practice_solved(name).report).profile.bounds
    camera = driver.view.sheet.camera
    driver.view.sheet.camera = camera.fitting((x0, y0, x1, y1), 0.2)
    driver.settle(5)


def drawn_to_the_end(driver: Driver, name: str, hands: BindingHands, folder: Path) -> None:
    (folder / "handout.pdf").write_bytes(handout_pdf(name))
    paper = HandoutPaper(folder / "handout.pdf")
    SCRIPTS[name](hands, paper)
    assert paper.left() == []
    board = driver.board
    assert (board.report.state, board.report.freedoms, board.report.doubled) == ("bound", 0, ())
    assert inspect_part(board.part, board.report).findings == ()
    key = practice_solved(name).part
    assert same_outline(board.part, key, 1e-9 * (100.0 if key.unit == "mm" else 4.0))
    marks = marked_by_key(name, board.part, board.report)
    assert (marks.ungraded, marks.deductions) == ("", ())


@pytest.mark.e2e
@pytest.mark.parametrize("name", some_of(SCRIPTS, OFTEN.__contains__))
def test_a_problem_in_the_window(driver: Driver, tmp_path: Path, name: str) -> None:
    begun(driver, name)
    drawn_to_the_end(driver, name, WindowHands(driver), tmp_path)


class TestByTheServer:
    """The same with the X server's own pointer and keys."""

    pytestmark = UNDER_X

    @pytest.mark.parametrize("name", some_of(SCRIPTS, OFTEN_BY_X.__contains__))
    def test_a_problem(self, driver: Driver, tmp_path: Path, name: str) -> None:
        driver.window.move(0, 0)
        begun(driver, name)
        driver.settle(200)
        drawn_to_the_end(driver, name, XHands(driver), tmp_path)
