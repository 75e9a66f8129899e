"""Menus, keys and the tool tray, made from the board's actions."""

from __future__ import annotations

from functools import partial
from typing import TypeVar

from PySide6.QtCore import QObject, Qt, Signal, Slot
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMenu, QMenuBar, QToolButton, QWidget

from sketcher.board.action_table import Action, all_actions, perform
from sketcher.board.board import Board
from sketcher.board.window_port import Host
from sketcher.desk.icons import icon
from sketcher.desk.looks import Look
from sketcher.desk.rack import Rack
from sketcher.desk.tray import Tray

Bar = TypeVar("Bar", Tray, Rack)

# Tools in the order in which a part is drawn; those not named here follow.
TRAY = ("pick", "outline", "line", "arc center", "arc points", "circle", "slot", "curved slot",
        "rectangle", "layout line", "axis", "offset ladder", "line at angle", "tangent circle",
        "tangent line", "slot center line", "trace", "mirror", "dimension", "centers")
# Shape tools in the order of the rack beside the sheet; those not named here follow.
RACK = ("fillet", "chamfer", "corner", "cut back", "extend", "split", "join", "move", "copy",
        "rotate", "reflect", "rows", "bolt circle", "clean up")
# Menus in the order of the work; a stroke parts what does not belong together.
LINE = "-"
MENUS = {
    "file": ("file.new_mm", "file.new_in", "file.open", "file.bring_in",
             "file.start", "file.practice", LINE, "file.save", "file.save_as", LINE,
             "file.describe", LINE, "file.drawing", "file.print", "file.export_sheet", LINE,
             "file.export_cut", "file.export_template", "file.export_holes", LINE,
             "file.export_inspection", "file.record", LINE, "file.mark_class", LINE, "file.quit"),
    "edit": ("edit.undo", "edit.redo", LINE, "edit.cut", "edit.copy", "edit.paste",
             "edit.delete", "edit.delete_heal", LINE,
             "edit.select_all", "edit.select_loose", "edit.select_trouble"),
    "tool": ("tool.pick", LINE,
             *(f"tool.{name}" for name in TRAY[1:TRAY.index("layout line")]), LINE,
             *(f"tool.{name}" for name in TRAY[TRAY.index("layout line"):TRAY.index("mirror")]),
             LINE,
             *(f"tool.{name}" for name in TRAY[TRAY.index("mirror"):])),
    "shape": (*(f"tool.{name}" for name in RACK[:RACK.index("move")]), LINE,
              *(f"tool.{name}" for name in RACK[RACK.index("move"):RACK.index("rows")]), LINE,
              "tool.rows", "tool.bolt circle", "shape.remove_pattern", "shape.separate_copies",
              LINE,
              "shape.outline", "shape.layout", "shape.axis", LINE, "tool.clean up"),
    "mirror": ("tool.mirror", LINE, "mirror.flip", "mirror.whole", "mirror.clear"),
}
TITLES = {
    "file": "&File", "edit": "&Edit", "tool": "Dra&w", "shape": "&Shape", "bind": "Bi&nd",
    "mirror": "M&irror", "readout": "&Readout", "view": "&View", "help": "&Help",
}
WITHOUT_PART = ("file.new_mm", "file.new_in", "file.open", "file.bring_in",
                "file.practice", "file.mark_class", "file.quit", "view.look", "view.preferences")
SHORT = {"readout.unit": "mm / in", "readout.zero": "Zero", "readout.halve": "Halve"}


def teaching(label: str, hint: str, keys: tuple[str, ...]) -> str:
    """Return a tooltip: what it is, its key, and what it does."""
    head = f"<b>{label}</b>" + (f" &nbsp;({keys[0]})" if keys else "")
    return f"<p>{head}<br>{hint}</p>" if hint else f"<p>{head}</p>"


def is_letter(key: str) -> bool:
    """Say whether a key counts only while the sheet has the keyboard, so that fields get it."""
    bare = key.removeprefix("Shift+")
    return len(bare) == 1 or bare in ("Delete", "Backspace", "Home", "End", "Insert")


class Commands(QObject):
    """One `QAction` for each action of the board, found by name or by key.

    Signals
    -------
    hinted(str)
        What the entry does that a menu is at; an empty text when it is closed.
    taken(QAction)
        A tool was taken up, by whatever button, entry or key: the next thing is done on the sheet.
    """

    hinted = Signal(str)
    taken = Signal(QAction)

    def __init__(self, board: Board, host: Host, parent: QWidget) -> None:
        super().__init__(parent)
        self.board = board
        self.host = host
        self.actions: dict[str, Action] = dict(all_actions())
        self.made: dict[str, QAction] = {}
        self._letters: dict[str, QAction] = {}
        self._tools = QActionGroup(self)
        self._tools.triggered.connect(self.taken)
        self._covered = False
        for name, action in self.actions.items():
            self.made[name] = self._make(name, action)
        self.refresh()

    def _make(self, name: str, action: Action) -> QAction:
        made = QAction(action.label, self)
        made.setObjectName(name)
        made.setToolTip(teaching(action.label, action.hint, action.keys))
        made.setCheckable(action.checked is not None)
        wide = [key for key in action.keys if not is_letter(key)]
        near = [key for key in action.keys if is_letter(key)]
        made.setShortcuts([QKeySequence(key) for key in wide])
        for key in near:
            self._letters[key.lower()] = made
        if near and not wide:
            made.setText(f"{action.label}\t{near[0]}")
        made.setIconText(SHORT.get(name, action.label))
        if name.startswith("tool."):
            self._tools.addAction(made)
            made.setIconText(self.board.tools[name.split(".", 1)[1]].word())
        made.triggered.connect(partial(self.run, name))
        return made

    @Slot(QAction)
    def _hint(self, action: QAction) -> None:
        """Tell what an entry of a menu does; a tip beside it would cover those below."""
        known = self.actions.get(action.objectName())
        self.hinted.emit("" if known is None else known.hint)

    @Slot()
    def _no_hint(self) -> None:
        self.hinted.emit("")

    def run(self, name: str, checked: bool = False) -> bool:
        """Do an action by name; what goes wrong is told."""
        done = perform(name, self.board, self.host)
        self.refresh()
        return done

    def letter(self, key: str) -> None:
        """Do what a key stands for while the sheet has the keyboard."""
        made = self._letters.get(key.lower())
        if made is not None and made.isEnabled():
            made.trigger()

    def refresh(self) -> None:
        """Follow the board: what can be done now, and which switches are on."""
        tries = self.board.bench.give_back is not None
        for name, action in self.actions.items():
            made = self.made[name]
            kept_from = self._covered or (tries and action.group == "file")
            reached = not kept_from or name in WITHOUT_PART
            made.setEnabled(reached and bool(action.enabled(self.board)))
            if action.checked is not None:
                made.setChecked(bool(action.checked(self.board)))

    def cover(self, covered: bool) -> None:
        """Leave only what needs no part while another page is in the place of the sheet."""
        self._covered = covered
        self.refresh()

    def fill(self, bar: QMenuBar) -> None:
        """Fill the menus, group by group."""
        for group, title in TITLES.items():
            named = MENUS.get(group, ())
            rest = [n for n, a in self.actions.items() if a.group == group and n not in named]
            entries = [n for n in named if n in self.made or n == LINE] + rest
            if not entries:
                continue
            menu = QMenu(title, bar)
            menu.hovered.connect(self._hint)
            menu.aboutToHide.connect(self._no_hint)
            for name in entries:
                if name == LINE:
                    menu.addSeparator()
                else:
                    menu.addAction(self.made[name])
            bar.addMenu(menu)

    def tray(self, parent: QWidget) -> Tray:
        """Return the tray of drawing tools that lies between sheet and readout."""
        return self._stocked(Tray("Tools", parent), "tool", TRAY)

    def rack(self, parent: QWidget) -> Rack:
        """Return the rack of shape tools that stands beside the sheet."""
        return self._stocked(Rack("Shape tools", parent), "shape", RACK)

    def _stocked(self, bar: Bar, group: str, order: tuple[str, ...]) -> Bar:
        bar.setAccessibleName(bar.windowTitle())
        made = [m for m in self._tools.actions() if self.actions[m.objectName()].group == group]
        for tool in sorted(made, key=partial(_place, order)):
            button = bar.stock(tool)
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
            button.setAccessibleName(self.actions[tool.objectName()].label)
        return bar

    def wear(self, look: Look, ratio: float) -> None:
        """Draw the tools' icons in the colours of a look, for a screen's pixels."""
        for name in self.actions:
            if name.startswith("tool."):
                drawing = name.split(".", 1)[1]
                self.made[name].setIcon(icon(drawing, look.text, look.chosen_text, ratio))

    def button(self, name: str, parent: QWidget) -> QToolButton:
        """Return a button for an action."""
        button = QToolButton(parent)
        button.setDefaultAction(self.made[name])
        button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        button.setAccessibleName(self.actions[name].label)
        return button


def _place(order: tuple[str, ...], made: QAction) -> tuple[int, str]:
    name = made.objectName().split(".", 1)[1]
    return (order.index(name) if name in order else len(order), name)
