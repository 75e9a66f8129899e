"""The practice problems drawn from an empty sheet by their handouts, with presses and keys alone.

Each script has its numbers from the paper alone: `paper` takes a text as it is printed there and
returns what is typed for it. Besides these only 0 is typed, of the datum. Places that are pressed
are about where things lie.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Protocol

from tests.hands import XY, BindingHands


class Paper(Protocol):
    """What a script asks of a handout."""

    def __call__(self, text: str) -> str:
        """Return the number of a dimension, as it is typed."""

    def count(self, text: str) -> str:
        """Return how often a dimension is there."""


Script = Callable[[BindingHands, Paper], None]
LINE = ("length", "angle", "run", "rise", "x", "y")
ARC = ("radius", "sweep", "run", "rise", "x", "y")
"""Rows of the outline tool in their order."""


class Draftsman:
    """Draws with the outline tool and the others, by row names in place of tabs."""

    def __init__(self, hands: BindingHands, paper: Paper) -> None:
        self.hands = hands
        self.paper = paper

    def fill(self, rows: tuple[str, ...], **values: str) -> None:
        """Type values into their rows and take the place."""
        texts = [values.pop(row, "") for row in rows]
        assert not values, values
        while texts and not texts[-1]:
            texts.pop()
        self.hands.type("\t".join(texts) + "\n")

    def begin(self, at: XY) -> None:
        self.hands.tool("outline")
        self.hands.click(at)

    def line(self, toward: XY, **values: str) -> None:
        """A line to about a place, with values; without any the place is pressed."""
        if not values:
            self.hands.click(toward)
            return
        self.hands.point(toward)
        self.fill(LINE, **values)

    def arc(self, toward: XY, **values: str) -> None:
        """An arc that leaves the line before without a corner."""
        self.hands.press("space")
        self.hands.point(toward)
        if values:
            self.fill(ARC, **values)
        else:
            self.hands.click(toward)

    def hole(self, x: str, y: str, size: str) -> None:
        self.hands.tool("circle")
        self.hands.type(f"{x}\t{y}\n{size}\n")

    def hole_at(self, center: XY, size: str) -> None:
        self.hands.tool("circle")
        self.hands.click(center)
        self.hands.type(f"{size}\n")

    def size(self, edge: XY, value: str) -> None:
        """Press an edge that is drawn and type its length."""
        self.hands.tool("pick")
        self.hands.click(edge)
        self.hands.type(f"{value}\n")

    def measured(self, kind: str, value: str, *places: XY, open_at: XY) -> None:
        """Press two things and the button of a kind, and type its value into the ledger.

        A press in the open brings the keyboard back to the sheet.
        """
        self.bound(kind, *places)
        self.hands.type(f"{value}\n")
        self.hands.click(open_at)

    def bound(self, kind: str, *places: XY) -> None:
        """Press what is to be bound, each thing after the other, and the button of the kind.

        Where its sign stands there already, from a snap while drawing, nothing is left to press.
        """
        self.hands.tool("pick")
        self.hands.click(places[0])
        for at in places[1:]:
            self.hands.click(at, keys=("shift",))
        board = self.hands.board
        chosen = set(board.bench.selection.ids)
        assert len(chosen) == len(places), (kind, chosen)
        if not any(b.kind == kind and set(b.of) == chosen for b in board.part.bindings.values()):
            self.hands.bind(kind)

    def done(self) -> None:
        self.hands.press("escape")


def corner_bracket(hands: BindingHands, paper: Paper) -> None:
    draw = Draftsman(hands, paper)
    draw.begin((0.0, 0.0))
    draw.line((90.0, 0.2), length=paper("90"))
    draw.line((90.2, 30.0), length=paper("30"))
    draw.line((30.0, 30.2), x=paper("30"))
    draw.line((30.2, 70.0), y=paper("70"))
    draw.line((0.0, 70.0))
    draw.line((0.0, 0.0))
    draw.hole(paper("70"), paper("15"), paper("Ø11"))
    draw.hole(paper("15"), paper("50"), paper("Ø9"))
    draw.done()


def lug_plate(hands: BindingHands, paper: Paper) -> None:
    draw = Draftsman(hands, paper)
    draw.begin((0.0, 0.0))
    draw.line((0.2, 66.0), length=paper("66"))
    draw.arc((36.0, 66.0), radius=paper("R18"))
    draw.line((36.2, 42.0))
    draw.line((53.0, 42.2))
    draw.line((95.0, 18.0), angle=paper("30°"), run=paper("42"))
    draw.line((95.2, 0.0), y="0")
    draw.line((0.0, 0.0))
    draw.size((95.0, 9.0), paper("18"))
    draw.size((50.0, 0.0), paper("95"))
    draw.hole_at((18.0, 66.0), paper("Ø16"))
    hole, x, y = paper("2x Ø9"), paper("32"), paper("14")
    draw.hole(x, y, hole)
    draw.hole(f"{x}+{paper('42')}", y, hole)
    draw.done()


def keeper_plate(hands: BindingHands, paper: Paper) -> None:
    draw = Draftsman(hands, paper)
    draw.begin((0.0, 0.0))
    draw.line((0.01, 3.06), length=paper("3 1/16"))
    draw.arc((1.88, 3.06), radius=paper("R15/16"))
    draw.line((1.88, 1.5))
    draw.line((3.88, 1.51))
    draw.line((4.5, 0.56), run=paper("5/8"))
    draw.line((4.51, 0.0), y="0")
    draw.line((0.0, 0.0))
    draw.size((4.5, 0.28), paper("9/16"))
    draw.size((2.3, 0.0), paper("4 1/2"))
    draw.measured("rise", paper("1 1/2"), (0.0, 0.0), (3.88, 1.5), open_at=(3.0, 2.5))
    hands.tool("fillet")
    hands.type(paper("R1/2"))
    hands.click((1.875, 1.5))
    draw.hole_at((0.9375, 3.0625), paper("Ø9/16"))
    hole, x, y = paper("2X Ø13/32"), paper("1 3/4"), paper("3/4")
    draw.hole(x, y, hole)
    draw.hole(f"{x} + {paper('1 5/8')}", y, hole)
    draw.done()


def slotted_plate(hands: BindingHands, paper: Paper) -> None:
    draw = Draftsman(hands, paper)
    draw.begin((0.0, 0.0))
    draw.line((118.0, 0.2), length=paper("118"))
    draw.line((118.2, 40.0), length=paper("40"))
    draw.line((80.0, 40.2), x=paper("80"))
    draw.line((80.2, 76.0), y=paper("76"))
    draw.line((0.0, 76.0))
    draw.line((0.0, 0.0))
    hands.tool("fillet")
    hands.type(paper("R10"))
    hands.click((80.0, 40.0))
    hands.type(paper("2x R12"))
    hands.click((118.0, 0.0), (0.0, 76.0))
    hands.tool("slot")
    hands.type(f"{paper('28')}\t{paper('24')}\n")
    hands.point((72.0, 24.2))
    hands.type(f"{paper('44')}\n{paper('14')}\n")
    hole, x, y = paper("2x Ø10"), paper("22"), paper("58")
    draw.hole(x, y, hole)
    draw.hole(f"{x}+{paper('38')}", y, hole)
    draw.done()


def drag_link(hands: BindingHands, paper: Paper) -> None:
    draw = Draftsman(hands, paper)
    large, small = paper("R22"), paper("R14")
    hands.tool("circle")
    hands.click((0.0, 0.0))
    hands.type(f"\t{large}\n")
    hands.click((0.0, 0.0))
    hands.type(f"{paper('Ø25')}\n")
    hands.type(f"{paper('105')}\t0\n\t{small}\n")
    hands.click((105.0, 0.0))
    hands.type(f"{paper('Ø14')}\n")
    hands.tool("tangent line")
    hands.click((2.0, 22.0), (106.0, 14.0))
    hands.click((2.0, -22.0), (106.0, -14.0))
    hands.tool("trace")
    hands.sweep((-40.0, -40.0), (140.0, 40.0))
    draw.done()


def index_plate(hands: BindingHands, paper: Paper) -> None:
    draw = Draftsman(hands, paper)
    hands.tool("circle")
    hands.click((0.0, 0.0))
    hands.type(f"\t{paper('R66')}\n")
    draw.begin((-38.0, -54.0))
    draw.line((38.0, -54.0))
    draw.measured("offset", paper("54"), (0.0, -54.0), (0.0, 0.0), open_at=(55.0, 55.0))
    hands.tool("trace")
    hands.click((0.0, 30.0))
    draw.hole_at((0.0, 0.0), paper("Ø30"))
    holes, size = paper.count("6x Ø9 equally spaced"), paper("6x Ø9 equally spaced")
    hands.type(f"0\t{paper('Ø56')}/2\n{size}\n")
    hands.tool("pick")
    hands.click((4.5, 28.0))
    hands.tool("bolt circle")
    hands.click((0.0, 0.0))
    hands.type(f"{holes}\n")
    hands.tool("curved slot")
    hands.click((0.0, 0.0))
    hands.type(f"{paper('R50')}\t{paper('15°')}\n")
    hands.point((17.0, 47.0))
    hands.type(f"{paper('70°')}\n{paper('10')}\n")
    draw.done()


def cross_plate(hands: BindingHands, paper: Paper) -> None:
    draw = Draftsman(hands, paper)
    x, y = paper("116"), paper("88")
    draw.hole("0", "0", paper("Ø26"))
    draw.hole(f"{x}/2", "0", paper("2x Ø11"))
    draw.hole("0", f"{y}/2", paper("2x Ø15"))
    hands.tool("outline")
    hands.click((72.0, 0.0))
    hands.press("space")
    hands.click((58.0, 0.0))
    hands.point((70.0, 6.0))
    hands.point((66.0, 11.0))
    hands.click((58.0, 14.0))
    draw.line((18.0, 14.0))
    draw.line((18.0, 44.0))
    hands.press("space")
    hands.press("space")
    hands.click((0.0, 44.0))
    hands.point((12.0, 58.0))
    hands.click((0.0, 62.0))
    hands.press("enter")
    draw.bound("tangent", (67.9, 9.9), (40.0, 14.0))
    draw.bound("tangent", (12.7, 56.7), (18.0, 35.0))
    draw.size((67.9, 9.9), paper("2x R14"))
    draw.size((12.7, 56.7), paper("2x R18"))
    hands.tool("fillet")
    hands.type(paper("4x R12"))
    hands.click((18.0, 14.0))
    hands.tool("axis")
    hands.click((0.0, 0.0), (72.0, 0.0))
    hands.click((0.0, 0.0), (0.0, 62.0))
    for axis in ((40.0, 0.0), (0.0, 25.0)):
        hands.tool("mirror")
        hands.click(axis)
        hands.press("enter")
    draw.done()


def pedal_foot(hands: BindingHands, paper: Paper) -> None:
    draw = Draftsman(hands, paper)
    draw.begin((0.0, 0.0))
    draw.line((115.0, 0.2), length=paper("115"))
    draw.line((115.2, 14.0), length=paper("14"))
    draw.line((92.0, 14.2), x=paper("92"))
    hands.press("enter")
    draw.begin((0.0, 0.0))
    draw.line((0.2, 64.0), length=paper("64"))
    draw.arc((50.9, 71.5), radius=paper("R26"))
    draw.line((61.4, 36.8))
    draw.arc((92.0, 14.0))
    draw.bound("tangent", (78.0, 17.2), (105.0, 14.0))
    draw.size((78.0, 17.2), paper("R32"))
    draw.hole_at((26.0, 64.0), paper("Ø28"))
    draw.hole(paper("18"), paper("16"), paper("Ø11"))
    draw.done()


def door_hook(hands: BindingHands, paper: Paper) -> None:
    draw = Draftsman(hands, paper)
    hands.tool("arc center")
    hands.click((0.0, 0.0))
    hands.point((16.0, 0.1))
    hands.type(f"{paper('R16')}\t0\n")
    for at in ((8.0, 14.0), (-8.0, 14.0), (-16.0, 0.0)):
        hands.point(at)
    hands.click((-15.0, -5.5))
    draw.begin((-15.0, -5.5))
    draw.line((-28.2, -10.3), length=paper("14"), angle=paper("20°"))
    hands.press("space")
    hands.press("space")
    hands.click((0.0, 0.0))
    for at in ((-30.0, 0.0), (-15.0, 26.0), (15.0, 26.0)):
        hands.point(at)
    hands.click((30.0, 0.0))
    draw.line((30.0, -60.0))
    draw.line((64.0, -60.0))
    draw.line((64.0, -80.0), y=f"-{paper('80')}")
    draw.line((4.0, -80.0), x=paper("4"))
    draw.line((4.0, -74.0), length=paper("6"))
    hands.press("space")
    hands.press("space")
    hands.click((16.0, -52.6))
    hands.point((13.0, -64.0))
    hands.type(f"{paper('R25')}\n")
    draw.line((16.0, 0.0))
    draw.bound("plumb", (16.0, -30.0))
    draw.bound("tangent", (16.0, -40.0), (13.0, -64.0))
    draw.bound("on", (0.0, 0.0), (-21.6, -7.9))
    draw.size((30.0, -80.0), paper("60"))
    draw.size((64.0, -70.0), paper("20"))
    hands.tool("fillet")
    hands.type(paper("R10"))
    hands.click((30.0, -60.0))
    draw.hole(f"{paper('4')}+{paper('60')}-{paper('14')}", f"-{paper('80')}+{paper('10')}",
              paper("Ø9"))
    draw.done()


def cradle_arm(hands: BindingHands, paper: Paper) -> None:
    draw = Draftsman(hands, paper)
    hands.tool("circle")
    hands.click((0.0, 0.0))
    hands.type(f"\t{paper('R22')}\n")
    hands.click((0.0, 0.0))
    hands.type(f"{paper('Ø24')}\n")
    hands.type(f"{paper('96')}\t0\n\t{paper('R10')}\n")
    hands.click((96.0, 0.0))
    hands.type(f"{paper('Ø9')}\n")
    hands.type(f"{paper('62')}\t{paper('34')}\n\t{paper('R20')}\n")
    hands.tool("tangent line")
    hands.click((3.0, -22.0), (97.0, -10.0))
    hands.click((97.0, 10.0), (61.0, 14.0))
    hands.tool("tangent circle")
    hands.click((-12.4, 18.1), (50.4, 17.7))
    hands.type(f"{paper('R55')}\n")
    hands.tool("trace")
    hands.sweep((-18.0, 0.0), (-15.0, 8.0), (0.0, 20.0), (20.0, 26.0), (45.0, 10.0), (80.0, 0.0),
                (103.0, 0.0))
    draw.done()


SCRIPTS: Mapping[str, Script] = {
    "01-corner-bracket": corner_bracket, "02-lug-plate": lug_plate,
    "03-keeper-plate": keeper_plate, "04-slotted-plate": slotted_plate,
    "05-drag-link": drag_link, "06-index-plate": index_plate, "07-cross-plate": cross_plate,
    "08-pedal-foot": pedal_foot, "09-door-hook": door_hook, "10-cradle-arm": cradle_arm,
}
"""By the name of the problem."""
