"""One law of typing, in every tool, every stage and every row.

What is typed in a row is afterwards in the ledger, as a driving dimension with that expression,
or the person is told why it is nothing new; no freedom is left that was not announced. The table
comes from the tools themselves: a new tool without a case fails.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import pytest

from sketcher.board.board import Board, all_tools
from sketcher.board.preview import Pointer
from sketcher.part.edits.draft import Draft
from sketcher.part.kinds import KINDS
from sketcher.part.spacings import spacings
from sketcher.part.value import Part
from tests.hands import BoardHands

XY = tuple[float, float]
REACH = 0.5
TOLD = ("no new dimension", "makes no dimension", "follows from")
SAME_NAME = {"length": "distance", "x": "run", "y": "rise", "sweep": "angle", "width": "offset"}
"""Kinds of binding that rows of another name become."""
NEEDS = {"other leg": ("leg", "4"), "columns": ("step", "14"), "rows": ("row step", "13"),
         "turn": ("step", "14")}
"""What else a row's value is of no use without."""
OWN = {"ladder", "leg", "other leg"}
"""Rows whose dimension is of a kind that the edit chooses: offsets, distances from the corner."""


@dataclass(frozen=True)
class Case:
    """How a tool is worked without typing: a part, what is selected, presses, a key at the end."""

    tool: str
    places: tuple[XY, ...]
    part: Callable[[], Part] = Part
    selected: tuple[str, ...] = ()
    before: tuple[XY, ...] = ()
    way: str = ""

    def board(self) -> Board:
        board = Board(self.part())
        board.bench.select(self.selected)
        board.use(self.tool)
        for at in self.before:
            press(board, at)
        if self.way:
            board.choose(self.way)
        return board

    def at_stage(self, stage: int) -> Board:
        board = self.board()
        for at in self.places[:stage]:
            press(board, at)
        if stage < len(self.places):
            board.move(Pointer(*self.places[stage], REACH))
        elif self.tool == "outline":
            x, y = self.places[-1]
            board.move(Pointer(x + 17.3, y + 9.2, REACH))
        return board


def press(board: Board, at: XY) -> None:
    board.move(Pointer(*at, REACH))
    board.press(Pointer(*at, REACH))
    board.release(Pointer(*at, REACH))


def plate_and_line() -> Part:
    """The bound plate, and above it a line that nothing binds."""
    draft = Draft(plate())
    draft.line((10, 60), (70, 60))
    return draft.done()


def plate() -> Part:
    """A bound plate, 80 by 50, with a hole."""
    draft = Draft(Part())
    corners = [draft.point(at) for at in ((0, 0), (80, 0), (80, 50), (0, 50))]
    sides = [draft.line(corners[k], corners[(k + 1) % 4]) for k in range(4)]
    for side, kind in zip(sides, ("level", "plumb", "level", "plumb"), strict=True):
        draft.bind(kind, (side,))
    draft.bind("fixed", (corners[0],))
    draft.bind("distance", (sides[0],), "80")
    draft.bind("distance", (sides[1],), "50")
    hole = draft.circle((20, 20), 5.0)
    center = draft.curves[hole].center
    draft.bind("diameter", (hole,), "10")
    draft.bind("run", (corners[0], center), "20")
    draft.bind("rise", (corners[0], center), "20")
    return draft.done()


STROKE = ((12.3, 7.1), (52.7, 31.9))
CASES = (
    *(Case(tool, STROKE) for tool in ("line", "axis", "layout line", "mirror")),
    Case("circle", ((20.3, 15.2), (29.7, 20.1))),
    Case("arc center", ((20.3, 15.2), (35.1, 19.3), (22.2, 30.4))),
    Case("arc points", ((10.2, 10.1), (50.3, 13.2), (31.1, 25.2))),
    Case("rectangle", STROKE),
    Case("slot", ((10.3, 10.2), (50.1, 30.2), (52.3, 36.1))),
    Case("curved slot", ((10.3, 10.2), (50.1, 14.2), (30.2, 45.3), (31.2, 52.1))),
    Case("slot center line", ((10.3, 10.2), (50.1, 14.2), (30.2, 45.3), (31.2, 52.1))),
    Case("outline", STROKE),
    Case("outline", ((70.3, 41.2),), before=STROKE, way="tangent arc"),
    Case("outline", ((90.3, 35.2), (70.1, 45.3)), before=STROKE, way="free arc"),
    Case("outline", ((20, 20), (39, 41)), plate, before=((15.3, 44.7), (43.2, 30.1)),
         way="free arc"),
    Case("line at angle", STROKE),
    Case("offset ladder", ((40, 0),), plate),
    Case("tangent circle", ((40, 0), (80, 25)), plate),
    Case("dimension", ((30, 60), (33, 36)), plate_and_line),
    Case("fillet", ((80, 50),), plate),
    Case("chamfer", ((80, 50),), plate),
    Case("rows", (), plate, ("h1",)),
    Case("bolt circle", ((0, 0),), plate, ("h1",)),
    Case("move", ((20, 20), (33.3, 27.1)), plate, ("h1",)),
    Case("copy", ((20, 20), (43.3, 31.1)), plate, ("h1",)),
    Case("rotate", ((3.2, 4.1), (33.3, 27.1)), plate, ("h1",)),
)
NOTHING = {"pick", "centers", "clean up", "corner", "cut back", "extend", "join", "reflect",
           "split", "tangent line", "trace"}
"""Tools that take no value at any stage."""


def table() -> Iterator[tuple[Case, int, str]]:
    for case in CASES:
        for stage in range(len(case.places) + 1):
            board = case.at_stage(stage)
            if board.tool.name == case.tool and (stage < len(case.places) or is_waiting(board)):
                yield from ((case, stage, row.name) for row in board.tool.rows() if row.takes)


def is_waiting(board: Board) -> bool:
    """Tell whether the presses are over and the tool still asks for values."""
    return not hasattr(board.tool, "is_begun") or board.tool.is_begun() or board.tool.name in (
        "rows", "offset ladder", "tangent circle", "dimension")


def named(value: object) -> str:
    return f"{value.tool}-{value.way or 'x'}" if isinstance(value, Case) else str(value)


ROWS = tuple(table())


def expression(board: Board, row: str) -> str:
    """An expression near what the row shows, written so that nothing else is like it."""
    found = next(each for each in board.typing.rows() if each.name == row)
    if found.quantity == "number":
        return "3"
    near = abs(found.value) if found.value else {"turn": 10.0, "span": 120.0}.get(row, 7.0)
    return f"{min(near, 170.0):.1f}+0.25"


def announced(board: Board, before: int) -> bool:
    left = board.report.freedoms
    return left <= before or f"{left} freedom" in board.bench.message.text


@pytest.mark.parametrize(("case", "stage", "row"), ROWS, ids=named)
def test_what_is_typed_is_in_the_ledger_or_told(case: Case, stage: int, row: str) -> None:
    board = case.at_stage(stage)
    before, freedoms = board.part, board.report.freedoms
    text = expression(board, row)
    assert board.typing.open_row(row)
    for letter in text:
        board.typing.type_text(letter)
    if stage < len(case.places) or row in NEEDS:
        assert board.key("tab"), board.prompt
        assert not board.typing.is_open, board.prompt
        if row in NEEDS:
            assert board.typing.hold(*NEEDS[row])
        for at in case.places[stage:]:
            press(board, at)
        if board.tool.name == case.tool and is_waiting(board) and board.part is before:
            board.key("enter")
    else:
        board.key("enter")
        if board.tool.name == "tangent circle" and board.part is before:
            press(board, (60, 20))  # which of those that fit
    assert board.part is not before, (board.prompt, board.bench.message)
    kinds = {b.kind for b in board.part.bindings.values() if b.value == text and b.drives}
    repeated = {each.text for each in spacings(board.part)}
    told = any(words in board.bench.message.text for words in TOLD)
    assert kinds or text in repeated or told, (text, board.bench.message, board.part.bindings)
    if kinds and row not in OWN:
        assert kinds == {SAME_NAME.get(row, row)}
        assert SAME_NAME.get(row, row) in KINDS
    assert announced(board, freedoms), (board.report.freedoms, board.bench.message)
    assert not board.report.clashes
    assert not board.report.doubled


@pytest.mark.parametrize(("case", "stage", "row"), ROWS, ids=named)
def test_tab_walks_all_rows_and_comes_round(case: Case, stage: int, row: str) -> None:
    board = case.at_stage(stage)
    names = [each.name for each in board.typing.rows() if each.takes]
    assert board.typing.lit == (names[0] if not board.tool.columns else next(
        name for name in board.tool.columns if name in names))
    for key, step in (("tab", 1), ("backtab", -1)):
        seen = []
        for _ in range(len(names)):
            assert board.key(key)
            seen.append(board.typing.lit)
        assert sorted(seen) == sorted(names)
        assert board.typing.lit == names[0]
        assert step == 1 or seen[0] == names[-1]


def test_every_tool_has_its_case() -> None:
    """A tool that takes values stands in the table, one that takes none in the list beside it."""
    assert {case.tool for case in CASES} | NOTHING == set(all_tools())
    assert not {case.tool for case in CASES} & NOTHING
    for name in NOTHING:
        board = Board(plate())
        board.use(name)
        assert not any(row.takes for row in board.tool.rows()), name
        board.bench.select(("h1",))
        board.use(name)
        assert not any(row.takes for row in board.tool.rows()), name


@pytest.mark.parametrize("case", CASES, ids=named)
def test_rows_keep_their_places_through_all_stages(case: Case) -> None:
    seen: dict[str, int] = {}
    for stage in range(len(case.places) + 1):
        board = case.at_stage(stage)
        rows = [row.name for row in board.tool.rows()]
        columns = board.tool.columns or tuple(rows)
        assert len(columns) <= 6  # places of the readout
        assert [name for name in columns if name in rows] == rows
        for place, name in enumerate(columns):
            if name in rows:
                assert seen.setdefault(name, place) == place, (name, stage)


LINE = 105
"""Letters that the prompt's share of a window 1366 wide takes in one line (measured)."""


def prompts() -> Iterator[str]:
    for case in CASES:
        for stage in range(len(case.places) + 1):
            board = case.at_stage(stage)
            if board.tool.name == case.tool and "Enter mirrors" not in board.prompt:
                yield board.prompt  # the mirror's is a report of what the axis would do
    for name in NOTHING:
        board = Board(plate())
        board.use(name)
        yield board.prompt


def test_every_prompt_is_one_line_and_tells_where_digits_go() -> None:
    for prompt in prompts():
        assert len(prompt) <= LINE, prompt
    for case in CASES:
        for stage in range(len(case.places)):
            board = case.at_stage(stage)
            if board.tool.name == case.tool and any(r.takes for r in board.tool.rows()):
                lit = next(r for r in board.tool.rows() if r.name == board.typing.lit)
                assert board.prompt.endswith(f" Digits: {lit.label}.")


def test_a_typed_place_that_has_a_point_shares_it() -> None:
    hands = BoardHands(Board(), 0.8)
    board = hands.board
    hands.tool("outline")
    hands.type("0\t0\n")
    hands.point((30.0, 0.1))
    hands.type("30\n")
    hands.point((30.1, 20.0))
    hands.type("20\n")
    hands.type("\t\t\t\t0\t0\n")
    assert [curve.points for curve in board.part.curves.values()] == [
        ("p1", "p2"), ("p2", "p3"), ("p3", "p1")]
    assert (board.report.state, board.report.doubled) == ("bound", ())
    hands.tool("circle")
    hands.type("30\t20\n")
    hands.type("8\n")
    assert board.part.curves["h1"].points == ("p3",)
    assert (board.report.state, board.report.doubled) == ("bound", ())
    assert "follows" in board.bench.message.text
