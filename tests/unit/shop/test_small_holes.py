"""Holes that the cutter only marks: which, where, why, and that the others are cut as they were."""

from __future__ import annotations

from pathlib import Path

import ezdxf
import pytest

from sketcher.errors import SketcherError
from sketcher.exchange.dxf_cut import write_cut
from sketcher.part.value import Binding, Drawing, Mirror, Part
from sketcher.shop.cut_plan import CutPlan, CutSettings
from sketcher.shop.planning import plan_cut
from tests.plates import looked_at, plate, rectangle


def drilled(thickness: float, *sizes: float, **fields: object) -> Part:
    """A long plate with holes h1, h2 ... of some diameters in a row."""
    points, lines = rectangle(40.0 * (len(sizes) + 1), 60.0)
    for k, size in enumerate(sizes, 1):
        points[f"c{k}"] = (40.0 * k, 30.0)
        lines[f"h{k}"] = (f"c{k}", 0.5 * size)
    bindings = fields.pop("bindings", ())
    return plate(points, lines, *bindings, thickness=thickness, **fields)


def planned(part: Part, **settings: object) -> CutPlan:
    """The plan of a part's cut."""
    return plan_cut(looked_at(part), CutSettings(**settings))


def marked(part: Part, **settings: object) -> set[str]:
    """Ids of the holes that are marked."""
    return {mark.id for mark in planned(part, **settings).marks}


# Common practice, no source: by plasma nothing below 2 t, two kerfs of 1.5 mm, or 3 mm; by laser
# nothing below t (fabricators' design pages: and 1 mm).
@pytest.mark.parametrize(("process", "thickness", "cut", "not_cut"), [
    ("plasma", 6.0, 12.0, 11.9), ("plasma", 1.0, 3.0, 2.9), ("laser", 6.0, 6.0, 5.9),
    ("laser", 0.5, 1.0, 0.9),
])
def test_small_ones_by_process_and_thickness(
    process: str, thickness: float, cut: float, not_cut: float
) -> None:
    part = drilled(thickness, cut, not_cut)
    plan = planned(part, process=process)
    (mark,) = plan.marks
    assert (mark.id, mark.at, mark.diameter) == ("h2", (80.0, 30.0), pytest.approx(not_cut))
    assert "smaller than" in mark.why
    assert [path.contour.ids for path in plan.paths if path.contour.hole] == [("h1",)]
    assert len(plan.finished) == 3  # the part is to have all of its holes in the end


def test_a_wider_kerf_makes_more_holes_small() -> None:
    part = drilled(1.0, 5.0)
    assert marked(part, process="plasma", kerf=2.4) == set()
    assert marked(part, process="plasma", kerf=2.6) == {"h1"}


def test_threads_and_close_tolerances() -> None:
    """ISO 9013 class 1, 3 mm thick, size 10 to 35: ±0.2 as printed on a trade page."""
    bindings = (Binding("diameter", ("h1",), "20", tolerance=(0.19, -0.19)),
                Binding("diameter", ("h2",), "20", tolerance=(0.2, -0.2)),
                Binding("radius", ("h3",), "10", tolerance=(0.05, -0.05)),
                Binding("equal", ("h3", "h4")), Binding("diameter", ("h5",), "20"))
    part = drilled(3.0, *[20.0] * 6, bindings=bindings, drawing=Drawing(threads={"h6": "M24x4"}))
    plan = planned(part, process="laser")
    assert {mark.id for mark in plan.marks} == {"h1", "h3", "h4", "h6"}
    assert [mark.why for mark in plan.marks if mark.id == "h6"] == ["thread M24x4"]
    assert any("±0.19 is closer than laser holds, ±0.2" in line for line in plan.told)


def test_what_becomes_of_them_is_chosen() -> None:
    part = drilled(6.0, 20.0, 5.0)
    assert len(planned(part).paths) == 3  # without a process nothing is judged
    assert len(planned(part, process="plasma", small_holes="cut").paths) == 3
    left = planned(part, process="plasma", small_holes="leave")
    assert (len(left.paths), left.marks) == (2, ())
    assert left.told[0].startswith("1 hole Ø5 left out: neither cut nor marked")
    with pytest.raises(SketcherError, match="no process says which holes are small"):
        planned(part, small_holes="mark")


def test_reflected_ones_and_one_in_two_arcs_are_marked_once_each(tmp_path: Path) -> None:
    points = {"a": (0.0, -30.0), "b": (60.0, -30.0), "c": (60.0, 30.0), "d": (0.0, 30.0),
              "e": (0.0, -2.0), "f": (0.0, 2.0), "o": (0.0, 0.0), "k": (30.0, 10.0)}
    curves = {"m": ("a", "d"), "e1": ("a", "b"), "e2": ("b", "c"), "e3": ("c", "d"),
              "bore": ("e", "f", "o", "ccw"), "h": ("k", 2.0)}
    part = plate(points, curves, roles={"m": "axis"}, axis="m", thickness=6.0)
    assert part.mirrors == (Mirror("m"),)
    inspection = looked_at(part)
    settings = CutSettings(process="plasma", mark_form="circle")
    plan = plan_cut(inspection, settings)
    assert sorted(mark.at for mark in plan.marks) == [(-30.0, 10.0), (0.0, 0.0), (30.0, 10.0)]
    # Read by ezdxf: nothing is left of them where contours are cut.
    write_cut(inspection, tmp_path / "a.dxf", settings=settings)
    space = ezdxf.readfile(tmp_path / "a.dxf").modelspace()
    assert not [e for e in space if e.dxf.layer.startswith("INSIDE")]
