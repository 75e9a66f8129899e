"""A dimension that has room where it stands stays there while other things change.

Asked over the whole walk of both drawing problems: where a dimension has gone elsewhere though what
it measures stands still, the one before is put back beside all others as they stand now, or as they
stood, and what is then drawn over each other is counted by the checker of drawings, which knows
nothing of places.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import pytest

from sketcher.board.board import Board
from sketcher.board.dimensions.dimension_lines import DimLines
from sketcher.board.dimensions.kept_dimensions import KeptDimensions, Shown, measures_alike
from sketcher.board.job import AtOnce, Worker
from sketcher.board.steps.notices import PART_REASONS, Change
from sketcher.geometry.bounds import bounds_of
from sketcher.geometry.curves import XY, Curve, Line
from sketcher.geometry.meet import meet
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from sketcher.part.whole import whole
from sketcher.solve.solve_report import SolveReport
from tests import problems
from tests.dimension_checker import faults, of_desk, shrunk
from tests.hands import BoardHands
from tests.later import Later
from tests.seldom import some_of

SIZE, CLEAR = 13, 5.5
"""Pixels: words, and what is to be clear around them: their ground of 2, the 0.8 mm that lettering
stands off lines, which are 2 at this size, and what the checker lets lettering be touched by."""


def clashes(board: Board, dims: list[DimLines], px: float) -> int:
    """Places where lettering or a line of a dimension is drawn over what it must keep off."""
    pieces: list[tuple[str, Curve]] = [
        ("outline" if piece.role == "outline" else "layout", piece.curve)
        for piece in whole(board.part)]
    pieces += [("center", dash) for line in board.bench.derived.center_lines_at_hand()
               for dash in line.dashes]
    drawing = of_desk(pieces, dims, px, SIZE)
    drawing.texts = [(name, shrunk(box, -CLEAR)) for name, box in drawing.texts]
    found = faults(drawing)
    return (found.text_on_line + found.text_on_text + found.crossings + found.through_holes
            + found.over_centers)


def middle(dim: DimLines) -> XY:
    """Where its line stands: a text may slide along it."""
    arrows = [arrow.tip for arrow in dim.arrows] or [dim.anchor]
    return (sum(x for x, _ in arrows) / len(arrows), sum(y for _, y in arrows) / len(arrows))


@dataclass
class Watch:
    """Compares the dimensions of each step with those of the step before.

    Parameters
    ----------
    board : Board
    px : float
        One pixel in the part's unit.
    """

    board: Board
    px: float
    steps: int = 0
    looked: int = 0
    moved: list[tuple[int, str]] = field(default_factory=list)
    had_room: list[tuple[int, str]] = field(default_factory=list)
    unneeded: list[tuple[int, str]] = field(default_factory=list)
    last: tuple[Part, dict[str, DimLines]] | None = None

    def __call__(self, change: Change) -> None:
        if change.reason not in PART_REASONS or self.board.bench.gesture.goes_on:
            return
        part, dims = self.board.part, self.board.bench.derived.dimensions(self.px)
        now = {dim.binding: dim for dim in dims}
        if self.last is not None and part is not self.last[0]:
            self.steps += 1
            for name in now.keys() & self.last[1].keys():
                if measures_alike(name, self.last[0], part, 0.01 * self.px):
                    self._compare(name, self.last[1][name], now)
        self.last = (part, now)

    def _compare(self, name: str, was: DimLines, now: dict[str, DimLines]) -> None:
        self.looked += 1
        (x, y), (x0, y0) = middle(now[name]), middle(was)
        if max(abs(x - x0), abs(y - y0)) <= 2.0 * self.px:
            return
        self.moved.append((self.steps, name))
        if self._outgrown(middle(was), middle(now[name])):
            return
        assert self.last is not None
        before = {**now, **{k: d for k, d in self.last[1].items() if k in now and measures_alike(
            k, self.last[0], self.board.part, 0.01 * self.px)}}
        fresh = now.keys() - self.last[1].keys()
        if self._has_room(was, [d for k, d in before.items() if k not in fresh]):
            self.had_room.append((self.steps, name))
        if self._has_room(was, list(now.values())):
            self.unneeded.append((self.steps, name))

    def _has_room(self, dim: DimLines, every: list[DimLines]) -> bool:
        """Tell whether a dimension can stand beside all others of some."""
        others = [one for one in every if one.binding != dim.binding]
        return clashes(self.board, [*others, dim], self.px) <= clashes(
            self.board, others, self.px)

    def _outgrown(self, was: XY, now: XY) -> bool:
        """Tell whether the part has grown past a row, and this has gone straight out before it.

        A row is one line for all that stands in it: that the part is narrower there, and would
        leave room, makes no difference.
        """
        assert self.last is not None
        if min(abs(now[0] - was[0]), abs(now[1] - was[1])) >= 2.0 * self.px:
            return False
        way = Line(was, now)
        return (not within(was, self.last[0]) and within(was, self.board.part)) or any(
            meet(way, piece.curve) for piece in whole(self.board.part) if piece.role == "outline")


def within(at: XY, part: Part) -> bool:
    """Tell whether a place lies in the box round the outline of the whole part."""
    outline = [piece.curve for piece in whole(part) if piece.role == "outline"]
    if not outline:
        return False
    x0, y0, x1, y1 = bounds_of(outline)
    return x0 <= at[0] <= x1 and y0 <= at[1] <= y1


@pytest.mark.parametrize(("name", "most", "reach"), some_of(
    ((name, most, reach) for name, most in (("clamp_plate", 8), ("pivot_arm", 6))
     for reach in (1.2, 1.0, 0.8)), lambda case: case[1:] in ((8, 0.8), (6, 1.2))))
def test_nothing_that_has_room_moves_on_the_walk_of_a_problem(
    name: str, most: int, reach: float
) -> None:
    board = Board()
    watch = Watch(board, reach / board.bench.settings["reach"])
    board.bench.notices.listen(watch)
    getattr(problems, name)(BoardHands(board, reach), lambda stage: None)
    assert watch.steps >= 10
    assert watch.looked > 80
    assert watch.unneeded == []
    # The base's 40 makes way, as the shorter 22 stands between it and the part (ASME Y14.5M, 1.7).
    assert [moved for _, moved in watch.had_room] in ([], ["b1"])
    # Three of the clamp plate's go to where they are shown across when it is mirrored.
    assert len(watch.moved) <= most  # up to 6 and 11 where better places are always taken


def bar() -> Part:
    """A bar with three level lengths."""
    draft = Draft(Part())
    corners = [draft.point(at) for at in ((0, 0), (60, 0), (60, 10), (0, 10))]
    for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
        draft.line(a, b)
    for n, x in enumerate((20.0, 40.0)):
        draft.bind("run", (corners[0], draft.point((x, 0.0))), str(20 * (n + 1)))
    draft.bind("run", (corners[0], corners[1]), "60")
    return draft.done()


@pytest.mark.parametrize("worker", [AtOnce(), Later()])
def test_what_has_gone_leaves_a_gap_until_all_is_laid_out_anew(worker: Worker) -> None:
    kept, part = KeptDimensions(), bar()
    before = {d.binding: d for d in shown_at_rest(kept, part, 0.1, worker)}
    below = sorted((n for n in before if middle(before[n])[1] < 0.0),
                   key=lambda n: -middle(before[n])[1])
    assert len(below) == 2
    fewer = part.having(bindings={k: b for k, b in part.bindings.items() if k != below[0]})
    after = {d.binding: d for d in shown_at_rest(kept, fewer, 0.1, worker)}
    assert len(after) == 2
    assert all(dim == before[name] for name, dim in after.items())
    # Another zoom is no edit: there it may come nearer.
    near = {d.binding: d for d in shown_at_rest(kept, fewer, 0.11, worker)}
    assert middle(near[below[1]])[1] / 0.11 > middle(before[below[1]])[1] / 0.1 + 10.0


def test_what_has_no_room_left_goes_elsewhere() -> None:
    kept, part = KeptDimensions(), bar()
    run = shown_at_rest(kept, part, 0.1, AtOnce())[0]
    (x, y), draft = run.anchor, Draft(part)
    draft.line((x - 3.0, y - 3.0), (x + 3.0, y + 3.0))
    moved = shown_at_rest(kept, draft.done(), 0.1, AtOnce())[0]
    assert max(abs(moved.anchor[0] - x), abs(moved.anchor[1] - y)) > 1.0


def shown_at_rest(
    kept: KeptDimensions, part: Part, px: float, worker: Worker
) -> tuple[DimLines, ...]:
    """The dimensions as a frame shows them, and then looked at again."""
    shown = Shown(part, SolveReport(), px)
    kept.at_hand(shown, worker)
    kept.know(shown, worker, lambda: None)
    if isinstance(worker, Later):
        worker.work()
    return kept.at_hand(shown, worker)
