"""A part that was read from an offset file is not offset again, and its own file says so too."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import ezdxf
import pytest

from sketcher.errors import ExportError
from sketcher.exchange.dxf_cut import write_cut
from sketcher.exchange.dxf_read import read_dxf
from sketcher.intake.intake_record import intake_record
from sketcher.intake.intake_report import intake_report
from sketcher.intake.take_in import take_in
from sketcher.intake.wishes import Wishes
from sketcher.part.store import load
from sketcher.part.value import Part
from sketcher.shop.carried_kerf import noted, noted_kerf
from sketcher.shop.cautions import NOMINAL, cautions
from sketcher.shop.cut_layers import beside_contours
from sketcher.shop.cut_plan import CutSettings
from sketcher.shop.planning import plan_cut
from tests.demo_parts import SOUND
from tests.inspected import inspected

STRAP = load(next(path for path in SOUND if path.name.startswith("gate")))


@pytest.mark.parametrize("form", ["r2000", "r12"])
def test_a_file_that_carries_a_kerf_is_never_offset_again(form: str, tmp_path: Path) -> None:
    """Cut with a kerf, read in, cut again: refused with a kerf, and without one it carries on."""
    settings = CutSettings(kerf=1.5)
    write_cut(inspected(STRAP), tmp_path / "cut.dxf", settings=settings,
              form=form)  # type: ignore[arg-type]
    taken = take_in(read_dxf(tmp_path / "cut.dxf"))
    (back,) = taken.parts
    assert (back.part.unit, noted_kerf(back.part)) == ("mm", 1.5)
    assert "offset for a kerf of 1.5 mm by its layers" in intake_report(taken, ("x",))
    assert intake_record(taken, ("x",))["parts"][0]["kerf"] == 1.5
    again = inspected(back.part)
    with pytest.raises(ExportError, match=r"a kerf of 1\.5 mm already.* leave the kerf out"):
        plan_cut(again, CutSettings(kerf=0.2))
    once, twice = plan_cut(inspected(STRAP), settings), plan_cut(again)
    assert twice.settings.kerf == 1.5
    # GDAL and shapely see to the shape elsewhere; the length tells an offset from none
    assert twice.length == pytest.approx(once.length, rel=1e-6)
    write_cut(again, tmp_path / "again.dxf")
    layers = {entity.dxf.layer for entity in ezdxf.readfile(tmp_path / "again.dxf").modelspace()}
    assert layers == {"OUTSIDE_KERF_1_5MM", "INSIDE_KERF_1_5MM"}


def test_a_nominal_file_carries_none(tmp_path: Path) -> None:
    write_cut(inspected(STRAP), tmp_path / "cut.dxf")
    taken = take_in(read_dxf(tmp_path / "cut.dxf"))
    assert [(noted_kerf(each.part), each.part.notes) for each in taken.parts] == [(0.0, ())]
    assert "kerf" not in intake_report(taken, ("x",))


def test_leads_and_marks_of_a_cut_are_no_outline(tmp_path: Path) -> None:
    """Read in they would be open ends and false holes; by name they are read all the same."""
    path = tmp_path / "cut.dxf"
    settings = CutSettings(process="plasma", lead="auto", mark_form="circle")
    write_cut(inspected(STRAP), path, settings=settings)
    content = read_dxf(path)
    assert {layer.name for layer in content.layers} == {"MARK", "LEAD", "INSIDE", "OUTSIDE"}
    taken = take_in(content)
    (part,) = taken.parts
    assert (part.findings, part.faults) == ((), ())
    told = intake_report(taken, ("x",))
    assert told.count("(beside the contours, read with --layers alone)") == 2
    leads = take_in(content, Wishes(layers=("LEAD",)))
    assert leads.parts[0].findings
    assert beside_contours(["LEAD", "MARK", "0"]) == frozenset()


def test_the_note_is_read_in_either_unit_and_goes_with_the_note() -> None:
    inch = noted(Part(unit="in"), ["INSIDE_KERF_0_06IN", "OUTSIDE_KERF_0_06IN", "MARK"])
    assert inch.notes == ("All sizes are offset for a kerf of 0.06 in: not the finished part.",)
    assert noted_kerf(replace(inch, unit="mm")) == pytest.approx(0.06 * 25.4)
    assert noted_kerf(replace(inch, notes=("Kerf 0.06 in allowed",))) == 0.0
    assert noted(Part(), ["INSIDE", "0"]) == Part()


@pytest.mark.parametrize(("said", "kerf"), [
    ("0.25", 0.25), (".25", 0.25), ("2", 2.0), (".", 0.0), ("1.2.3", 0.0), ("9" * 400, 0.0)])
def test_a_note_whose_number_is_none_carries_no_kerf(said: str, kerf: float) -> None:
    """A person may have written it: what is no width is no reason to fail."""
    note = f"All sizes are offset for a kerf of {said} mm: not the finished part."
    assert noted_kerf(Part(unit="mm").having(notes=(note,))) == kerf


def test_the_cautions_say_who_offsets() -> None:
    assert cautions(0.0, "mm")[0] == NOMINAL
    assert cautions(0.06, "in")[0] == (
        "Offset for a kerf of .06 in: switch the kerf of the cutter's program off. Offset twice, "
        "every size is wrong by it.")
    assert cautions(0.0, "mm")[1:] == cautions(1.5, "mm")[1:]
