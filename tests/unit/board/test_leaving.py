"""What is asked before a part with findings is cut, drawn or printed; without a window."""

from __future__ import annotations

from pathlib import Path

import ezdxf
import pytest

from sketcher.board.action_table import perform
from sketcher.board.board import Board
from sketcher.part.value import Binding, CircleCurve, LineCurve, Part
from tests.hosts import AnsweringHost
from tests.plates import bound


def loose() -> Part:
    part = bound()
    return part.having(bindings={k: b for k, b in part.bindings.items() if k != "b7"})


def astray() -> Part:
    """The plate with a hole fixed beside it."""
    part = bound()
    return part.having(points={**part.points, "c": (60.0, 10.0)},
                       curves={**part.curves, "h": CircleCurve("c", 4.0)})


def with_stray() -> Part:
    part = bound()
    return part.having(points={**part.points, "s": (10.0, 10.0), "t": (20.0, 10.0)},
                       curves={**part.curves, "stub": LineCurve(("s", "t"))})


def asked(host: AnsweringHost) -> tuple[str, ...] | None:
    """The findings that were shown, None where nothing was asked."""
    return next((told for name, told in host.calls if name == "ask_despite"), None)


def board_of(part: Part) -> Board:
    board = Board()
    board.load(part)
    return board


def test_a_sound_part_is_cut_without_a_question(tmp_path: Path) -> None:
    host = AnsweringHost(path=tmp_path / "x.dxf", sure=False)
    assert perform("file.export_cut", board_of(bound()), host)
    assert asked(host) is None
    assert (tmp_path / "x.dxf").exists()


@pytest.mark.parametrize(("part", "code"), [(loose(), "loose"), (astray(), "detached")])
def test_findings_are_shown_and_refused_nothing_is_written(
    part: Part, code: str, tmp_path: Path
) -> None:
    board = board_of(part)
    host = AnsweringHost(path=tmp_path / "x.dxf", sure=False)
    perform("file.export_cut", board, host)
    told = asked(host)
    assert told is not None
    assert len(told) == len(board.bench.derived.inspection().findings)
    assert any(line.startswith(f"{code}: ") for line in told)
    assert [name for name, _ in host.calls] == ["ask_despite"]
    assert list(tmp_path.iterdir()) == []


def test_accepted_the_plate_is_cut(tmp_path: Path) -> None:
    board = board_of(astray())
    host = AnsweringHost(path=tmp_path / "x.dxf", sure=True)
    assert perform("file.export_cut", board, host)
    assert len(ezdxf.readfile(tmp_path / "x.dxf").modelspace()) == 1
    assert "detached" in board.bench.message.text


def test_what_no_cutter_can_make_is_not_even_asked(tmp_path: Path) -> None:
    board = board_of(with_stray())
    host = AnsweringHost(path=tmp_path / "x.dxf", sure=True)
    assert not perform("file.export_cut", board, host)
    assert host.calls == []
    assert board.bench.message.severity == "error"
    assert "stray" in board.bench.message.text
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("sure", [False, True])
def test_a_template_of_a_loose_part_asks(tmp_path: Path, sure: bool) -> None:
    host = AnsweringHost(path=tmp_path / "t.pdf", sure=sure)
    perform("file.export_template", board_of(loose()), host)
    told = asked(host)
    assert told
    assert {line.partition(":")[0] for line in told} == {"loose"}
    assert (tmp_path / "t.pdf").exists() == sure


def test_a_sheet_that_would_leave_something_out_asks(tmp_path: Path) -> None:
    board = board_of(astray())
    host = AnsweringHost(path=tmp_path / "x.svg", choice=1, sure=False)
    perform("file.export_sheet", board, host)
    told = asked(host)
    assert told is not None
    assert {line.partition(":")[0] for line in told} == {"detached", "loose"}
    assert list(tmp_path.iterdir()) == []
    perform("file.export_sheet", board, AnsweringHost(path=tmp_path / "x.svg", choice=1))
    assert ">NOT TO BE MADE<" in (tmp_path / "x.svg").read_text()
    assert "stamped" in board.bench.message.text


def test_printing_asks_the_same() -> None:
    board = board_of(astray())
    host = AnsweringHost(sure=False)
    perform("file.print", board, host)
    assert [name for name, _ in host.calls] == ["ask_despite"]
    host = AnsweringHost(sure=True)
    perform("file.print", board, host)
    assert ("show_dialog", "print") in host.calls


@pytest.mark.parametrize("part", [loose(), with_stray()])
def test_no_part_with_findings_goes_on_paper_unasked(part: Part, tmp_path: Path) -> None:
    host = AnsweringHost(path=tmp_path / "x.svg", choice=1, sure=False)
    perform("file.export_sheet", board_of(part), host)
    assert asked(host)
    assert list(tmp_path.iterdir()) == []


def test_a_sound_part_goes_on_paper_without_a_question(tmp_path: Path) -> None:
    host = AnsweringHost(path=tmp_path / "x.svg", choice=1, sure=False)
    assert perform("file.export_sheet", board_of(bound()), host)
    assert asked(host) is None
    assert "NOT TO BE MADE" not in (tmp_path / "x.svg").read_text()


def test_a_sheet_by_which_nobody_can_make_the_part_asks(tmp_path: Path) -> None:
    part = bound()
    unplaced = part.having(
        points={**part.points, "c": (10.0, 8.0)},
        curves={**part.curves, "h": CircleCurve("c", 3.0)},
        bindings={**part.bindings, "x": Binding("fixed", ("c",)),
                  "d": Binding("diameter", ("h",), "6")})
    board, out = board_of(unplaced), tmp_path / "x.svg"
    host = AnsweringHost(path=out, choice=1, sure=False)
    perform("file.export_sheet", board, host)
    told = asked(host)
    assert told is not None
    assert [line.partition(" stands")[0] for line in told] == [
        "the level place of the center of h", "the plumb place of the center of h"]
    assert not out.exists()
    assert "No sheet exported" in board.bench.message.text
    perform("file.export_sheet", board, AnsweringHost(path=out, choice=1, sure=True))
    assert "NOT TO BE MADE" not in out.read_text()
