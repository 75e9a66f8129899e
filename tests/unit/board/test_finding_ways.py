"""Findings about outline: each way that is offered takes the finding away and brings no other."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from sketcher.board.board import Board
from sketcher.board.ledger.offer import Offer
from sketcher.board.mending.clash_mending import take
from sketcher.board.mending.finding_ways import MENDED, finding_job
from sketcher.inspect.findings import Finding
from sketcher.part.edits.draft import Draft
from sketcher.part.store import load
from sketcher.part.value import Part
from tests.demo_parts import TO_MEND
from tests.plates import left_the_axis
from tests.shaped import wing


def stray() -> Part:
    draft = Draft(wing())
    draft.line((20.0, 5.0), (40.0, 5.0), name="odd")
    return draft.done()


def overlap() -> Part:
    draft = Draft(wing())
    draft.line((0.0, 0.0), (60.0, 0.0), name="odd")
    return draft.done()


def speck() -> Part:
    draft = Draft(wing())
    ends = [draft.point((30.0, 5.0)) for _ in range(2)]
    draft.line(ends[0], ends[1], name="odd")
    return draft.done()


def detached() -> Part:
    draft = Draft(wing())
    draft.circle((200.0, 100.0), 4.0, name="odd")
    return draft.done()


def latch() -> Part:
    """The demo part that is there to be mended."""
    return load(TO_MEND[0])


def runs_past() -> Part:
    draft = Draft(Part())
    draft.line((0.0, 0.0), (60.0, 0.0), name="base")
    draft.line("p2", (60.0, 30.0))
    draft.line("p3", (0.0, 30.0))
    draft.line("p4", (0.0, -0.05), name="odd")
    return draft.done()


CASES: dict[str, tuple[Callable[[], Part], set[str]]] = {
    "stray": (stray, {"Delete odd", "Make odd layout"}),
    "overlap": (overlap, {"Delete odd", "Make odd layout"}),
    "speck": (speck, {"Delete odd"}),
    "detached": (detached, {"Delete odd", "Make odd layout"}),
    "off-axis": (left_the_axis, {"Bind p1 and p4 to ax"}),
    "gap": (latch, {"Bring e1 and e4 together"}),
    "overrun": (runs_past, {"Cut odd back to base"}),
    "near-tangent": (latch, {"Bind a1 and e3 tangent and drop b10"}),
}


def ways(board: Board, code: str) -> tuple[Finding, tuple[Offer, ...]]:
    found = [f for f in board.bench.derived.inspection().findings if f.code == code]
    return found[0], finding_job(board.bench, code, found[0].ids).run()


def test_every_code_is_tried() -> None:
    assert CASES.keys() == MENDED


@pytest.mark.parametrize("code", CASES)
def test_the_ways_out_of_a_finding(code: str) -> None:
    made, labels = CASES[code]
    board = Board(made())
    finding, offers = ways(board, code)
    assert labels <= {offer.label for offer in offers}
    before = [f.code for f in board.bench.derived.inspection().findings]
    for offer in offers:
        trial = Board(board.part)
        assert take(trial.bench, offer)
        left = trial.bench.derived.inspection().findings
        assert len(left) < len(before), offer.label
        assert (code, finding.ids) not in [(f.code, f.ids) for f in left]
        told = "the part is sound" if not left else f"{len(left)} finding"
        assert offer.says.startswith(told)
    shown = next((offer for offer in offers if offer.label == "Delete odd"), offers[0])
    moods = {ghost.mood for ghost in shown.ghosts}
    assert moods == {"leaves"} if any(o.label.startswith("Delete") for o in offers) else moods


def test_two_lines_that_nearly_go_on_are_bound_in_line() -> None:
    draft = Draft(Part())
    draft.line((0.0, 0.0), (30.0, 0.3), name="e1")
    draft.line("p2", (60.0, 0.0), name="e2")
    draft.line("p3", (30.0, 40.0))
    draft.line("p4", "p1")
    board = Board(draft.done())
    _, offers = ways(board, "near-tangent")
    (bound,) = [offer for offer in offers if offer.label == "Bind e1 and e2 in line"]
    assert take(board.bench, bound)
    assert all(f.code != "near-tangent" for f in board.bench.derived.inspection().findings)


def test_the_outline_itself_is_not_offered_to_go() -> None:
    """Of two lines in one place that with the neighbours stays: without it nothing is closed."""
    board = Board(stray())
    closed = {name for name in board.part.curves if name != "odd"}
    _, offers = ways(board, "stray")
    assert not any(f"Delete {name}" == offer.label for name in closed for offer in offers)
    assert finding_job(board.bench, "gap", ("odd",)).run() == ()
