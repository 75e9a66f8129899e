"""A foreign drawing on its way in, without a window."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sketcher.board.board import Board
from sketcher.board.files.bringing_in import BringingIn, export_taken, open_taken, without
from sketcher.board.files.intake_words import (
    axis_choices,
    groups,
    layer_words,
    mark,
    outcome,
    part_words,
    place,
    small,
    state,
    unit_choices,
)
from sketcher.board.job import AtOnce, Job
from sketcher.exchange.dxf_content import FileLayer
from sketcher.geometry.curves import Line
from sketcher.intake.linework import Repair
from sketcher.intake.noise_floor import NoiseFloor
from sketcher.intake.wishes import Wishes
from sketcher.interrupt import Stopped
from sketcher.part.store import load
from tests import foreign
from tests.hosts import AnsweringHost


def brought(tmp_path: Path, curves=None, unit="mm", worker=None) -> BringingIn:
    path = foreign.written(tmp_path / "two-plates.dxf", curves or foreign.plate_curves(), unit)
    made = BringingIn(path, worker or AtOnce(), lambda: None)
    made.begin()
    return made


def kinds(bringing: BringingIn) -> dict[str, bool]:
    return {each.kind: each.taken for each in bringing.repairs}


def test_a_file_is_read_and_its_repairs_are_there(tmp_path: Path) -> None:
    made = brought(tmp_path)
    assert made.trouble == ""
    assert made.ready
    assert kinds(made) == {"double": True, "gap": True}
    assert made.part is not None
    assert made.part.bound.solution.report.freedoms == 0
    # Plate less holes, by hand: 90 x 50 - pi (4^2 + 6^2).
    assert made.part.area == pytest.approx(90 * 50 - 3.141592653589793 * 52, rel=1e-6)


def test_a_refused_repair_stays_listed_and_can_be_had_back(tmp_path: Path) -> None:
    made = brought(tmp_path)
    name = next(each.name for each in made.repairs if each.kind == "gap")
    made.keep((name,))
    assert made.wishes.keep == {name}
    assert kinds(made) == {"double": True, "gap": False}
    made.keep((name,), kept=False)
    assert made.wishes.keep == frozenset()
    assert kinds(made) == {"double": True, "gap": True}


def test_a_kind_that_is_refused_gives_way_to_its_repairs(tmp_path: Path) -> None:
    curves = [*foreign.plate_curves(), *foreign.plate_curves(110.0)]
    made = brought(tmp_path, curves)
    gaps = [each.name for each in made.repairs if each.kind == "gap"]
    assert len(gaps) == 2
    made.keep_kind("gap")
    assert made.wishes.keep == {"gap"}
    assert not any(each.taken for each in made.repairs if each.kind == "gap")
    made.keep((gaps[0],), kept=False)
    assert made.wishes.keep == {gaps[1]}
    made.keep_kind("gap", kept=False)
    assert made.wishes.keep == frozenset()


def test_a_wish_that_has_nothing_left_is_dropped(tmp_path: Path) -> None:
    made = brought(tmp_path)
    made.keep(("gap-98-99",))  # as of a layer that is read no more
    assert made.wishes == Wishes()
    assert made.ready
    made.reflect_about("a9")
    assert made.wishes == Wishes()
    assert without(Wishes(axis="a9"), "--axis a9") == Wishes()
    assert without(Wishes(axis="a9"), "elsewhere") == Wishes(axis="a9")


def test_the_unit_is_answered(tmp_path: Path) -> None:
    made = brought(tmp_path, unit="mm")
    made.measure_in("in")
    assert made.brought is not None
    assert made.brought.taken.unit.unit == "in"
    assert made.part is not None
    assert made.part.part.unit == "in"


def test_layers_are_read_as_they_are_ticked(tmp_path: Path) -> None:
    made = brought(tmp_path)
    assert made.layers_read() == {"0"}
    made.read_layers(("0",))
    assert made.wishes.layers is None
    made.read_layers(())
    assert made.wishes.layers == ()
    assert made.part is None
    assert not made.ready


def test_what_cannot_be_read_is_told_with_the_files_name(tmp_path: Path) -> None:
    path = tmp_path / "torn.dxf"
    path.write_text("0\nSECTION\n2\nENT")
    made = BringingIn(path, AtOnce(), lambda: None)
    made.begin()
    assert "torn.dxf" in made.trouble
    assert not made.ready
    assert not made.going


class Halting(AtOnce):
    """Stops every job of a kind, as a person does."""

    def __init__(self) -> None:
        self.halts = False

    def start(self, job: Job, done, failed=None) -> None:
        if self.halts:
            failed(Stopped())
        else:
            super().start(job, done, failed)


def test_what_is_stopped_goes_back_to_what_is_shown(tmp_path: Path) -> None:
    worker = Halting()
    made = brought(tmp_path, worker=worker)
    worker.halts = True
    made.keep_kind("gap")
    assert made.wishes == Wishes()
    assert made.ready


def test_what_is_stopped_at_first_can_be_begun_again(tmp_path: Path) -> None:
    worker = Halting()
    worker.halts = True
    made = brought(tmp_path, worker=worker)
    assert made.trouble == "stopped"
    worker.halts = False
    made.begin()
    assert made.ready


def test_the_chosen_part_is_opened_as_one_in_no_file(tmp_path: Path) -> None:
    board, host = Board(), AnsweringHost()
    curves = [*foreign.plate_curves(), *foreign.plate_curves(110.0)]
    made = brought(tmp_path, curves)
    made.choose(1)
    assert made.part is not None
    assert open_taken(board, host, made)
    assert board.part.name == "two-plates 2"
    assert board.bench.path is None
    assert board.bench.is_changed  # so that leaving asks
    assert "two-plates.dxf" in board.bench.message.text


def test_what_is_open_with_changes_is_asked_about_first(tmp_path: Path) -> None:
    board, made = Board(), brought(tmp_path)
    assert open_taken(board, AnsweringHost(), made)
    before = board.part
    host = AnsweringHost(unsaved="cancel")
    assert not open_taken(board, host, made)
    assert board.part is before
    assert [name for name, _ in host.calls] == ["ask_unsaved"]


def test_all_parts_are_exported_under_numbers(tmp_path: Path) -> None:
    curves = [*foreign.plate_curves(), *foreign.plate_curves(110.0)]
    made = brought(tmp_path, curves)
    host = AnsweringHost(path=tmp_path / "pair.profile.json")
    said = export_taken(Board(), host, made)
    assert said == "2 parts exported: pair-1.profile.json to pair-2.profile.json."
    for number in (1, 2):
        part = load(tmp_path / f"pair-{number}.profile.json")
        assert part.name == f"two-plates {number}"
    host.sure = False  # they are there now
    assert export_taken(Board(), host, made) == ""
    assert export_taken(Board(), AnsweringHost(path=None), made) == ""


# Words.

REPAIRS = (
    Repair("gap", (90.0, 50.0), 0.0123, (2, 3), "ends 0.0123 apart; joined"),
    Repair("double", (0.0, 25.0), 0.0, (4, 5), "is drawn twice; kept once", taken=False),
    Repair("gap", (0.0, 50.0), 0.02, (3, 4), "ends 0.02 apart; joined"),
)


def test_repairs_are_told_apart_by_letter_and_number() -> None:
    assert [mark(each, number) for number, each in enumerate(REPAIRS, 1)] == ["G 1", "D 2", "G 3"]
    found = groups(REPAIRS)
    assert [(each.kind, each.numbers) for each in found] == [("double", (2,)), ("gap", (1, 3))]
    assert found[1].title.startswith("G  Gap: ")
    assert found[1].title.endswith("(2)")
    assert small(0.0123, "mm") == "0.012 mm"
    assert small(0.0, "mm") == ""
    assert place(REPAIRS[0], "mm") == "90, 50"


def test_a_kind_that_nobody_knows_is_listed_last() -> None:
    found = groups((Repair("bent", (0.0, 0.0), 0.0, (1,), "is bent"), *REPAIRS))
    assert [each.kind for each in found] == ["double", "gap", "bent"]
    assert found[-1].title == "B  Bent: is bent (1)"


def test_layers_say_what_they_hold_and_why_they_are_not_seen() -> None:
    assert layer_words(FileLayer("0", {"LINE": 4, "ARC": 1})) == "0: 4 LINE, 1 ARC"
    assert layer_words(FileLayer("notes", {}, "frozen")) == "notes: nothing (frozen in the file)"


def test_the_outcome_says_what_a_drafter_asks(tmp_path: Path) -> None:
    made = brought(tmp_path)
    assert made.brought is not None
    assert state(made.brought, 0) == "1 part; bound; 2 repairs"
    lines = outcome(made.brought, 0)
    assert lines[0].startswith("90 x 50 mm, area 4336.64 mm")
    assert any(line.startswith("outline moved by at most ") for line in lines)
    assert "bound" in lines
    assert any(line.endswith("values are round") for line in lines)
    assert part_words(1, made.part) == f"1: {lines[0]}"
    assert [unit for unit, _ in unit_choices(made.brought)] == ["mm", "in"]
    assert axis_choices(made.part)[-1][0] == "none"


def test_the_outcome_says_how_well_the_file_knows_its_places(tmp_path: Path) -> None:
    made = brought(tmp_path)
    assert made.brought is not None
    told = "written in single precision: no place is known better than to 7.6e-06 mm"
    assert told not in outcome(made.brought, 0)
    floor = NoiseFloor(2.0**-17, "written in single precision")
    blurred = replace(made.brought, taken=replace(made.brought.taken, floor=floor))
    assert told in outcome(blurred, 0)


def test_a_refused_repair_and_a_drawing_without_outline_are_told(tmp_path: Path) -> None:
    made = brought(tmp_path)
    made.keep_kind("double")
    assert made.brought is not None
    assert "1 repair, 1 kept as drawn" in state(made.brought, 0)
    made.read_layers(())
    assert state(made.brought, 0) == "! no closed outline and nothing to draw"
    assert outcome(made.brought, 0)[0] == "! no closed outline and nothing to draw"
    assert state(None, 0) == ""


def test_what_is_wrong_with_any_part_is_counted(tmp_path: Path) -> None:
    curves = [*foreign.plate_curves(), *foreign.plate_curves(110.0)]
    crossing = Line((120.0, 10.0), (130.0, 40.0))
    made = brought(tmp_path, [*curves, crossing])
    assert made.brought is not None
    wrong = [len(each.findings) + len(each.faults) for each in made.brought.taken.parts]
    assert min(wrong) == 0 < max(wrong)
    said = {state(made.brought, number) for number in range(len(wrong))}
    assert len(said) == 1
    assert f"{sum(wrong)} finding" in said.pop()
