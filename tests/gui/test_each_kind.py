"""Every kind of binding made in the window: press the geometry, press the kind, type the value.

A kind without a case here fails the last test.
"""

from __future__ import annotations

from typing import NamedTuple

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit

from sketcher.part.edits.draft import Draft
from sketcher.part.kinds import KINDS, measure, residual
from sketcher.part.value import Part
from tests.gui.driver import LEFT, NONE, Driver
from tests.gui.rebuild import SHIFT

pytestmark = pytest.mark.e2e
XY = tuple[float, float]


class Case(NamedTuple):
    """What is pressed, in order, and the value that is typed."""

    ids: tuple[str, ...]
    value: str | None = None


# Where each is pressed: far from everything else.
PLACES: dict[str, XY] = {
    "e1": (10, 1.5), "e2": (19, 25), "h1": (78, 10), "h2": (81, 40), "x1": (-20, 25),
    "p1": (0, 0), "p2": (40, 6), "p3": (0, 20), "p4": (38, 30), "p5": (70, 10), "p6": (75, 40),
}
CASES = {
    "angle": Case(("e1", "e2"), "12"),
    "concentric": Case(("h1", "h2")),
    "diameter": Case(("h1",), "20"),
    "distance": Case(("e1",), "1 3/4 in"),
    "equal": Case(("e1", "e2")),
    "fixed": Case(("p2",)),
    "in line": Case(("e1", "e2")),
    "level": Case(("e1",)),
    "middle": Case(("p5", "e1")),
    "offset": Case(("e1", "p4"), "15"),
    "on": Case(("p4", "h1")),
    "parallel": Case(("e1", "e2")),
    "plumb": Case(("p2", "p4")),
    "radius": Case(("h2",), "18/2"),
    "reflected": Case(("p1", "p5", "x1")),
    "rise": Case(("e1",), "9"),
    "run": Case(("p1", "p6"), "70"),
    "square": Case(("e1", "e2")),
    "tangent": Case(("e1", "h1")),
    "web": Case(("h1", "h2"), "7.5"),
}
WANTED = {"distance": 44.45, "radius": 9.0}  # an inch is 25.4 mm by definition


def scene() -> Part:
    """Two lines, two circles and an axis, all loose."""
    draft = Draft(Part())
    draft.line((0, 0), (40, 6))  # e1, p1 p2
    draft.line((0, 20), (38, 30))  # e2, p3 p4
    draft.circle((70, 10), 8.0)  # h1, p5
    draft.circle((75, 40), 6.0)  # h2, p6
    draft.line((-20, -10), (-20, 60), "axis")  # x1
    return draft.done()


@pytest.mark.parametrize("kind", CASES)
def test_a_kind_is_made_by_pressing_and_typing(driver: Driver, kind: str) -> None:
    case = CASES[kind]
    driver.new()
    driver.board.load(scene())
    for what in ("show_dimensions", "show_bindings", "show_motion"):
        driver.board.bench.set_setting(what, False)
    driver.view.fit()
    driver.settle()
    for number, name in enumerate(case.ids):
        driver.click(*PLACES[name], SHIFT if number else NONE)
    assert driver.board.bench.selection.ids == case.ids
    driver.settle(1)
    QTest.mouseClick(driver.window.ledger.kinds.buttons[kind], LEFT)
    driver.settle(1)
    ((made, binding),) = driver.board.part.bindings.items()
    assert binding.kind == kind
    assert set(binding.of) == set(case.ids)
    if case.value is not None:
        field = QApplication.focusWidget()
        assert isinstance(field, QLineEdit)
        field.selectAll()
        QTest.keyClicks(field, case.value)
        QTest.keyClick(field, Qt.Key.Key_Return)
        driver.settle(1)
    part = driver.board.part
    binding = part.bindings[made]
    assert binding.value == case.value
    assert residual(part, binding) == pytest.approx(0.0, abs=1e-9)
    if case.value is not None:
        wanted = WANTED.get(kind) or float(case.value)
        assert measure(part, binding) == pytest.approx(wanted, abs=1e-9)
    (row,) = driver.window.ledger.model.rows
    assert (row.kind, row.drives) == (kind, True)
    assert driver.board.report.converged
    driver.act("edit.undo")
    if case.value is not None and driver.board.part.bindings:
        driver.act("edit.undo")
    assert not driver.board.part.bindings


def test_every_kind_has_a_case() -> None:
    assert set(CASES) == set(KINDS)
