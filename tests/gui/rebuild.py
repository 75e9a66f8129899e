"""Builds a part from an empty sheet through the window: clicks, buttons and typed values only."""

from __future__ import annotations

from math import hypot

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit

from sketcher.board.preview import Pointer
from sketcher.desk.panes.ledger_model import FIELDS
from sketcher.geometry.curves import XY, Arc, Circle, Line
from sketcher.geometry.evaluate import point_at
from sketcher.part.value import ArcCurve, CircleCurve, Part, PartCurve
from sketcher.part.whole import curve_value
from tests.gui.driver import LEFT, Driver

CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier


class Rebuild:
    """Draws the rough sketch of `part`, then binds it row by row.

    `names` maps ids of the part to ids that the window gave.
    """

    def __init__(self, driver: Driver, part: Part) -> None:
        self.driver = driver
        self.part = part
        self.names: dict[str, str] = {}
        self.shared: list[tuple[str, str]] = []

    def build(self) -> None:
        driver = self.driver
        driver.new(self.part.unit)
        xs = [x for x, _ in self.part.points.values()]
        ys = [y for _, y in self.part.points.values()]
        driver.view.sheet.camera = driver.view.sheet.camera.fitting(
            (min(xs), min(ys), max(xs), max(ys)), 0.15
        )
        for what in ("show_dimensions", "show_bindings", "show_motion"):
            driver.board.bench.set_setting(what, False)
        # Arcs first: later lines then end on their ends and centers.
        order = sorted(self.part.curves.items(), key=lambda item: item[1].kind != "arc")
        for name, curve in order:
            self.draw(name, curve)
        for name in self.part.points:
            if name not in self.names:
                self.lone_point(name)
        self.parameters()
        for pair in self.shared:
            self.press_all(pair)
            QTest.mouseClick(self.driver.window.ledger.kinds.buttons["concentric"], LEFT)
        for name in self.part.bindings:
            self.bind(name)
        driver.settle(5)

    # Drawing.

    def press(self, point: str) -> None:
        """Click where a point is: on the point once it is drawn, freely before."""
        at = self.at(point)
        self.driver.click(*at, Qt.KeyboardModifier.NoModifier if point in self.names else CTRL)

    def at(self, point: str) -> XY:
        """Where a point stands on the sheet: snapped points may differ from the file's."""
        made = self.names.get(point)
        return self.driver.board.part.points[made] if made else self.part.points[point]

    def draw(self, name: str, curve: PartCurve) -> None:
        driver, before = self.driver, set(self.driver.board.part.curves)
        if isinstance(curve, CircleCurve):
            driver.tool("circle")
            self.press(curve.center)
            x, y = self.at(curve.center)
            driver.click(x + curve.radius, y, CTRL)
        elif isinstance(curve, ArcCurve):
            self._arc(curve)
        else:
            driver.tool({"layout": "layout line", "axis": "axis"}.get(curve.role, "line"))
            self.press(curve.ends[0])
            self.press(curve.ends[1])
        driver.tool("pick")
        (made,) = set(driver.board.part.curves) - before
        self._match(curve, made)
        self.names[name] = made

    def lone_point(self, name: str) -> None:
        """A point that no curve has, such as a lost corner: the end of a layout line."""
        self.driver.tool("layout line")
        before = set(self.driver.board.part.points)
        self.press(next(point for point in self.part.points if point in self.names))
        self.press(name)
        self.driver.tool("pick")
        made = set(self.driver.board.part.points) - before
        assert len(made) == 1, (name, made, self.driver.board.bench.message)
        (self.names[name],) = made

    def _arc(self, curve: ArcCurve) -> None:
        arc = Arc(self.part.points[curve.center], self.at(curve.ends[0]), self.at(curve.ends[1]),
                  curve.turn == "ccw")
        self.driver.tool("arc points")
        self.press(curve.ends[0])
        self.press(curve.ends[1])
        self.driver.click(*point_at(arc, 0.5), CTRL)

    def _match(self, curve: PartCurve, made_id: str) -> None:
        """Pair the points of a drawn curve with the file's by where they stand."""
        there = self.driver.board.part.points
        made = self.driver.board.part.curves[made_id]
        if not isinstance(curve, CircleCurve):
            for point in curve.ends:
                x, y = self.at(point)
                self.names[point] = min(
                    made.ends, key=lambda p: hypot(there[p][0] - x, there[p][1] - y)
                )
        if not hasattr(curve, "center"):
            return
        if self.names.setdefault(curve.center, made.center) != made.center:
            same = next(n for n, c in self.part.curves.items()
                        if getattr(c, "center", None) == curve.center and n in self.names)
            self.shared.append((self.names[same], made_id))

    # Binding.

    def parameters(self) -> None:
        table = self.driver.window.ledger.parameters
        for name, text in self.part.parameters.items():
            fresh = table.rows.index(len(table.rows.rows), 0)
            table.setCurrentIndex(fresh)
            table.edit(fresh)
            field = table.viewport().findChild(QLineEdit)
            field.selectAll()
            QTest.keyClicks(field, f"{name} = {text}")
            QTest.keyClick(field, Qt.Key.Key_Return)
            self.driver.settle(1)
            assert self.driver.board.part.parameters[name] == text

    def place_on(self, name: str) -> XY:
        """A place on a curve far from points and other curves, where no sign or text stands."""
        board = self.driver.board
        curve = curve_value(board.part, board.part.curves[name])
        reach = board.bench.settings["reach"] / self.driver.view.sheet.camera.scale
        best, room = point_at(curve, 0.37), -1.0
        for step in range(1, 40):
            at = point_at(curve, step / 40)
            if self.driver.view.sheet.binding_at(Pointer(*at, reach)) is not None:
                continue
            near = [hypot(at[0] - x, at[1] - y) for x, y in board.part.points.values()]
            picker = board.bench.derived.picker()
            others = [pick.distance for pick in picker.curves_near(at, 3 * reach)
                      if pick.source != name]
            found = min([*near, *others, 3 * reach])
            if found > room:
                best, room = at, found
        assert isinstance(curve, Line | Arc | Circle)
        return best

    def select(self, ids: tuple[str, ...]) -> None:
        """Press points and curves by the file's names."""
        self.press_all(tuple(self.names[name] for name in ids))

    def press_all(self, made: tuple[str, ...]) -> None:
        driver = self.driver
        driver.tool("pick")
        for number, name in enumerate(made):
            points = driver.board.part.points
            at = points[name] if name in points else self.place_on(name)
            driver.click(*at, SHIFT if number else Qt.KeyboardModifier.NoModifier)
        assert set(driver.board.bench.selection.ids) == set(made)
        driver.settle(1)

    def bind(self, name: str) -> None:
        driver, binding = self.driver, self.part.bindings[name]
        of = {self.names[each] for each in binding.of}
        for known, there in driver.board.part.bindings.items():
            if there.kind == binding.kind and set(there.of) == of:
                self.names[name] = known  # what a snap showed while drawing
                return
        self.select(binding.of)
        button = driver.window.ledger.kinds.buttons[binding.kind]
        before = set(driver.board.part.bindings)
        QTest.mouseClick(button, LEFT)
        driver.settle(1)
        fresh = set(driver.board.part.bindings) - before
        assert len(fresh) == 1, (name, binding, driver.window.ledger.reason.text())
        (made,) = fresh
        self.names[name] = made
        field = QApplication.focusWidget()
        if binding.value is not None:
            assert isinstance(field, QLineEdit), (name, binding)
            field.selectAll()
            QTest.keyClicks(field, binding.value)
            QTest.keyClick(field, Qt.Key.Key_Return)
            driver.settle(1)
            assert driver.board.part.bindings[made].value == binding.value, (
                name, driver.window.ledger.reason.text()
            )
        if not binding.drives:
            table, model = driver.window.ledger.table, driver.window.ledger.model
            table.setCurrentIndex(model.index(model.row_of(made), FIELDS.index("drives")))
            table.setFocus()
            QTest.keyClick(table, Qt.Key.Key_Space)
            driver.settle(1)
            assert not driver.board.part.bindings[made].drives
