"""What the material means for the cut: as a shop would say it, written by hand beforehand."""

from __future__ import annotations

from typing import Any

import pytest

from sketcher.errors import ExportError
from sketcher.inspect.findings import CODES
from sketcher.inspect.inspection import Inspection, inspect_part
from sketcher.inspect.release import NEVER_CUT, release_cut, release_sheet, stamp_codes
from sketcher.inspect.stock import PROCESSES, Process
from sketcher.part.value import Binding, Material, Part
from sketcher.shop.cut_plan import CutSettings
from sketcher.shop.planning import plan_cut
from sketcher.solve.solve_report import SolveReport
from tests.plates import plate, rectangle


def thin_plate(material: str) -> Part:
    """80 by 50 of 0.9 mm: two holes of 1.5, one 1.45 below the upper edge, a slot of 20 by 1.5."""
    points, lines = rectangle(80.0, 50.0)
    inner, slot = rectangle(20.0, 1.5, at=(20.0, 20.0), prefix="w")
    sizes = (Binding("diameter", ("h1",), "1.5"), Binding("diameter", ("h2",), "1.5"))
    part = plate({**points, **inner, "c": (60.0, 25.0), "d": (60.0, 47.8)},
                 {**lines, **slot, "h1": ("c", 0.75), "h2": ("d", 0.75)}, *sizes)
    return part.having(material=Material(material, 0.9, 1400.0))


def looked(material: str, processes: tuple[Process, ...] = PROCESSES) -> Inspection:
    return inspect_part(thin_plate(material), SolveReport(), processes)


def against(inspection: Inspection) -> list[str]:
    return [finding.code for finding in inspection.cut_findings]


def test_thin_steel_is_advised_as_a_shop_would() -> None:
    """A shop, with a laser of 0.2 mm kerf and a plasma of 1.5 mm.

    Laser: fine but for the four sharp corners of the slot. Plasma: neither the holes nor the slot
    can be cut, they are as wide as the jet; the upper hole leaves too little edge; corners come out
    round; and it holds half a millimetre where the drawing wants a tenth.
    """
    inspection = looked("mild steel")
    said = {(one.process, one.rule, frozenset(one.ids)) for one in inspection.cutting}
    corners = {frozenset({f"we{k}", f"we{k % 4 + 1}"}) for k in range(1, 5)}
    assert said == {
        *(("laser", "inside corner", ids) for ids in corners),
        *(("plasma", "inside corner", ids) for ids in corners),
        ("plasma", "room for the cut", frozenset({"h1"})),
        ("plasma", "room for the cut", frozenset({"h2"})),
        ("plasma", "room for the cut", frozenset({"we1", "we3"})),
        ("plasma", "hole to edge", frozenset({"h2", "pe3"})),
    }
    (general,) = inspection.remarks
    assert (general.rule, general.processes) == ("tolerance", ("plasma",))
    assert "±0.1" in general.text
    assert "±0.5" in general.text
    assert inspection.sound
    assert against(inspection) == []


@pytest.mark.parametrize("name", ["PVC", "rigid pvc-u", "Vinyl", "vinyl coated steel", "PTFE"])
def test_what_gives_off_poison_is_drawn_and_never_cut(name: str) -> None:
    inspection = looked(name)
    assert inspection.sound
    assert stamp_codes(inspection) == ()
    release_sheet(inspection)
    assert against(inspection) == ["toxic-fumes"]
    assert inspection.cutting == inspection.remarks == ()
    assert name in inspection.unadvised
    with pytest.raises(ExportError, match="hydrogen") as caught:
        release_cut(inspection, CODES)
    assert "--despite" not in str(caught.value)
    assert "template" in caught.value.remedy
    assert caught.value.remedy.startswith("take another material")
    text = " ".join(inspection.as_text().split())
    assert inspection.cut_findings[0].text in text
    assert CODES["toxic-fumes"].mend in text
    told: Any = inspection.as_dict()
    assert (told["sound"], told["cutting"], told["unadvised"]) == (True, [], inspection.unadvised)
    assert [entry["code"] for entry in told["cut_findings"]] == ["toxic-fumes"]


def test_an_unknown_plastic_is_cut_where_somebody_has_asked() -> None:
    inspection = looked("plastic")
    assert against(inspection) == ["unknown-plastic"]
    with pytest.raises(ExportError, match="unknown-plastic"):
        release_cut(inspection)
    release_cut(inspection, {"unknown-plastic"})
    assert inspection.sound


def test_plasma_needs_a_conductor_and_a_laser_does_not() -> None:
    assert against(looked("acrylic", ("plasma",))) == ["no-conductor"]
    assert against(looked("acrylic", ("laser",))) == []
    both = looked("acrylic")
    assert against(both) == []
    release_cut(both, (), "laser")
    with pytest.raises(ExportError, match="does not conduct"):
        release_cut(both, (), "plasma")
    with pytest.raises(ExportError, match="does not conduct"):
        plan_cut(both, CutSettings(process="plasma"))
    assert {one.process for one in both.cutting} == {"laser"}
    assert any("does not conduct" in one.text for one in both.remarks)
    assert {"toxic-fumes", "no-conductor"} <= NEVER_CUT


def test_without_a_material_there_is_neither_mass_nor_advice_and_both_say_so() -> None:
    part = thin_plate("").having(material=Part().material)
    inspection = inspect_part(part, SolveReport())
    assert (inspection.cutting, inspection.remarks, inspection.cut_findings) == ((), (), ())
    assert inspection.profile.mass is None
    assert inspection.as_dict()["unadvised"] == inspection.unadvised
    assert "no material is given" in inspection.unadvised
    text = inspection.as_text()
    assert "mass not known" in text
    assert inspection.unadvised in text
    assert inspection.sound
    release_cut(inspection)  # what the plate is of may be settled at the shop


def test_a_sheet_metal_is_named_by_its_gauge_too() -> None:
    part = plate(*rectangle(4.0, 3.0), unit="in").having(
        material=Material("mild steel", 0.0598, 7850.0))
    assert "16 gauge" in inspect_part(part, SolveReport()).as_text()
