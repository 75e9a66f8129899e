"""A bound half with a corner of every pairing of line and arc, and hands for a board."""

from __future__ import annotations

from math import hypot

from sketcher.board.board import Board
from sketcher.board.preview import Pointer
from sketcher.part.edits.draft import Draft
from sketcher.part.value import GridPattern, Mirror, Part, PolarPattern

CORNERS = {"line and line": (60.0, 0.0), "line and arc": (60.0, 30.0), "two arcs": (20.0, 30.0)}
"""Where the curves of a pairing meet in `wing`."""


def wing(mirrored: bool = True, repeated: bool = True) -> Part:
    """Half of a plate: e1, e2 lines, a1, a2 arcs of radius 25, h1 in a grid, all bound."""
    draft = Draft(Part(name="Wing"))
    p = [draft.point(at) for at in ((0, 0), (60, 0), (60, 30), (20, 30), (0, 40))]
    middles = [draft.point(at) for at in ((40, 15), (0, 15))]
    draft.line(p[0], p[1])
    draft.line(p[1], p[2])
    draft.arc(p[2], p[3], middles[0])
    draft.arc(p[3], p[4], middles[1])
    top = draft.point((0, 60))
    axis = draft.line(p[0], top, "axis")
    for kind, of, value in (
        ("fixed", (p[0],), None), ("plumb", (axis,), None), ("rise", (p[0], top), "60"),
        ("level", ("e1",), None), ("distance", ("e1",), "60"), ("plumb", ("e2",), None),
        ("distance", ("e2",), "30"), ("run", (p[0], middles[0]), "40"),
        ("rise", (p[0], middles[0]), "15"), ("on", (middles[1], axis), None),
        ("rise", (p[0], middles[1]), "15"), ("on", (p[4], axis), None),
        ("rise", (p[0], p[4]), "40"),
    ):
        draft.bind(kind, of, value)
    hole = draft.circle(draft.point((30, 10)), 2.0)
    center = draft.curves[hole].points[0]
    draft.bind("run", (p[0], center), "30")
    draft.bind("rise", (p[0], center), "10")
    draft.bind("diameter", (hole,), "4")
    if mirrored:
        draft.set_mirrors((Mirror(axis),))
    if repeated:
        draft.pattern(GridPattern((hole,), ("8", "6"), (2, 2)))
    return draft.done()


class Hands:
    """A person at a board: every word here is one event or one value typed."""

    def __init__(self, part: Part | None = None) -> None:
        self.board = Board(part)

    def use(self, tool: str, *selected: str) -> None:
        """Take a tool in hand, with things selected before."""
        self.board.bench.select(selected)
        self.board.use(tool)

    def move(self, x: float, y: float, reach: float = 1.0) -> None:
        """Point at a place."""
        self.board.move(Pointer(x, y, reach))

    def press(self, x: float, y: float, *keys: str) -> None:
        """Press and let go at a place."""
        pointer = Pointer(x, y, 1.0, frozenset(keys))
        self.board.move(pointer)
        self.board.press(pointer)
        self.board.release(pointer)

    def type(self, text: str, row: str = "") -> None:
        """Type a value into the row that takes it, or into another one, and press Enter.

        Into a row that is named it is held with Tab, so that others can follow.
        """
        if row:
            assert self.board.typing.open_row(row), self.board.typing.rows()
            for letter in text:
                self.board.key(letter)
        else:
            assert self.board.typing.type_text(text)
        self.board.key("tab" if row else "enter")

    @property
    def part(self) -> Part:
        """The part as it stands."""
        return self.board.part


PATTERNS = {
    "grid": GridPattern(("e1", "e2", "a1", "a2"), ("30", "40"), (2, 2)),
    "polar": PolarPattern(("e1", "e2", "a1", "a2"), "hub", 3, "360"),
}


def cutout(pattern: str) -> Part:
    """e1 level and e2 plumb at (100, 20); a1 from e1's end, a2 to e2's end, both of radius 10."""
    draft = Draft(Part())
    hub = draft.point((200.0, 20.0), name="hub")
    p = [draft.point(at) for at in ((100, 20), (112, 20), (106, 32), (100, 30))]
    draft.line(p[0], p[1])
    draft.arc(p[1], p[2], _center((112, 20), (106, 32), 10.0))
    draft.arc(p[2], p[3], _center((106, 32), (100, 30), 10.0))
    draft.line(p[3], p[0])
    draft.circle(hub, 1.0)
    axis = draft.line((0, 0), (0, 90), "axis")
    draft.set_mirrors((Mirror(axis),))
    draft.pattern(PATTERNS[pattern])
    return draft.done()


def _center(a: tuple[float, float], b: tuple[float, float], radius: float) -> tuple[float, float]:
    """Center on the left of the chord from a to b."""
    x, y = b[0] - a[0], b[1] - a[1]
    chord = hypot(x, y)
    off = (radius**2 - chord**2 / 4) ** 0.5
    return (0.5 * (a[0] + b[0]) - off * y / chord, 0.5 * (a[1] + b[1]) + off * x / chord)


def count(pattern: str) -> int:
    """Return the number of places of a pattern."""
    return 4 if pattern == "grid" else 3
