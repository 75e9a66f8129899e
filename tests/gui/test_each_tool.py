"""Every drawing tool with mouse and keys in the window, against places worked out by hand.

A tool that has neither a case here nor a place in another window test fails the last test.
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, radians, sin
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from sketcher.board.board import Board, all_tools
from sketcher.part.edits.draft import Draft
from sketcher.part.value import LineCurve, Part
from sketcher.part.whole import curve_value, whole
from tests.gui.driver import LEFT, NONE, Driver
from tests.gui.rebuild import CTRL, SHIFT
from tests.gui.window_hands import WindowHands

pytestmark = pytest.mark.e2e
XY = tuple[float, float]


class Hands(WindowHands):
    """Hands that also press into the readout, and press without snaps."""

    def into(self, row: str, text: str) -> None:
        QTest.mouseClick(self.driver.window.readout.digits_of(row), LEFT)
        assert self.board.typing.is_open
        self.type(text)

    def free(self, *places: XY) -> None:
        for at in places:
            self.driver.click(*at, CTRL)

    def select(self, *places: XY) -> None:
        for number, at in enumerate(places):
            self.driver.click(*at, SHIFT if number else NONE)


def kinds(board: Board) -> list[str]:
    return sorted(b.kind for b in board.part.bindings.values())


def last(board: Board) -> object:
    """The geometry of the newest curve."""
    part = board.part
    return curve_value(part, part.curves[list(part.curves)[-1]])


def stroke(role: str) -> Callable[[Hands], None]:
    def play(hands: Hands) -> None:
        hands.click((0.0, 0.0))
        hands.point((25.0, 9.0))
        hands.type("30\t30\n")  # length, angle
        (curve,) = hands.board.part.curves.values()
        assert isinstance(curve, LineCurve)
        assert curve.role == role
        ends = [hands.board.part.points[p] for p in curve.ends]
        assert ends[0] == (0, 0)
        assert ends[1] == pytest.approx((15 * 3**0.5, 15), abs=1e-9)

    return play


def outline(hands: Hands) -> None:
    hands.click((0.0, 0.0))
    hands.point((30.0, 4.0))
    hands.type("40\t0\n" "25\t90\n")  # length, angle
    hands.click((0.0, 0.0))
    assert "closed" in hands.driver.window.said.text()
    assert hands.board.bench.derived.inspection().profile.area == pytest.approx(500, abs=1e-9)


def circle(hands: Hands) -> None:
    hands.click((0.0, 0.0))
    hands.point((9.0, 5.0))
    hands.type("12\n")  # a circle opens on its diameter
    assert last(hands.board).center == (0, 0)
    # the solver comes from the pointer's radius and may stop one rounding beside 6
    assert last(hands.board).radius == pytest.approx(6, abs=1e-14)
    assert kinds(hands.board) == ["diameter", "fixed"]


def arc_center(hands: Hands) -> None:
    hands.click((0.0, 0.0))
    hands.type("20\t0\n")
    hands.point((15.0, 14.0))
    hands.into("sweep", "90\n")
    arc = curve_value(hands.board.part, hands.board.part.curves["a1"])
    assert arc.ccw
    assert arc.end == pytest.approx((0, 20), abs=1e-9)


def arc_points(hands: Hands) -> None:
    hands.click((0.0, 0.0))
    hands.point((30.0, 4.0))
    hands.into("x", "40\t0\n")
    hands.point((20.0, 9.0))
    hands.into("radius", "25\n")
    assert last(hands.board).center == pytest.approx((20, -15), abs=1e-9)  # 15, 20, 25


def rectangle(hands: Hands) -> None:
    hands.click((0.0, 0.0))
    hands.point((30.0, 20.0))
    hands.type("48\t26\n")
    assert hands.board.report.state == "bound"
    assert hands.board.bench.derived.inspection().profile.area == pytest.approx(48 * 26, abs=1e-9)


def slot(hands: Hands) -> None:
    hands.free((-25, 5), (35, 19), (5, 32))
    assert kinds(hands.board) == ["equal"] + ["tangent"] * 4
    assert (hands.board.report.freedoms, hands.board.report.doubled) == (5, ())
    assert hands.board.bench.derived.inspection().profile.closed


def curved_slot(hands: Hands) -> None:
    hands.free((1, 2), (40, 3), (25, 32), (25, 39))
    assert kinds(hands.board) == ["tangent"] * 4
    assert (hands.board.report.freedoms, hands.board.report.doubled) == (6, ())
    assert hands.board.bench.derived.inspection().profile.closed


def slot_center_line(hands: Hands) -> None:
    hands.click((0.0, 0.0))
    hands.point((50.0, 5.0))
    hands.type("52\t6\n")
    hands.point((47.0, 22.0))
    hands.type("26\n" "8\n")
    pieces = [curve_value(hands.board.part, c) for c in hands.board.part.curves.values()]
    radii = sorted(c.radius for c in pieces if hasattr(c, "radius"))
    assert radii == pytest.approx([4, 4, 48, 52, 56], abs=1e-9)
    assert hands.board.report.state == "bound"


def dimension(hands: Hands) -> None:
    hands.click((15.0, 0.0), (20.0, -12.0))
    ((name, binding),) = hands.board.part.bindings.items()
    assert (binding.kind, binding.of, binding.value) == ("distance", ("e1",), "40")
    assert name in hands.board.part.drawing.placed
    assert "40" in [dim.text for dim in hands.driver.view.sheet.dims()]


def centers(hands: Hands) -> list[XY]:
    return sorted(p.curve.center for p in whole(hands.board.part) if p.source == "h1")


def rows(hands: Hands) -> None:
    hands.type("25\t30\t3\t2\n")
    wanted = [(30.0 + 25 * k, 10.0 + 30 * j) for k in range(3) for j in range(2)]
    for found, want in zip(centers(hands), wanted, strict=True):
        assert found == pytest.approx(want, abs=1e-9)


def bolt_circle(hands: Hands) -> None:
    hands.click((0.0, 0.0))
    hands.type("3\n")
    size, first = 10 * 10**0.5, 18.43494882292201  # the hole at (30, 10): atan(1/3)
    wanted = sorted((size * cos(radians(first + 120 * k)), size * sin(radians(first + 120 * k)))
                    for k in range(3))
    for found, want in zip(centers(hands), wanted, strict=True):
        assert found == pytest.approx(want, abs=1e-9)


CASES: dict[str, Callable[[Hands], None]] = {
    "line": stroke("outline"), "axis": stroke("axis"), "layout line": stroke("layout"),
    "outline": outline,
    "circle": circle, "arc center": arc_center, "arc points": arc_points, "rectangle": rectangle,
    "slot": slot, "curved slot": curved_slot, "slot center line": slot_center_line,
    "dimension": dimension,
    "rows": rows, "bolt circle": bolt_circle,
}

HERE = Path(__file__).parent
PAIRINGS, SCRIPTS = HERE / "test_shape_pairings.py", HERE.parent / "scribed.py"
ELSEWHERE: dict[str, tuple[Path, str]] = {
    "pick": (HERE / "test_drawing.py", 'tool("pick")'),
    "mirror": (HERE / "test_mirror.py", 'tool("mirror")'),
    "centers": (HERE / "test_center_lines.py", "tool.centers"),
    "clean up": (HERE / "test_shape_window.py", "tool.clean up"),
    **{name: (SCRIPTS, f'tool("{name}")')
       for name in ("offset ladder", "line at angle", "tangent line", "tangent circle", "trace")},
    **{name: (PAIRINGS, f"key(driver, {keys}") for name, keys in {
        "fillet": '"F")', "chamfer": '"F", SHIFT)', "split": '"I")', "join": '"J")',
        "cut back": '"X", SHIFT)', "corner": '"V")', "extend": '"E")', "move": '"M", SHIFT)',
        "copy": '"C", SHIFT)', "rotate": '"R", SHIFT)', "reflect": '"W", SHIFT)'}.items()},
}


def scene(tool: str) -> Part:
    """What a tool starts from: for most of them nothing."""
    draft = Draft(Part())
    if tool == "dimension":
        draft.line((0, 0), (40, 0))
    if tool in ("rows", "bolt circle"):
        draft.circle((30, 10), 3.0)  # h1
        draft.circle((0, 0), 4.0)  # h2, the hub
    return draft.done()


@pytest.mark.parametrize("name", CASES)
def test_a_tool_draws_what_was_meant(driver: Driver, name: str) -> None:
    driver.new()
    for what in ("show_dimensions", "show_bindings", "show_motion"):
        driver.board.bench.set_setting(what, name == "dimension")
    driver.board.load(scene(name))
    camera = driver.view.sheet.camera
    driver.view.sheet.camera = camera.fitting((-45.0, -25.0, 90.0, 60.0), 0.05)
    before = driver.board.part
    hands = Hands(driver)
    if name in ("rows", "bolt circle"):
        hands.select((33.0, 10.0))
        driver.tool(name)
    else:
        hands.tool(name)
    CASES[name](hands)
    while driver.board.bench.history.can_undo:
        driver.act("edit.undo")
    assert driver.board.part.curves == before.curves
    assert driver.board.part.bindings == before.bindings


def test_every_tool_has_a_window_proof() -> None:
    assert set(all_tools()) == set(CASES) | set(ELSEWHERE)
    assert not set(CASES) & set(ELSEWHERE)
    for name, (file, used) in ELSEWHERE.items():
        assert used in file.read_text("utf-8"), name


def test_the_sheet_stands_still_while_tools_change(driver: Driver) -> None:
    driver.new()
    driver.tool("outline")
    driver.click(0.0, 0.0)
    driver.click(40.0, 0.0)
    driver.click(40.0, 30.0)
    driver.key(Qt.Key.Key_Escape)
    driver.settle(300)
    view = driver.view
    seen = {}
    for name in driver.board.tools:
        if name == "clean up":
            continue  # its list takes room of the sheet
        driver.tool(name)
        driver.settle(20)
        camera = view.sheet.camera
        seen[name] = (view.viewport().size().toTuple(), camera.scale, camera.center)
    assert len(set(seen.values())) == 1, seen
