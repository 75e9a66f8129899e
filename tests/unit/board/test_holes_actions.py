"""Measuring holes from what is selected, and the list on the clipboard and in a file."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from pathlib import Path

import pytest

from sketcher.board.action_table import all_actions, perform
from sketcher.board.board import Board
from sketcher.part.value import Part
from tests.hosts import AnsweringHost
from tests.plates import bound, plate, rectangle

NAMES = {"readout.hole_zero", "readout.hole_along"}


def board_with(part: Part) -> Board:
    board = Board()
    board.load(part)
    return board


def drilled() -> Part:
    """A rectangle of 40 by 20 with two holes."""
    points, lines = rectangle(40.0, 20.0)
    return plate({**points, "c": (10.0, 5.0), "d": (30.0, 15.0)},
                 {**lines, "h": ("c", 2.0), "k": ("d", 2.0)})


@pytest.mark.parametrize(("chosen", "zero", "along"), [
    (("p3",), "p3", ""), (("h",), "h", ""), (("pe1", "pe4"), "pe1,pe4", ""),
    (("pe2",), "", "pe2"), (("p1", "p2"), "", "p1,p2"), (("h", "k"), "", "h,k"),
    (("c", "k"), "", "c,k"), (("pe1", "h"), "", ""), (("pe1", "pe2", "pe3"), "", ""), ((), "", ""),
])
def test_what_is_selected_names_a_zero_or_a_way(
    chosen: tuple[str, ...], zero: str, along: str
) -> None:
    board, host = board_with(drilled()), AnsweringHost()
    board.bench.select(chosen)
    assert perform("readout.hole_zero", board, host) == bool(zero)
    board.bench.select(chosen)
    assert perform("readout.hole_along", board, host) == bool(along)
    drawing = board.part.drawing
    assert (drawing.table_zero, drawing.table_along) == (zero or "auto", along or "level")
    assert all_actions()["readout.hole_auto"].enabled(board) == bool(zero or along)
    if zero or along:
        assert perform("readout.hole_auto", board, host)
        # a step is called what its entry in the menu is
        assert board.bench.history.undo_name == "Measure holes from the usual corner"
        assert board.bench.message.severity == "done"
        assert board.part.drawing == drilled().drawing


def test_edges_that_do_not_meet_are_told_and_nothing_changes() -> None:
    board = board_with(drilled())
    board.bench.select(("pe1", "pe3"))
    assert not perform("readout.hole_zero", board, AnsweringHost())
    assert "parallel" in board.bench.message.text
    assert board.part.drawing.table_zero == "auto"


def test_the_list_goes_on_the_clipboard_with_tabs_and_into_a_file(tmp_path: Path) -> None:
    board, host = board_with(drilled()), AnsweringHost()
    board.bench.select(("h",))
    perform("readout.hole_zero", board, host)
    assert perform("readout.copy_holes", board, host)
    rows = list(csv.DictReader(io.StringIO(host.clips["text/plain"].decode()), delimiter="\t"))
    assert [(row["X (mm)"], row["Y (mm)"]) for row in rows] == [("0.000", "0.000"),
                                                                ("20.000", "10.000")]
    sound = board_with(bound())
    host.path = tmp_path / "holes.csv"
    assert perform("file.export_holes", sound, host)
    assert host.path.read_bytes().startswith(b"\xef\xbb\xbforder,name,kind")
    host.path = tmp_path / "loose.csv"
    host.sure = False
    perform("file.export_holes", board, host)  # nothing of it is bound
    assert [told for name, told in host.calls if name == "ask_despite"]
    assert not host.path.exists()
    host.sure = True
    assert perform("file.export_holes", board, host)
    assert host.path.exists()


def test_a_material_that_is_not_to_be_burned_is_drilled(tmp_path: Path) -> None:
    part = bound()
    board = board_with(part.having(material=replace(part.material, name="PVC")))
    assert not board.bench.derived.inspection().findings
    assert board.bench.derived.inspection().against_cutting
    host = AnsweringHost(path=tmp_path / "holes.csv")
    assert perform("file.export_holes", board, host)
    assert host.path is not None
    assert host.path.exists()
