"""Every snap with the pointer in the window: it says its word, binds, and Ctrl switches it off.

A snap without a case here fails the last test.
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, hypot, radians, sin
from typing import NamedTuple

import pytest

from sketcher.board.places.snap_choice import snaps
from sketcher.part.edits.draft import Draft
from sketcher.part.kinds import measure
from sketcher.part.value import Mirror, Part
from tests.gui.driver import NONE, Driver
from tests.gui.rebuild import CTRL
from tests.gui.window_hands import WindowHands

pytestmark = pytest.mark.e2e
XY = tuple[float, float]
RISING = 26.56505117707799  # direction of e1 in degrees: 40 by 20


class Case(NamedTuple):
    """Where a line starts and is pressed, what the pointer was on; the word and what it binds."""

    start: XY
    press: XY
    word: str
    kinds: tuple[str, ...]
    at: XY | Callable[[XY], XY] | None = None  # where the end is, by the start; None: it can slide
    touched: tuple[XY, ...] = ()
    tool: str = "line"


def scene() -> Part:
    """A rising line, a circle, an arc, a plumb axis, a reflected line and one across it."""
    draft = Draft(Part())
    draft.line((10, 10), (50, 30))  # e1
    draft.circle((80, 20), 10.0)  # h1
    draft.arc((120, 0), (140, 20), (120, 20))  # a1
    axis = draft.line((0, -10), (0, 60), "axis")  # x1
    draft.line((10, 50), (30, 55))  # e2
    draft.line((14, 45), (16, 62))  # e3
    draft.set_mirrors((Mirror(axis),))
    return draft.done()


def away(start: XY, degrees: float, size: float) -> XY:
    return (start[0] + size * cos(radians(degrees)), start[1] + size * sin(radians(degrees)))


def touching(start: XY, center: XY, radius: float) -> XY:
    """Where a line from a place touches a circle: by the right angle at the foot (Thales)."""
    x, y = start[0] - center[0], start[1] - center[1]
    far = hypot(x, y)
    along, aside = radius**2 / far, radius * (1 - (radius / far) ** 2) ** 0.5
    return (center[0] + (along * x - aside * y) / far, center[1] + (along * y + aside * x) / far)


def foot(start: XY) -> XY:
    """The foot on e1: its direction is (2, 1) over the root of 5."""
    along = (2 * (start[0] - 10) + start[1] - 10) / 5
    return (10 + 2 * along, 10 + along)


FOOT = touching((60, 50), (80, 20), 10)
CASES = {
    "end": Case((33, 3), (50.4, 30.3), "end p2", (), (50, 30)),
    "center": Case((95, 45), (80.4, 19.7), "center of h1", (), (80, 20)),
    "middle": Case((33, 3), (30.2, 20.2), "midpoint of e1", ("middle",), (30, 20)),
    "quadrant": Case((85, 60), (80.3, 30.4), "quadrant of h1", ("on", "plumb"), (80, 30)),
    "crossing": Case((40, 44), (14.9, 51.4), "crossing of e", ("on", "on"),
                     (14 + 8 / 11, 45 + 68 / 11)),
    "on": Case((33, 3), (20.3, 15.3), "on e1", ("on",)),
    "image": Case((-33, 3), (-50.3, 30.3), "image of p2", ("reflected",), (-50, 30)),
    "tangent": Case((60, 50), (FOOT[0] + 0.2, FOOT[1] + 0.1), "tangent to h1", ("on", "tangent"),
                    lambda start: touching(start, (80, 20), 10)),
    "square": Case((16, 38), (26.3, 17.8), "square to e1", ("on", "square"), foot),
    "level": Case((60, 80), (75, 80.2), "level", ("level",)),
    "plumb": Case((60, 80), (60.2, 95), "plumb", ("plumb",)),
    "parallel": Case((60, 80), away((60, 80), RISING + 0.5, 15), "parallel to e1", ("parallel",),
                     None, ((22, 16.1),)),
    "square from": Case((60, 80), away((60, 80), RISING + 90.5, 15), "square to e1", ("square",),
                        None, ((22, 16.1),)),
    "level with": Case((90, 60), (71, 30.3), "level with p2", ("level",), None, ((50.1, 30.1),)),
    "plumb with": Case((90, 60), (50.3, 77), "plumb with p2", ("plumb",), None, ((50.1, 30.1),)),
    "straight on": Case((140, 20), (140.2, 45), "tangent to a1", ("tangent",), None, (), "outline"),
    "zero": Case((30, -6), (0.4, -0.3), "zero", ("fixed",), (0, 0)),
}


def words(driver: Driver) -> str:
    return ", ".join(word.text for word in driver.board.preview.words)


@pytest.mark.parametrize("name", CASES)
def test_a_snap_says_its_word_and_binds(driver: Driver, name: str) -> None:
    case = CASES[name]
    driver.new()
    driver.board.load(scene())
    for what in ("show_dimensions", "show_bindings", "show_motion"):
        driver.board.bench.set_setting(what, False)
    camera = driver.view.sheet.camera
    places = (case.start, case.press, *case.touched)
    xs, ys = zip(*places, strict=True)
    box = (min(xs) - 8, min(ys) - 8, max(xs) + 8, max(ys) + 8)
    driver.view.sheet.camera = camera.fitting(box, 0.0)
    before = driver.board.part
    WindowHands(driver).tool(case.tool)
    driver.click(*case.start, CTRL if case.tool == "line" else NONE)
    for place in case.touched:
        driver.move(*place)
    driver.move(*case.press, CTRL)
    assert words(driver) == ""
    driver.move(*case.press)
    assert case.word in words(driver)
    driver.click(*case.press)
    part = driver.board.part
    (made,) = part.curves.keys() - before.curves.keys()
    bound = [b for n, b in part.bindings.items() if n not in before.bindings]
    assert sorted(b.kind for b in bound) == sorted(case.kinds)
    assert all(abs(measure(part, b)) < 1e-7 for b in bound)
    first, last = (part.points[point] for point in part.curves[made].ends)
    if case.at is not None:
        at = case.at(first) if callable(case.at) else case.at
        assert last == pytest.approx(at, abs=1e-9)
    assert len(driver.window.ledger.model.rows) == len(part.bindings)


def test_every_snap_has_a_case() -> None:
    assert set(CASES) == set(snaps())
