"""What the window teaches about a part, by the name under which an action asks for it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sketcher.desk.constructing import Constructing
    from sketcher.desk.practice_desk import PracticeDesk
    from sketcher.desk.window import MainWindow


def taught(window: MainWindow) -> dict[str, Callable[[], None]]:
    """Return what can be shown; each is loaded when it is first wanted, and then stays."""
    made: list[Constructing] = []
    desks: list[PracticeDesk] = []

    def construction() -> None:
        from sketcher.desk.constructing import Constructing

        if not made:
            made.append(Constructing(window))
        made[0].begin()

    def practice() -> None:
        from sketcher.desk.practice_desk import PracticeDesk

        if not desks:
            desks.append(PracticeDesk(window))
        desks[0].choose()

    return {"construction": construction, "practice": practice}
