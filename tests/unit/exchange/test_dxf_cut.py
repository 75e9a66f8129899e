"""The cutting DXF: entities, layers, order, direction, units, refusals."""

from __future__ import annotations

import re
from collections.abc import Collection
from math import degrees, pi, tan
from pathlib import Path

import ezdxf
import pytest

from sketcher.errors import ExportError, FileError
from sketcher.exchange.dxf_cut import (
    FORMS,
    INSIDE,
    OUTSIDE,
    CutForm,
    cut_bytes,
    write_cut,
)
from sketcher.geometry.curves import Arc
from sketcher.inspect.findings import CODES
from sketcher.inspect.inspection import Inspection, inspect_part
from sketcher.inspect.release import NEVER_CUT
from sketcher.part.value import ArcCurve, Binding, Material, Part
from sketcher.shop.cautions import cautions
from sketcher.shop.planning import plan_cut
from sketcher.solve.solve_report import SolveReport
from tests.plates import looked_at, plate, rectangle

XY = tuple[float, float]


def obround(part_unit: str = "mm") -> Part:
    """Plate 60 by 40 with an obround slot (centers 10 apart, width 4) and a round hole."""
    points, lines = rectangle(60.0, 40.0)
    points |= {"a": (10.0, 8.0), "b": (20.0, 8.0), "c": (20.0, 12.0), "d": (10.0, 12.0),
               "m": (20.0, 10.0), "n": (10.0, 10.0), "o": (40.0, 20.0)}
    slot = {"s1": ("a", "b"), "s2": ("b", "c", "m", "ccw"), "s3": ("c", "d"),
            "s4": ("d", "a", "n", "ccw"), "h": ("o", 6.0)}
    return plate(points, {**lines, **slot}, unit=part_unit)


def written(
    part: Part, folder: Path, pieces: bool = False, despite: Collection[str] = ()
) -> ezdxf.document.Drawing:
    """The file of a part, read back."""
    write_cut(looked_at(part), folder / "cut.dxf", pieces, despite)
    return ezdxf.readfile(folder / "cut.dxf")


def turned(points: list[tuple[float, float, float]]) -> float:
    """Twice the signed area of the chords."""
    return sum(
        x0 * y1 - x1 * y0
        for (x0, y0, _), (x1, y1, _) in zip(points, [*points[1:], points[0]], strict=True)
    )


def test_entities_layers_and_order(tmp_path: Path) -> None:
    space = written(obround(), tmp_path).modelspace()
    kinds = [(e.dxftype(), e.dxf.layer) for e in space]
    assert sorted(kinds[:2]) == [("CIRCLE", INSIDE), ("LWPOLYLINE", INSIDE)]
    assert kinds[2:] == [("LWPOLYLINE", OUTSIDE)]


def test_inside_runs_counter_clockwise_and_outside_clockwise(tmp_path: Path) -> None:
    # Plasma: the right side of the cut is the squarer one (two torch manuals).
    for polyline in written(obround(), tmp_path).modelspace().query("LWPOLYLINE"):
        area = turned(polyline.get_points("xyb"))
        assert area > 0.0 if polyline.dxf.layer == INSIDE else area < 0.0
        assert polyline.closed


def test_bulges_of_a_slot_are_half_circles(tmp_path: Path) -> None:
    slot = written(obround(), tmp_path).modelspace().query("LWPOLYLINE")[0]
    assert sorted(round(b, 12) for *_, b in slot.get_points("xyb")) == [0.0, 0.0, 1.0, 1.0]


def test_vertices_are_the_parts_points_to_twelve_decimals(tmp_path: Path) -> None:
    points, lines = rectangle(100.0 / 3.0, 0.1 + 0.2, at=(1e-7, 2.0 / 7.0))
    polyline = written(plate(points, lines), tmp_path).modelspace().query("LWPOLYLINE")[0]
    found = sorted((x, y) for x, y, _ in polyline.get_points("xyb"))
    assert found == [pytest.approx(place, rel=0.0, abs=6e-13) for place in sorted(points.values())]


def test_all_numbers_are_in_fixed_point_and_no_zero_has_a_sign(tmp_path: Path) -> None:
    points, lines = rectangle(1e-5, 2e-5, at=(-3.99e-24, -1e-16))
    written(plate(points, lines), tmp_path)
    lines_of_file = (tmp_path / "cut.dxf").read_text(encoding="ascii").split("\n")
    reals = [value for code, value in zip(lines_of_file[::2], lines_of_file[1::2], strict=False)
             if code.strip().isdigit() and 10 <= int(code) < 60]
    assert "0.00002" in reals
    assert [value for value in reals if not re.fullmatch(r"-?[0-9]+\.[0-9]+", value)] == []
    assert [value for value in reals if value.startswith("-") and not float(value)] == []


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("at", [(0.0, 0.0), (-7.0, 3.0)])
def test_the_extents_are_those_of_the_part(
    form: CutForm, at: tuple[float, float], tmp_path: Path
) -> None:
    points, lines = rectangle(60.0, 40.0, at=at)
    write_cut(looked_at(plate(points, lines)), tmp_path / "cut.dxf", form=form)
    header = ezdxf.readfile(tmp_path / "cut.dxf").header
    assert tuple(header["$EXTMIN"])[:2] == at
    assert tuple(header["$EXTMAX"])[:2] == (at[0] + 60.0, at[1] + 40.0)


@pytest.mark.parametrize("form", FORMS)
def test_two_exports_are_the_same_byte_for_byte(form: CutForm) -> None:
    one, other = (cut_bytes(plan_cut(looked_at(obround())), form=form) for _ in range(2))
    assert one == other


def test_the_file_begins_with_its_unit_and_that_it_is_nominal(tmp_path: Path) -> None:
    written(obround("in"), tmp_path)
    assert (tmp_path / "cut.dxf").read_text(encoding="ascii").split("\n")[:6] == [
        "999", "part-profile-sketcher, cutting file", "999", "unit in",
        "999", "nominal size, not offset for the kerf"]


@pytest.mark.parametrize(("unit", "insunits", "measurement"), [("mm", 4, 1), ("in", 1, 0)])
def test_units_stand_in_the_header(
    unit: str, insunits: int, measurement: int, tmp_path: Path
) -> None:
    header = written(obround(unit), tmp_path).header
    assert (header["$INSUNITS"], header["$MEASUREMENT"]) == (insunits, measurement)


def test_audit_is_clean(tmp_path: Path) -> None:
    auditor = written(obround(), tmp_path).audit()
    assert auditor.errors == []
    assert auditor.fixes == []


def test_pieces_are_single_lines_and_arcs(tmp_path: Path) -> None:
    space = written(obround(), tmp_path, pieces=True).modelspace()
    kinds = [e.dxftype() for e in space]
    assert sorted(kinds) == ["ARC", "ARC", "CIRCLE"] + ["LINE"] * 6
    arc = space.query("ARC")[0]
    assert {round(arc.dxf.start_angle) % 360, round(arc.dxf.end_angle) % 360} == {90, 270}
    assert [e.dxf.layer for e in space][-4:] == [OUTSIDE] * 4


def pac(sweep_deg: float) -> Part:
    """A disc with a wedge cut out: an arc of some sweep and two radii."""
    from math import cos, radians, sin

    half = radians(0.5 * sweep_deg)
    points = {"o": (0.0, 0.0), "p": (10 * cos(half), -10 * sin(half)),
              "q": (10 * cos(half), 10 * sin(half))}
    return plate(points, {"a": ("p", "q", "o", "ccw"), "e1": ("q", "o"), "e2": ("o", "p")})


@pytest.mark.parametrize("sweep", [15, 30, 45, 60, 90, 120, 270])
def test_bulge_is_the_tangent_of_a_quarter_of_the_angle(sweep: int, tmp_path: Path) -> None:
    polyline = written(pac(sweep), tmp_path).modelspace().query("LWPOLYLINE")[0]
    bulges = [b for *_, b in polyline.get_points("xyb") if b]
    # Travelled clockwise round the outside, so negative.
    assert bulges == [pytest.approx(-tan(pi * sweep / 720.0), rel=1e-14)]


def test_an_arc_nearly_all_the_way_round_is_written_as_two(tmp_path: Path) -> None:
    disc = written(pac(359.0), tmp_path, despite={"fold"})  # a slit of one degree folds back
    polyline = disc.modelspace().query("LWPOLYLINE")[0]
    bulges = [b for *_, b in polyline.get_points("xyb") if b]
    assert bulges == [pytest.approx(-tan(pi * 359.0 / 1440.0), rel=1e-12)] * 2


def test_a_circle_in_arcs_becomes_one_circle(tmp_path: Path) -> None:
    part = obround()
    points = {**part.points, "u": (46.0, 20.0), "v": (34.0, 20.0)}
    curves = dict(part.curves)
    del curves["h"]
    curves |= {"h1": ArcCurve(("u", "v"), "o"), "h2": ArcCurve(("v", "u"), "o")}
    space = written(part.having(points=points, curves=curves), tmp_path).modelspace()
    assert [c.dxf.radius for c in space.query("CIRCLE")] == [pytest.approx(6.0)]


def beside() -> Part:
    """A plate with a hole, a disc in the hole, and a plate with a hole of its own beside it."""
    points, lines = rectangle(60.0, 60.0)
    more, others = rectangle(20.0, 20.0, at=(80.0, 0.0), prefix="q")
    points |= {**more, "c": (30.0, 30.0), "d": (90.0, 10.0)}
    return plate(points, {**lines, **others, "ring": ("c", 20.0), "disc": ("c", 5.0),
                          "h": ("d", 3.0)})


def test_what_lies_detached_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ExportError) as caught:
        write_cut(looked_at(beside()), tmp_path / "cut.dxf", despite={"loose"})
    assert "detached" in str(caught.value)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("pieces", [False, True])
def test_what_lies_detached_is_left_out_where_it_is_named(pieces: bool, tmp_path: Path) -> None:
    done = write_cut(looked_at(beside()), tmp_path / "cut.dxf", pieces, despite={"detached"})
    assert (done.inside, done.outside) == (1, 1)
    assert done.length == pytest.approx(240.0 + 40.0 * pi)
    space = ezdxf.readfile(tmp_path / "cut.dxf").modelspace()
    assert [(c.dxf.radius, c.dxf.layer) for c in space.query("CIRCLE")] == [(20.0, INSIDE)]
    if pieces:
        edge = [point for line in space.query("LINE") for point in (line.dxf.start, line.dxf.end)]
    else:
        edge = [point for line in space.query("LWPOLYLINE") for point in line.get_points("xy")]
    assert len(edge) in {4, 8}
    assert max(point[0] for point in edge) == 60.0


def test_a_mirrored_part_has_real_coordinates(tmp_path: Path) -> None:
    points = {"p1": (0.0, 0.0), "p2": (20.0, 0.0), "p3": (20.0, 20.0), "p4": (0.0, 20.0),
              "c": (10.0, 10.0), "f": (20.0, 10.0)}
    curves = {"e1": ("p1", "p2"), "a1": ("p2", "p3", "f", "ccw"), "e3": ("p3", "p4"),
              "h": ("c", 3.0), "ax": ("p1", "p4")}
    part = plate(points, curves, axis="ax", roles={"ax": "axis"})
    space = written(part, tmp_path).modelspace()
    assert {tuple(e.dxf.extrusion) for e in space} == {(0.0, 0.0, 1.0)}
    assert {round(c.dxf.center.x) for c in space.query("CIRCLE")} == {10, -10}
    polyline = space.query("LWPOLYLINE")[0]
    assert [b for *_, b in polyline.get_points("xyb") if b] == [pytest.approx(-1.0)] * 2


def spoiled() -> list[tuple[str, Inspection]]:
    """One inspection for each finding that must keep a part from the cutter."""
    points, lines = rectangle(40.0, 20.0)
    twin = {**points, "t": points["p1"]}
    stub = {**points, "s1": (10.0, 10.0), "s2": (20.0, 10.0)}
    c = {**points, "c": (2.0, 10.0)}
    open_lines = dict(list(lines.items())[:-1])
    half = plate({**points, "q": (0.0, 0.03)}, {**open_lines, "last": ("p4", "q")})
    past = plate({**points, "p1": (-0.02, 0.0), "q": (0.0, -0.03)},
                 {**open_lines, "last": ("p4", "q")})
    over = plate({**points, "x1": (3.0, -5.0), "x2": (3.0, 25.0)}, {**lines, "ax": ("x1", "x2")},
                 axis="ax", roles={"ax": "axis"})
    axis = {"x1": (0.0, -5.0), "x2": (0.0, 25.0)}
    long = plate({**points, **axis, "p1": (-3.0, 0.0)}, {**open_lines, "ax": ("x1", "x2")},
                 axis="ax", roles={"ax": "axis"})
    return [
        ("empty", looked_at(Part())),
        ("clash", looked_at(plate(points, lines), converged=False, clashes=(("b1", "b2"),))),
        ("unsolved", looked_at(plate(points, lines), converged=False)),
        ("unreached", looked_at(plate(points, lines, Binding("run", ("p1", "p2"), "50")),
                                converged=False, unreached=("b1",))),
        ("gap", looked_at(half)),
        ("overrun", looked_at(past)),
        ("open", looked_at(plate({**points, "t": (60.0, 30.0)},
                                 {**open_lines, "tail": ("p4", "t")}))),
        ("half", looked_at(plate(points, open_lines))),
        ("stray", looked_at(plate(stub, {**lines, "s": ("s1", "s2")}))),
        ("speck", looked_at(plate(twin, {**lines, "s": ("p1", "t")}))),
        ("overlap", looked_at(plate(points, {**lines, "again": ("p1", "p2")}))),
        ("crossing", looked_at(plate(c, {**lines, "h": ("c", 4.0)}))),
        ("axis-crossing", looked_at(over)),
        ("off-axis", looked_at(long)),
        ("toxic-fumes", looked_at(of("PVC"))),
        ("no-conductor", inspect_part(of("acrylic"), SolveReport(), ("plasma",))),
    ]


def of(material: str) -> Part:
    """A sound plate of a material."""
    return plate(*rectangle(40.0, 20.0)).having(material=Material(material, 3.0))


@pytest.mark.parametrize(("code", "inspection"), spoiled(), ids=[code for code, _ in spoiled()])
def test_what_no_cutter_can_make_is_refused_however_it_is_named(
    code: str, inspection: Inspection, tmp_path: Path
) -> None:
    found = {finding.code for finding in inspection.against_cutting}
    assert code in found
    with pytest.raises(ExportError) as caught:
        write_cut(inspection, tmp_path / "cut.dxf", despite=CODES)
    assert all(name in str(caught.value) for name in found & NEVER_CUT)
    assert list(tmp_path.iterdir()) == []


def test_every_such_code_is_tried() -> None:
    assert {code for code, _ in spoiled()} == NEVER_CUT
    assert set(CODES) >= NEVER_CUT


def test_a_loose_part_is_written_only_where_that_is_named(tmp_path: Path) -> None:
    inspection = looked_at(obround(), freedoms=2)
    for despite in ((), ("fold",), ("near-tangent", "detached")):
        with pytest.raises(ExportError) as caught:
            write_cut(inspection, tmp_path / "cut.dxf", despite=despite)
        assert "loose" in str(caught.value)
        assert list(tmp_path.iterdir()) == []
    written_file = write_cut(inspection, tmp_path / "cut.dxf", despite=("loose",))
    assert (written_file.inside, written_file.outside) == (2, 1)
    assert written_file.length == pytest.approx(200.0 + 20.0 + 4.0 * pi + 12.0 * pi)


def test_a_file_that_cannot_be_written_leaves_the_old_one(tmp_path: Path) -> None:
    with pytest.raises(FileError):
        write_cut(looked_at(obround()), tmp_path / "missing" / "cut.dxf")


def test_cautions_speak_of_codes_engineers_and_kerf() -> None:
    text = " ".join(cautions(0.0, "mm"))
    for words in ("local codes", "licensed", "qualified engineer", "kerf", "fumes"):
        assert words in text


def test_arc_sweeps_survive(tmp_path: Path) -> None:
    polyline = written(pac(123.456), tmp_path).modelspace().query("LWPOLYLINE")[0]
    arc = next(e for e in polyline.virtual_entities() if e.dxftype() == "ARC")
    exact = Arc((0.0, 0.0), looked_at(pac(123.456)).part.points["p"],
                looked_at(pac(123.456)).part.points["q"])
    assert (arc.dxf.end_angle - arc.dxf.start_angle) % 360.0 == pytest.approx(degrees(exact.sweep))
    assert tuple(arc.dxf.center)[:2] == pytest.approx((0.0, 0.0), abs=1e-12)
