"""The page of a class with much on it, for whoever walks over all dialogs."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

from sketcher.board.files.marking_job import ClassCompared
from sketcher.desk.dialogs.marking_desk import MarkingDesk
from sketcher.inspect.sketched import solve_sketch
from sketcher.marking.class_worker import Marked
from sketcher.marking.copied_hand_ins import Alike
from sketcher.marking.hand_in import LayerQuestion
from sketcher.marking.marked_view import key_view
from sketcher.marking.marking_rule import Mistake
from sketcher.marking.marks import Deduction, Marks
from sketcher.marking.roster import ClassEntry, ClassList
from sketcher.marking.rules import marking_rules
from sketcher.part.store import load
from sketcher.part.value import frozen
from sketcher.shipped import shipped
from tests.gui.driver import Driver

STUDENTS, PLACES = 32, 9
LONG = ("the rise of 100 from the bottom edge to the arc R22 at the top is drawn 104, and what "
        "hangs on it with it")


@cache
def compared() -> ClassCompared:
    """A class whose hand-ins break each rule somewhere, some of them at many places."""
    key = solve_sketch(load(shipped("demo_parts", "gate-strap.profile.json"))).part
    view = key_view(key)
    view = replace(view, hand=frozen({"outline": view.key}))
    rules = tuple(marking_rules())
    places = list(key.points.values())
    marked = []
    for number in range(STUDENTS):
        entry = ClassEntry(f"{number + 1:02d}", f"/class/{number + 1:02d}-strap.dxf",
                           "A name of some length" if number % 3 else "Short")
        if number == 5:
            marks = Marks(entry.file, 0.0, 100.0, ungraded="is not a readable DXF: it has no "
                          "section ENTITIES; export it again as DXF R2000 or later")
            marked.append(Marked(entry, marks))
            continue
        deductions = tuple(
            Deduction(n + 1, rules[(number + n) % len(rules)], 0.0,
                      Mistake(places[(3 * n) % len(places)], "104", "100", LONG))
            for n in range(number % (PLACES + 1)))
        asked = LayerQuestion("PLAN-1", "outline", 12, "its lines close, and no layer is named so")
        marked.append(Marked(entry, Marks(
            entry.file, 0.0, 100.0, deductions, frozen({rules[-1]: "the file has no dimension"}),
            unit="in", turned=90.0, mirrored=True), made=view,
            questions=(asked,)))
    listed = ClassList(tuple(one.entry for one in marked), (ClassEntry("40"),), ("notes.txt",))
    alike = Alike(9, 12, ("the same file, byte for byte",))
    return ClassCompared(key, listed, tuple(marked), (alike,))


def class_desk(driver: Driver, page: int = 2) -> MarkingDesk:
    """Return the page with a class, at one of its steps; a hand-in with many rings is shown."""
    window = driver.window
    desk = MarkingDesk(driver.board, window.host, window.look, window)
    put_class(desk)
    desk.tabs.setCurrentIndex(page)
    desk.table.point_at(PLACES)
    return desk


def put_class(desk: MarkingDesk) -> None:
    """Let a page have a class as if it were compared just now."""
    book = desk.book
    if book.key is None and not book.has_part:
        book.use_key(Path("/class/key.profile.json"))
    if book.folder is None:
        book.use_folder(Path("/class"))
    book.take(compared())
