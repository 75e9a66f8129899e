"""The page of a foreign drawing with much on it, for whoever walks over all dialogs."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from sketcher.board.files.bringing_in import Brought, brought_in
from sketcher.desk.dialogs.bring_in_desk import BringInDesk
from sketcher.intake.wishes import Wishes
from tests import foreign
from tests.gui.driver import Driver


@cache
def _brought() -> Brought:
    curves = [*foreign.plate_curves(), *foreign.plate_curves(110.0, 0.02)]
    return brought_in(foreign.content(curves, None), Wishes())


def foreign_desk(driver: Driver) -> BringInDesk:
    """Return the page with two parts, a question and a repair that is looked at."""
    window, brought = driver.window, _brought()
    desk = BringInDesk(driver.board, window.host, Path("two-plates-from-elsewhere.dxf"),
                       window.look, window)
    desk.bringing.content, desk.bringing.brought = brought.taken.content, brought
    desk.follow()
    desk.tree.point_at(1)
    return desk
