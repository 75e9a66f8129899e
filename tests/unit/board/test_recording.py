"""What was measured: typed, judged, kept beside the part, read back."""

from __future__ import annotations

from pathlib import Path

import pytest

from sketcher.board.board import Board
from sketcher.board.files.measured_record import Recording, opened_record, record_path
from sketcher.errors import FileError, QuantityError
from sketcher.part import store
from sketcher.shipped import shipped
from sketcher.solve import solve


@pytest.fixture
def board(tmp_path: Path) -> Board:
    part = solve(store.load(shipped("demo_parts", "gate-strap.profile.json"))).part
    path = tmp_path / "strap.profile.json"
    store.save(part, path)
    made = Board()
    made.load(part, path)
    return made


def test_it_lies_beside_the_part(board: Board) -> None:
    assert record_path(board.bench) == board.bench.path.with_name("strap.record.csv")
    board.load(board.part, None)
    assert record_path(board.bench) is None


def test_verdicts_stand_on_the_limits(board: Board) -> None:
    recording = Recording(board.part)
    name, low, high = recording.rows[0].id, recording.rows[0].lower, recording.rows[0].upper
    assert low is not None
    assert high is not None
    for value, verdict in ((low, "pass"), (high, "pass"), (low - 1e-3, "fail"),
                           (high + 1e-3, "fail")):
        recording.type(name, repr(value))
        assert next(r.verdict for r in recording.rows if r.id == name) == verdict
    assert "1 fail" in recording.summary()
    recording.type(name, " ")
    assert not recording.is_changed


def test_saved_values_come_back_and_a_pdf_does_not_count_as_kept(board: Board) -> None:
    recording = opened_record(board.bench)
    recording.type("b6", "24.05")
    recording.type("b10", "30°")
    recording.write(board.bench.path.with_name("strap.record.pdf"))
    assert recording.is_changed
    recording.write(record_path(board.bench))
    assert not recording.is_changed
    again = opened_record(board.bench)
    assert again.measured == pytest.approx({"b6": 24.05, "b10": 30.0})


def test_what_cannot_be_understood_changes_nothing(board: Board) -> None:
    recording = Recording(board.part, {"b6": 24.0})
    with pytest.raises(QuantityError):
        recording.type("b6", "about 24")
    assert recording.measured == {"b6": 24.0}


def test_a_record_of_halves_is_told_and_one_of_wholes_is_read(board: Board) -> None:
    halves = ("id,dimension,nominal,lower,upper,as drawn,measured,verdict\n"
              "b6,rise p1 p4,24,,,,24.05,\nb5,run p1 p3,60,,,,{},\n")
    record_path(board.bench).write_text(halves.format("60.1"), encoding="utf-8")
    with pytest.raises(FileError, match=r"line 3.*'b5' is half of what the drawing says, 120"):
        opened_record(board.bench)
    record_path(board.bench).write_text(halves.format(""), encoding="utf-8")
    assert opened_record(board.bench).measured == {"b6": 24.05}


def test_a_record_of_another_part_is_refused(board: Board) -> None:
    record_path(board.bench).write_text("id,measured\nnone,3\n", encoding="utf-8")
    with pytest.raises(FileError, match="none"):
        opened_record(board.bench)
