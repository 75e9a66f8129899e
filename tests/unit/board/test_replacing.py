"""Exports of the window and the files that are there: asked about, kept, or replaced."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from sketcher.board.action_table import perform
from sketcher.board.board import Board
from sketcher.part.store import load, open_file, save
from sketcher.shipped import shipped
from tests.hosts import AnsweringHost

FOREIGN = b"  0\nSECTION\n  2\nENTITIES\n  0\nENDSEC\n  0\nEOF\n"
EXPORTS = (("file.export_cut", ".dxf"), ("file.export_sheet", ".pdf"),
           ("file.export_template", ".pdf"), ("file.export_inspection", ".html"))


@pytest.fixture
def board(tmp_path: Path) -> Board:
    source = open_file(shipped("demo_parts", "gate-strap.profile.json"))
    path = tmp_path / "strap.profile.json"
    save(source.part, path)
    board = Board()
    board.load(source.part, path)
    return board


def questions(host: AnsweringHost) -> list[str]:
    return [text for what, text in host.calls if what == "confirm"]


@pytest.mark.parametrize(("action", "suffix"), EXPORTS)
def test_a_part_under_the_name_of_an_export_is_asked_about(
    board: Board, tmp_path: Path, action: str, suffix: str
) -> None:
    other, target = tmp_path / "other.profile.json", tmp_path / f"out{suffix}"
    save(board.part, other)
    target.symlink_to(other)
    before = other.read_bytes()
    host = AnsweringHost(path=target, sure=False)
    perform(action, board, host)
    assert len(questions(host)) == 1
    assert other.read_bytes() == before
    host = AnsweringHost(path=target, sure=True)
    assert perform(action, board, host)
    assert other.read_bytes() != before
    host = AnsweringHost(path=target, sure=False)
    assert perform(action, board, host)  # what it wrote itself
    assert questions(host) == []


def test_the_drawing_of_somebody_else_is_asked_about(board: Board, tmp_path: Path) -> None:
    target = tmp_path / "strap.dxf"
    target.write_bytes(FOREIGN)
    host = AnsweringHost(path=target, sure=False)
    perform("file.export_cut", board, host)
    assert len(questions(host)) == 1
    assert target.read_bytes() == FOREIGN


@pytest.mark.parametrize(("action", "suffix"), EXPORTS)
@pytest.mark.parametrize("kind", ["own part", "fifo", "device"])
def test_the_part_on_the_bench_and_devices_are_never_replaced(
    board: Board, tmp_path: Path, action: str, suffix: str, kind: str
) -> None:
    target = tmp_path / f"out{suffix}"
    if kind == "own part":
        assert board.bench.path is not None
        os.link(board.bench.path, target)
    elif kind == "fifo":
        os.mkfifo(target)
    else:
        target.symlink_to("/dev/null")
    before = target.stat()
    assert not perform(action, board, AnsweringHost(path=target, sure=True))
    assert board.bench.message.severity == "error"
    assert target.stat().st_mtime_ns == before.st_mtime_ns
    assert target.stat().st_ino == before.st_ino


def test_a_part_without_a_name_takes_that_of_its_first_file(tmp_path: Path) -> None:
    from sketcher.board.files.open_and_save import save_part

    board, host = Board(), AnsweringHost()
    assert save_part(board.bench, host, tmp_path / "pivot-arm.profile.json")
    assert load(tmp_path / "pivot-arm.profile.json").name == "Pivot arm"
    assert not board.bench.is_changed
    assert save_part(board.bench, host, tmp_path / "other.profile.json")
    assert board.part.name == "Pivot arm"
