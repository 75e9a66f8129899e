"""A value that no drawing can have, on the board: what is offered, and what it leaves."""

from __future__ import annotations

import pytest

from sketcher.board.board import Board
from sketcher.board.dimensions.desk_layout import states_of
from sketcher.board.ledger.ledger_edits import set_cell
from sketcher.board.ledger.ledger_rows import ledger_rows
from sketcher.board.mending import clash_mending
from sketcher.board.mending.clash_mending import offers, take
from sketcher.part.edits.set_parameter import set_parameter
from sketcher.part.kinds import measure
from sketcher.part.store import load
from tests.demo_parts import SOUND
from tests.specimens import frame, said

SHELF = next(path for path in SOUND if "shelf" in path.name)
FLANGE = next(path for path in SOUND if "flange" in path.name)


@pytest.fixture(autouse=True)
def patient(monkeypatch: pytest.MonkeyPatch) -> None:
    """How many ways are tried goes by the clock; here all are, however busy the machine is."""
    monkeypatch.setattr(clash_mending, "PATIENCE", 60.0)


@pytest.fixture
def shelf() -> Board:
    board = Board(load(SHELF))
    assert set_cell(board.bench, "b13", "value", "4") == ""
    assert not board.report.converged
    return board


def test_the_row_and_the_dimension_are_in_trouble(shelf: Board) -> None:
    (row,) = [row for row in ledger_rows(shelf.bench) if row.state != "ok"]
    assert (row.id, row.state, row.reason) == ("b13", "clashing", "cannot be 4 here")
    assert states_of(shelf.part, shelf.report)["b13"] == "clashing"
    assert shelf.bench.message.place == "b13"
    assert "nearer" not in shelf.bench.message.text


def test_the_last_value_comes_first_then_the_most_then_what_lets_go(shelf: Board) -> None:
    labels = [offer.label for offer in offers(shelf.bench, "b13")]
    assert labels[:4] == [
        "Set b13 back to 3/4",
        "Set b13 to 2 7/64, the most that holds with b9, b10, b18 and b19",
        "Make b13 (radius of a2, 4) a reference dimension",
        "Drop b13 (radius of a2, 4)"]
    assert all(label.startswith("Drop ") for label in labels[4:])


@pytest.mark.parametrize("number", range(5))
def test_every_way_leaves_a_part_that_is_solved(shelf: Board, number: int) -> None:
    offer = offers(shelf.bench, "b13")[number]
    assert offer.says
    assert take(shelf.bench, offer)
    assert shelf.report.converged, offer.label
    assert shelf.report.troubled == frozenset()


def test_back_is_to_the_value_that_held_last_however_often_it_was_missed(shelf: Board) -> None:
    set_cell(shelf.bench, "b13", "value", "5")
    first = offers(shelf.bench, "b13")[0]
    assert first.label == "Set b13 back to 3/4"
    take(shelf.bench, first)
    assert shelf.part.bindings["b13"].value == "3/4"
    assert shelf.report.state == "bound"


def test_what_stands_against_it_can_go_where_the_rest_then_holds() -> None:
    """Sides of 30 and 40 and a base of 50; a side of 100 holds where another side is free."""
    points = {"p1": (0.0, 0.0), "p2": (50.0, 0.0), "p3": (18.0, 24.0)}
    board = Board(frame(points, [("p1", "p2"), ("p2", "p3"), ("p3", "p1")], said("fixed", "p1"),
                        said("level", "e1"), said("distance", "e1", value="50"),
                        said("distance", "e2", value="40"), said("distance", "e3", value="30")))
    set_cell(board.bench, "b5", "value", "100")
    found = {offer.label: offer for offer in offers(board.bench, "b5")}
    assert "Set b5 back to 30" in found
    assert "Set b5 to 89.99, the most that holds with b3 and b4" in found
    drop = next(offer for label, offer in found.items() if label.startswith("Drop b4"))
    assert "moves" in drop.says or "becomes" in drop.says
    take(board.bench, drop)
    assert board.report.converged
    assert measure(board.part, board.part.bindings["b5"]) == pytest.approx(100.0)


def test_a_parameter_is_named_where_it_was_changed() -> None:
    board = Board(load(FLANGE))
    board.bench.do("Set span", lambda part: set_parameter(part, "span", "2000"))
    assert board.report.unreached
    labels = [offer.label for offer in offers(board.bench, board.report.unreached[0])]
    assert labels[0] == "Set span back to 124"
    assert labels[1].startswith("Set span to ")
    take(board.bench, offers(board.bench, board.report.unreached[0])[1])
    assert board.report.converged
    assert board.report.troubled == frozenset()


def test_a_reference_made_so_says_what_it_measures(shelf: Board) -> None:
    offer = offers(shelf.bench, "b13")[2]
    take(shelf.bench, offer)
    assert shelf.part.bindings["b13"].follows
    codes = [finding.code for finding in shelf.bench.derived.inspection().findings]
    assert "reference-differs" not in codes


def test_a_reference_that_differs_takes_what_is_measured(shelf: Board) -> None:
    """The lower edge is 5 1/2 less the fillet's 1/2 long: 5; the reference says 4.9."""
    board = Board(load(SHELF))
    set_cell(board.bench, "b26", "value", "4.9")
    codes = [finding.code for finding in board.bench.derived.inspection().findings]
    assert codes == ["reference-differs"]
    take_it, drive = offers(board.bench, "b26")
    assert (take_it.label, drive.label) == ("Take the measured value, 5", "Make it drive")
    assert "cannot hold together with" in drive.says
    assert take(board.bench, take_it)
    assert board.part.bindings["b26"].follows
    assert board.bench.derived.inspection().sound


def test_a_reference_that_differs_drives_a_part_that_is_loose() -> None:
    board = Board(frame({"p1": (0.0, 0.0), "p2": (50.0, 0.0)}, [("p1", "p2")],
                        said("fixed", "p1"), said("level", "e1"),
                        said("distance", "e1", value="40", drives=False)))
    _, drive = offers(board.bench, "b3")
    assert "moves 10 mm" in drive.says
    assert drive.ghosts
    take(board.bench, drive)
    assert measure(board.part, board.part.bindings["b3"]) == pytest.approx(40.0)
    assert board.report.converged


def test_a_reference_rounded_as_it_is_printed_needs_nothing() -> None:
    board = Board(frame({"p1": (0.0, 0.0), "p2": (34.641, 0.0)}, [("p1", "p2")],
                        said("fixed", "p1"), said("level", "e1"),
                        said("distance", "e1", value="34.6", drives=False)))
    assert offers(board.bench, "b3") == ()
