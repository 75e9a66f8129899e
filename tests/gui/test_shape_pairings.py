"""Every shape tool in the real window, by mouse and keys, on every pairing of line and arc.

The half is mirrored and holds a grid of holes. Centers of fillets come from sympy; what is made is
taken back by undo to the very part that it was.
"""

from __future__ import annotations

from math import hypot

import pytest
import sympy
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.part.edits.draft import Draft
from sketcher.part.value import GridPattern, Mirror, Part
from sketcher.part.whole import half, whole
from tests.gui.driver import NONE, Driver
from tests.shaped import CORNERS, wing

pytestmark = pytest.mark.gui
SHIFT, CTRL = Qt.KeyboardModifier.ShiftModifier, Qt.KeyboardModifier.ControlModifier
MIDDLES = {"e1": (35, 0), "e2": (60, 15), "a1": (40, 40), "a2": (15, 35)}
PAIRS = {"line and line": ("e1", "e2"), "line and arc": ("e2", "a1"), "two arcs": ("a1", "a2")}
x, y = sympy.symbols("x y", real=True)
OFF = {  # places that are 3 off a curve, on the side of the fillet
    "line and line": (y - 3, 57 - x),
    "line and arc": (57 - x, (x - 40) ** 2 + (y - 15) ** 2 - 22**2),
    "two arcs": ((x - 40) ** 2 + (y - 15) ** 2 - 28**2, x**2 + (y - 15) ** 2 - 28**2),
}


def opened(driver: Driver, part: Part) -> Part:
    driver.new()
    driver.board.bench.set_setting("show_dimensions", False)
    driver.board.bench.set_setting("show_bindings", False)
    driver.board.load(part)
    driver.settle()
    driver.view.fit()
    driver.settle()
    return driver.board.part


def key(driver: Driver, letter: str, held: Qt.KeyboardModifier = NONE) -> None:
    driver.window.focus_sheet()
    QTest.keyClick(driver.view, getattr(Qt.Key, f"Key_{letter}"), held)
    driver.settle()


def new_curve(before: Part, after: Part) -> str:
    (name,) = after.curves.keys() - before.curves.keys()
    return name


def undone(driver: Driver, before: Part, steps: int = 1) -> None:
    for _ in range(steps):
        key(driver, "Z", CTRL)
    assert driver.board.part is before


@pytest.mark.parametrize("pair", PAIRS)
def test_fillet(driver: Driver, pair: str) -> None:
    before = opened(driver, wing())
    key(driver, "F")
    for name in PAIRS[pair]:
        driver.click(*MIDDLES[name])
    driver.typed("3")
    name = new_curve(before, driver.board.part)
    found = sympy.solve(OFF[pair], [x, y])
    found = [(found[x], found[y])] if isinstance(found, dict) else found
    corner = CORNERS[pair]
    want = min(((float(u), float(v)) for u, v in found),
               key=lambda p: hypot(p[0] - corner[0], p[1] - corner[1]))
    arc = half(driver.board.part)[name]
    assert isinstance(arc, Arc)
    assert arc.center == pytest.approx(want, abs=1e-9)
    assert {f"{name}'"} <= {piece.id for piece in whole(driver.board.part)}
    assert driver.board.report.state == "bound"
    undone(driver, before)


@pytest.mark.parametrize("pair", PAIRS)
def test_chamfer(driver: Driver, pair: str) -> None:
    before = opened(driver, wing())
    key(driver, "F", SHIFT)
    driver.typed("4")
    driver.click(*CORNERS[pair])
    line = half(driver.board.part)[new_curve(before, driver.board.part)]
    assert isinstance(line, Line)
    u, v = CORNERS[pair]
    for end in (line.start, line.end):
        assert hypot(end[0] - u, end[1] - v) == pytest.approx(4, abs=1e-9)
    assert driver.board.report.state == "bound"
    undone(driver, before)


@pytest.mark.parametrize("pair", PAIRS)
def test_healing(driver: Driver, pair: str) -> None:
    before = opened(driver, wing())
    key(driver, "F")
    driver.typed("3")
    driver.click(*CORNERS[pair])
    name = new_curve(before, driver.board.part)
    driver.board.use("pick")
    driver.board.bench.select((name,))
    key(driver, "Delete", SHIFT)
    after = half(driver.board.part)
    assert after.keys() == half(before).keys()
    for each, curve in after.items():
        was = half(before)[each]
        assert curve.length == pytest.approx(was.length, abs=1e-9)
    undone(driver, before, 2)


@pytest.mark.parametrize("name", ["e1", "e2", "a1", "a2"])
def test_split_and_join(driver: Driver, name: str) -> None:
    before = opened(driver, wing())
    at = MIDDLES[name]
    key(driver, "I")
    driver.click(*at)
    new = new_curve(before, driver.board.part)
    after = half(driver.board.part)
    assert after[name].length + after[new].length == pytest.approx(half(before)[name].length)
    shared = set(driver.board.part.curves[name].points[:2]) \
        & set(driver.board.part.curves[new].points[:2])
    assert len(shared) == 1
    key(driver, "J")
    driver.click(*driver.board.part.points[shared.pop()])
    assert half(driver.board.part).keys() == half(before).keys()
    assert half(driver.board.part)[name].length == pytest.approx(half(before)[name].length)
    undone(driver, before, 2)


def crossing(kind: str) -> Part:
    """Two curves named a and b that cross at (30, 40): circles have radius 50."""
    draft = Draft(Part())
    if kind == "two arcs":
        draft.arc((50, 0), (0, 50), (0, 0), name="a")
        draft.arc((60, 50), (10, 0), (60, 0), name="b")
    else:
        draft.line((0, 40), (60, 40), name="a")
        if kind == "line and line":
            draft.line((30, 0), (30, 60), name="b")
        else:
            draft.arc((50, 0), (0, 50), (0, 0), name="b")
    return draft.done()


@pytest.mark.parametrize("pair", PAIRS)
def test_cut_back_extend_and_corner(driver: Driver, pair: str) -> None:
    before = opened(driver, crossing(pair))
    start = half(before)["a"].start  # type: ignore[union-attr]
    key(driver, "X", SHIFT)
    near_start = {"two arcs": (48, 14), "line and line": (5, 40), "line and arc": (5, 40)}[pair]
    driver.click(*near_start)
    cut = half(driver.board.part)["a"]
    assert cut.start == pytest.approx((30, 40), abs=1e-9)  # type: ignore[union-attr]
    undone(driver, before)
    key(driver, "V")
    keep_a = {"two arcs": (14, 48), "line and line": (50, 40), "line and arc": (50, 40)}[pair]
    keep_b = {"two arcs": (45, 47.7), "line and line": (30, 10), "line and arc": (48, 14)}[pair]
    driver.click(*keep_a)
    driver.click(*keep_b)
    one, other = driver.board.part.curves["a"], driver.board.part.curves["b"]
    (shared,) = set(one.points[:2]) & set(other.points[:2])
    assert driver.board.part.points[shared] == pytest.approx((30, 40), abs=1e-9)
    assert start not in (half(driver.board.part)["a"].start,)  # type: ignore[union-attr]
    undone(driver, before)


def short(kind: str) -> Part:
    """Curve a stops short of curve b, which it would reach at (30, 40)."""
    draft = Draft(Part())
    if kind == "two arcs":
        draft.arc((50, 0), (40, 30), (0, 0), name="a")
        draft.arc((60, 50), (10, 0), (60, 0), name="b")
    else:
        draft.line((0, 40), (20, 40), name="a")
        if kind == "line and line":
            draft.line((30, 0), (30, 60), name="b")
        else:
            draft.arc((50, 0), (0, 50), (0, 0), name="b")
    return draft.done()


@pytest.mark.parametrize("pair", PAIRS)
def test_extend(driver: Driver, pair: str) -> None:
    before = opened(driver, short(pair))
    key(driver, "E")
    driver.click(*((43, 25.5) if pair == "two arcs" else (18, 40)))
    a = half(driver.board.part)["a"]
    assert a.end == pytest.approx((30, 40), abs=1e-9)  # type: ignore[union-attr]
    undone(driver, before)


def test_move_copy_rotate_and_reflect(driver: Driver) -> None:
    before = opened(driver, wing(repeated=False))

    def center(name: str) -> tuple[float, float]:
        circle = half(driver.board.part)[name]
        assert isinstance(circle, Circle)
        return circle.center

    driver.board.bench.select(("h1",))
    key(driver, "M", SHIFT)
    driver.move(50, 20)
    driver.keys("6")  # run
    key(driver, "Tab")
    driver.typed("0")  # rise
    key(driver, "Return")
    assert center("h1") == pytest.approx((36, 10), abs=1e-9)
    undone(driver, before)
    driver.board.bench.select(("h1",))
    key(driver, "C", SHIFT)
    driver.click(30, 10)
    driver.click(45, 20, CTRL)
    assert center(new_curve(before, driver.board.part))[0] == pytest.approx(45, abs=0.3)
    key(driver, "Escape")
    key(driver, "Escape")
    undone(driver, before)
    driver.board.bench.select(("h1",))
    key(driver, "R", SHIFT)
    driver.typed("90")
    assert center("h1") == pytest.approx((-10, 30), abs=1e-9)
    undone(driver, before)
    driver.board.bench.select(("h1",))
    key(driver, "W", SHIFT)
    driver.click(60, 15)
    assert center(new_curve(before, driver.board.part)) == pytest.approx((90, 10), abs=1e-9)
    undone(driver, before)


def chained() -> Part:
    """A line that runs into an arc, in a grid of two by two, reflected about x = 0."""
    draft = Draft(Part())
    p, q, r = (draft.point(at) for at in ((20, 10), (32, 10), (38, 16)))
    draft.line(p, q)
    draft.arc(q, r, (32, 16))
    axis = draft.line((0, 0), (0, 70), "axis")
    draft.set_mirrors((Mirror(axis),))
    draft.pattern(GridPattern(("e1", "a1"), ("25", "30"), (2, 2)))
    return draft.done()


def test_a_line_and_an_arc_are_moved_rotated_copied_and_reflected(driver: Driver) -> None:
    before = opened(driver, chained())

    def places() -> list[tuple[float, float]]:
        line, arc = (half(driver.board.part)[name] for name in ("e1", "a1"))
        assert isinstance(line, Line)
        assert isinstance(arc, Arc)
        return [line.start, line.end, arc.start, arc.end, arc.center]

    def check(exact: object) -> None:
        for was, now in zip(old, places(), strict=True):
            assert now == pytest.approx(exact(*was), abs=1e-9)  # type: ignore[operator]
        for name in ("e1", "a1"):
            assert sum(p.source == name for p in whole(driver.board.part)) == 8

    old = places()
    driver.board.bench.select(("e1", "a1"))
    key(driver, "M", SHIFT)
    driver.move(50, 60)
    driver.keys("6")  # run
    key(driver, "Tab")
    driver.typed("-4")  # rise
    key(driver, "Return")
    check(lambda a, b: (a + 6, b - 4))
    undone(driver, before)
    driver.board.bench.select(("e1", "a1"))
    key(driver, "R", SHIFT)
    driver.typed("90")
    check(lambda a, b: (-b, a))
    undone(driver, before)
    driver.board.bench.select(("e1", "a1"))
    key(driver, "C", SHIFT)
    driver.move(50, 60)
    driver.keys("6")
    key(driver, "Tab")
    driver.typed("-4")
    key(driver, "Return")
    check(lambda a, b: (a, b))
    made = driver.board.part.curves.keys() - before.curves.keys()
    kinds = {driver.board.part.curves[name].kind: half(driver.board.part)[name] for name in made}
    assert kinds["line"].start == pytest.approx((26, 6), abs=1e-9)  # type: ignore[union-attr]
    assert kinds["arc"].center == pytest.approx((38, 12), abs=1e-9)  # type: ignore[union-attr]
    undone(driver, before)
    driver.board.bench.select(("e1", "a1"))
    key(driver, "W", SHIFT)
    key(driver, "W")
    driver.click(0, 60)
    check(lambda a, b: (-a, b))
    undone(driver, before)
