"""A demo part scribed and traced through the real window to its exact geometry."""

from __future__ import annotations

import pytest

from sketcher.part.file_text import read
from sketcher.part.kinds import settle_sides
from sketcher.shipped import shipped
from sketcher.solve import solve
from tests.gui.driver import Driver
from tests.gui.window_hands import WindowHands
from tests.scribed import SCRIPTS, missing
from tests.seldom import some_of

pytestmark = [pytest.mark.e2e, pytest.mark.slow]


def opened(driver: Driver, box: tuple[float, float, float, float]) -> WindowHands:
    driver.new("mm")
    driver.view.sheet.camera = driver.view.sheet.camera.fitting(box, 0.05)
    for what in ("show_dimensions", "show_bindings", "show_motion"):
        driver.board.bench.set_setting(what, False)
    return WindowHands(driver)


# Without the window both are tried, in tests/e2e.
@pytest.mark.parametrize("name", some_of(sorted(SCRIPTS), "gate-strap".__eq__))
def test_a_demo_part_is_scribed_and_traced(driver: Driver, name: str) -> None:
    box = {"gate-strap": (-15.0, -5.0, 75.0, 130.0), "roof-gusset": (-22.0, -5.0, 80.0, 55.0)}
    hands = opened(driver, box[name])
    SCRIPTS[name](hands)
    data = shipped("demo_parts", f"{name}.profile.json").read_bytes()
    exact = solve(settle_sides(read(data))).part
    board = driver.board
    size = max(abs(v) for at in exact.points.values() for v in at)
    assert (board.report.state, board.report.doubled) == ("bound", ()), board.bench.message.text
    assert missing(board.part, exact, 1e-9 * size) == []
    assert board.bench.derived.inspection().as_dict()["sound"]
    while board.bench.history.can_undo:
        driver.act("edit.undo")
    assert board.part.curves == {}
