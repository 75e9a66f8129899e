"""The two drawing problems with the X server's own pointer and keys, to the sheet and the cut.

Needs an X server with a window manager that nobody else uses: `.ci/under-x` gives one.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtTest import QTest

from sketcher.board.actions.export_sheet_actions import FORMS
from sketcher.inspect.inspection import inspect_part
from tests import problems
from tests.gui.driver import Driver, wait_until
from tests.gui.x_hands import UNDER_X, XHands
from tests.proof.cut_reader import area as area_cut

ARTIFACTS = Path(__file__).parents[2] / "artifacts"
MOST = {"clamp_plate": (25, 80), "pivot_arm": (45, 130)}
ENTERS = 4
"""What the questions of both exports take: how, where to; the page, where to."""

pytestmark = UNDER_X


@pytest.mark.parametrize("name", sorted(MOST))
def test_a_problem_by_the_servers_pointer_and_keys(
    driver: Driver, tmp_path: Path, name: str
) -> None:
    driver.window.resize(1880, 1000)
    driver.window.move(0, 0)
    driver.new()
    driver.settle(200)
    hands = XHands(driver)
    stages: list[str] = []

    def stage(told: str) -> None:
        stages.append(told)
        QTest.qWait(150)
        ARTIFACTS.mkdir(exist_ok=True)
        path = ARTIFACTS / f"{name}-{len(stages)}-{told.replace(' ', '-')}.png"
        assert driver.window.grab().save(str(path))

    getattr(problems, name)(hands, stage)
    board = driver.board
    assert (board.report.state, board.report.freedoms, board.report.doubled) == ("bound", 0, ())
    found = inspect_part(board.part, board.report).as_dict()
    assert found["sound"], [each["text"] for each in found["findings"]]
    area = getattr(problems, f"{name}_area")()
    assert found["profile"]["area"] == pytest.approx(area, rel=1e-12)

    sheet, cut = tmp_path / "sheet.pdf", tmp_path / "cut.dxf"
    driver.answers.path, driver.answers.choice = sheet, next(iter(FORMS))
    hands.press("ctrl+shift+e")
    wait_until(sheet.exists)
    driver.answers.path = cut
    hands.press("ctrl+e")
    wait_until(cut.exists)
    assert driver.answers.cuts == 1
    assert sheet.read_bytes().startswith(b"%PDF")
    assert area_cut(cut) == pytest.approx(area, rel=1e-6)  # GDAL reads arcs as chords

    presses, keys = MOST[name]
    assert hands.clicks <= presses
    assert hands.keys + ENTERS <= keys
    (ARTIFACTS / f"{name}.txt").write_text(
        f"{hands.clicks} presses, {hands.keys + ENTERS} keys; stages: {', '.join(stages)}\n")
