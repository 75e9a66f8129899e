"""What the window shows of the finished drawing, by the name of the dialog."""

from __future__ import annotations

from collections.abc import Callable, Collection

from PySide6.QtWidgets import QWidget

from sketcher.board.board import Board
from sketcher.board.job import Job
from sketcher.board.window_port import Take
from sketcher.desk.menus import Commands


def paperwork(board: Board, commands: Commands, parent: QWidget) -> dict[str, Callable[[], None]]:
    """Return the dialogs of the finished drawing; each is loaded when it is first wanted."""

    def drawing() -> None:
        from sketcher.desk.dialogs.drawing_desk import show_drawing

        show_drawing(board, commands.run, parent)

    def printing() -> None:
        from sketcher.desk.dialogs.printing import preview_print
        from sketcher.drafting.sheet import pages
        from sketcher.inspect.release import stamp_codes

        stamp = stamp_codes(board.bench.derived.inspection())
        made = board.bench.worker.finish(
            Job("Drawing the sheet", pages, (board.part, None, stamp), 0.0))
        preview_print(made, parent)

    def record() -> None:
        from sketcher.desk.dialogs.record_desk import show_record
        from sketcher.desk.looks import LOOKS

        show_record(board, commands.host, LOOKS[board.bench.settings["look"]], parent)

    return {"drawing": drawing, "print": printing, "record": record}


def cutting_page(board: Board, parent: QWidget) -> Callable[[Collection[str], Take], bool]:
    """Return what shows the page of a cut, which is loaded when it is first wanted."""

    def cutting(despite: Collection[str], take: Take) -> bool:
        from sketcher.desk.dialogs.cutting_desk import show_cutting
        from sketcher.desk.looks import LOOKS

        look = LOOKS[board.bench.settings["look"]]
        return show_cutting(board, look, parent, despite, take)

    return cutting
