"""Actions: found by their folder, named, reachable, and doing what they say."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sketcher.board.action_table import all_actions, perform
from sketcher.board.actions.describe_actions import notes_of, notes_text
from sketcher.board.board import Board, all_tools
from sketcher.board.files.open_and_save import suggested
from sketcher.board.preview import Pointer
from sketcher.drafting.template.tiling import template_paper
from sketcher.part.edits.draft import Draft
from sketcher.part.edits.set_pattern import set_pattern
from sketcher.part.kinds import KINDS
from sketcher.part.value import GridPattern, Material, Part, Unit
from tests.hosts import AnsweringHost
from tests.r12_reader import read_r12
from tests.read_back import words_of


def plate() -> Part:
    """A bound rectangle of 40 by 25 with a hole, and a layout line across it."""
    draft = Draft(Part(name="Side plate"))
    p, q, r, s = (draft.point(at) for at in ((0, 0), (40, 0), (40, 25), (0, 25)))
    for ends, kind in (((p, q), "level"), ((q, r), "plumb"), ((r, s), "level"), ((s, p), "plumb")):
        draft.bind(kind, (draft.line(*ends),))
    draft.bind("fixed", (p,))
    draft.bind("run", (p, q), "40")
    draft.bind("rise", (q, r), "25")
    draft.circle((12, 9), 3.0)
    return draft.done()


def test_every_action_is_named_labelled_and_taught() -> None:
    actions = all_actions()
    assert len(actions) > 80
    for name, action in actions.items():
        assert name == action.name
        assert "." in name
        assert action.label
        assert len(action.hint) > 8, name
    assert {f"tool.{name}" for name in all_tools()} <= actions.keys()
    assert {f"bind.{kind.replace(' ', '_')}" for kind in KINDS} <= actions.keys()


def test_no_key_does_two_things() -> None:
    keys = [key for action in all_actions().values() for key in action.keys]
    assert sorted(keys) == sorted(set(keys))


def test_what_is_not_possible_is_told() -> None:
    board = Board()
    assert not perform("edit.delete", board, AnsweringHost())
    assert board.bench.message.severity == "note"
    assert not perform("edit.undo", board, AnsweringHost())


@pytest.mark.parametrize("name", sorted(all_tools()))
def test_every_tool_is_taken_in_hand(name: str) -> None:
    board = Board()
    assert perform(f"tool.{name}", board, AnsweringHost())
    assert board.tool.name == name
    checked = all_actions()[f"tool.{name}"].checked
    assert checked is not None
    assert checked(board)


def test_delete_select_and_roles() -> None:
    board, host = Board(plate()), AnsweringHost()
    perform("edit.select_all", board, host)
    assert board.bench.selection.curves(board.part) == ("e1", "e2", "e3", "e4", "h1")
    perform("edit.select_loose", board, host)
    assert board.bench.selection.ids == ("h1",)
    perform("edit.select_trouble", board, host)
    assert board.bench.selection.ids == ()
    board.bench.select(("e1",))
    perform("shape.layout", board, host)
    assert board.part.curves["e1"].role == "layout"
    perform("shape.axis", board, host)
    assert board.part.curves["e1"].role == "axis"
    perform("shape.outline", board, host)
    board.bench.select(("h1",))
    assert not perform("shape.axis", board, host)
    perform("edit.delete", board, host)
    assert "h1" not in board.part.curves
    board.bench.undo()
    assert "h1" in board.part.curves


def test_deleting_with_healing() -> None:
    board, host = Board(plate()), AnsweringHost()
    board.use("fillet")
    board.typing.type_text("5")
    board.key("enter")
    board.press(Pointer(40, 0))
    arc = next(n for n, c in board.part.curves.items() if c.kind == "arc")
    board.bench.select((arc,))
    assert perform("edit.delete_heal", board, host)
    assert not any(c.kind == "arc" for c in board.part.curves.values())


def test_patterns_are_dissolved_and_removed() -> None:
    board = Board(plate())
    board.bench.select(("h1",))
    assert not perform("shape.remove_pattern", board, AnsweringHost())
    grid = GridPattern(("h1",), ("12", "5"), (3, 1))
    board.bench.do("Repeat", lambda part: set_pattern(part, grid))
    assert perform("shape.separate_copies", board, AnsweringHost())
    assert sum(c.kind == "circle" for c in board.part.curves.values()) == 3
    board.bench.undo()
    perform("shape.remove_pattern", board, AnsweringHost())
    assert not board.part.patterns


def test_the_readout_changes_unit_zero_and_halves() -> None:
    board, host = Board(plate()), AnsweringHost()
    board.move(Pointer(25.4, 12.7))
    perform("readout.unit", board, host)
    assert [row.text for row in board.typing.rows()[:2]] == ["1.0000", ".5000"]
    assert board.part.unit == "mm"
    perform("readout.unit", board, host)
    board.bench.select(("p2",))
    perform("readout.zero", board, host)
    assert board.bench.zero.point == "p2"
    board.bench.select(())
    board.move(Pointer(60, 10))
    assert board.typing.rows()[0].value == pytest.approx(20.0)
    perform("readout.halve", board, host)
    assert board.typing.rows()[0].value == pytest.approx(10.0)
    perform("readout.sheet_zero", board, host)
    assert board.typing.rows()[0].value == pytest.approx(60.0)


def test_a_held_value_is_halved() -> None:
    board, host = Board(), AnsweringHost()
    board.use("line")
    board.press(Pointer(5, 5))
    board.typing.hold("length", "31")
    perform("readout.halve", board, host)
    assert board.tool.held["length"].amount == pytest.approx(15.5)
    board.typing.type_text("9")
    perform("readout.halve", board, host)
    assert board.typing.entry is not None
    assert board.typing.entry.text == "(9)/2"


def test_views_ask_the_host() -> None:
    board, host = Board(plate()), AnsweringHost()
    board.bench.select(("h1",))
    for name in ("view.fit", "view.fit_selection", "view.zoom_in", "view.zoom_out", "view.look",
                 "view.preferences", "view.construction", "file.start", "file.quit"):
        assert perform(name, board, host)
    assert [call[0] for call in host.calls] == [
        "fit_part", "fit_selection", "zoom", "zoom", "set_look", "show_dialog", "show_dialog",
        "show_dialog", "close"]
    assert [call[1] for call in host.calls[5:7]] == ["preferences", "construction"]
    assert board.bench.settings["look"] == "paper"
    for name in ("grid", "snaps", "bind_drawn", "dimensions", "bindings", "motion"):
        checked = all_actions()[f"view.{name}"].checked
        assert checked is not None
        before = checked(board)
        perform(f"view.{name}", board, host)
        assert checked(board) != before


def test_the_cutting_file_needs_a_closed_profile_and_its_page(tmp_path: Path) -> None:
    path = tmp_path / "plate.dxf"
    board, host = Board(plate()), AnsweringHost(path=path)
    assert perform("file.export_cut", board, host)
    assert path.read_bytes()
    assert [name for name, _ in host.calls] == ["ask_despite", "ask_cutting", "ask_path"]
    assert host.calls[1][1] == tuple(sorted(
        {found.code for found in board.bench.derived.inspection().findings}))
    said = board.bench.message.text
    assert said.startswith("plate.dxf exported, in millimetres: closed contours")
    board.bench.select(("e1",))
    perform("edit.delete", board, host)
    path.unlink()
    assert not perform("file.export_cut", board, host)
    assert board.bench.message.severity == "error"
    assert not path.exists()


@pytest.mark.parametrize(("name", "minded"), [("plate.dxf", True), ("plate-mm.dxf", False)])
def test_a_cut_in_r12_is_one_and_minds_a_name_without_the_unit(
    name: str, minded: bool, tmp_path: Path
) -> None:
    board, host = Board(plate()), AnsweringHost(path=tmp_path / name)
    host.cut = {"form": "r12"}
    assert perform("file.export_cut", board, host)
    assert read_r12((tmp_path / name).read_bytes()).entities
    assert ("put it in the name, plate-mm.dxf" in board.bench.message.text) == minded


@pytest.mark.parametrize(("choice", "suffix"), [(0, ".html"), (1, ".csv")])
def test_the_inspection_is_exported(tmp_path: Path, choice: int, suffix: str) -> None:
    path = tmp_path / f"plate{suffix}"
    board, host = Board(plate()), AnsweringHost(path=path, choice=choice)
    assert perform("file.export_inspection", board, host)
    assert ("ask_path", suffix) in host.calls
    assert "run" in path.read_text(encoding="utf-8")


@pytest.mark.parametrize(("choice", "suffix"), [(1, ".svg"), (3, ".dxf")])
def test_the_sheet_is_exported(tmp_path: Path, choice: int, suffix: str) -> None:
    path = tmp_path / f"plate{suffix}"
    board, host = Board(plate()), AnsweringHost(path=path, choice=choice)
    assert perform("file.export_sheet", board, host), board.bench.message
    assert ("ask_path", suffix) in host.calls
    assert path.stat().st_size > 1000


@pytest.mark.parametrize(("choice", "paper", "mirrored"), [(0, "A4", False), (3, "letter", True)])
def test_a_template_is_exported(tmp_path: Path, choice: int, paper: str, mirrored: bool) -> None:
    board, host = Board(plate()), AnsweringHost(path=tmp_path / "t.pdf", choice=choice)
    assert perform("file.export_template", board, host), board.bench.message
    assert f"t.pdf exported: 1 sheet of {paper}. Print at 100 %" in board.bench.message.text
    assert ("MIRRORED" in words_of(tmp_path / "t.pdf")) == mirrored


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_the_paper_offered_first_is_what_a_template_takes_by_itself(
    unit: Unit, tmp_path: Path
) -> None:
    board, host = Board(plate().having(unit=unit)), AnsweringHost(choice=None)
    perform("file.export_template", board, host)
    offered = next(told for name, told in host.calls if name == "ask_choice")
    assert offered[0] == template_paper("auto", unit)[0]
    known = {template_paper(way.partition(",")[0], unit)[0] for way in offered}
    assert len(known) == len(offered) // 2


def test_the_part_is_described() -> None:
    board = Board(plate())
    form = {"name": "Lid", "material": "aluminium", "thickness": "1/8 in", "density": "2700"}
    assert perform("file.describe", board, AnsweringHost(form=form))
    assert board.part.name == "Lid"
    assert board.part.material.thickness == pytest.approx(3.175)
    assert not perform("file.describe", board, AnsweringHost(form={"thickness": "0"}))


@pytest.mark.parametrize("notes", [
    (), ("Break sharp edges.",), ("Two lines\nof one note.", "Another."), ("A\n\nB\nC", "D"),
])
def test_notes_are_typed_as_lines_and_come_back_as_they_were(notes: tuple[str, ...]) -> None:
    assert notes_of(notes_text(notes)) == notes
    assert notes_of(f"\n\n{notes_text(notes)}\n \n") == notes
    board = Board(plate().having(notes=notes))
    assert perform("file.describe", board, AnsweringHost(form={"name": "Lid"}))
    assert board.part.notes == notes
    assert perform("file.describe", board, AnsweringHost(form={"notes": " One \n\n  goes on\nTwo"}))
    assert board.part.notes == ("One\ngoes on", "Two")


def test_notes_that_no_form_could_have_typed_are_left_alone() -> None:
    board = Board(plate().having(notes=(" led by a space", "ended by one ", "")))
    assert perform("file.describe", board, AnsweringHost(form={"name": "Lid"}))
    assert board.part.notes == (" led by a space", "ended by one ", "")


@pytest.mark.parametrize("thickness", [1.015625, 0.1, 1.0 / 3.0])
def test_describing_a_part_leaves_the_thickness_that_was_not_touched(thickness: float) -> None:
    board = Board(plate().having(material=Material("brass", thickness)))
    assert perform("file.describe", board, AnsweringHost(form={"name": "Lid"}))
    assert board.part.material.thickness == thickness


def test_a_thickness_typed_as_a_fraction_is_kept_so() -> None:
    board, host = Board(Part()), AnsweringHost(form={"thickness": "1/4"})
    assert perform("file.new_in", board, host)
    assert board.part.drawing.practice == "ASME"
    assert perform("file.describe", board, host)
    assert board.part.material == replace(Part(unit="in").material, thickness=0.25, written="1/4")
    assert perform("file.describe", board, AnsweringHost(form={"thickness": ".1875"}))
    assert (board.part.material.thickness, board.part.material.written) == (0.1875, "")


def test_bindings_by_action_and_what_drives() -> None:
    board, host = Board(plate()), AnsweringHost()
    board.bench.select(("h1",))
    assert perform("bind.radius", board, host)
    (name,) = board.bench.selection.ids
    assert perform("bind.drives", board, host)
    assert not board.part.bindings[name].drives
    assert perform("bind.drop", board, host)
    assert name not in board.part.bindings
    assert not perform("bind.tangent", board, host)


def test_mending_by_action() -> None:
    board, host = Board(plate()), AnsweringHost(choice=0)
    board.bench.do("Clash", lambda part: Draft(part).done().having(
        bindings={**part.bindings, "b9": part.bindings["b6"].__class__("run", ("p1", "p3"), "70")}))
    assert board.report.clashes
    assert perform("bind.mend", board, host)
    assert not board.report.clashes
    assert not perform("bind.mend", board, host)


def test_an_export_is_offered_the_name_of_the_parts_file(tmp_path: Path) -> None:
    """Not the name in the title block, which a new part has not got yet."""
    board = Board(Part())
    assert suggested(board.bench, ".pdf") == "part.pdf"
    board.load(board.part, tmp_path / "shift-arm.profile.json")
    assert suggested(board.bench, ".pdf") == "shift-arm.pdf"
