"""Reading a DXF: what was written, what others write, what is broken."""

from __future__ import annotations

from functools import cache
from math import pi
from pathlib import Path
from tempfile import TemporaryDirectory

import ezdxf
import numpy as np
import pytest
from ezdxf.math import Matrix44
from hypothesis import given, settings
from hypothesis import strategies as st

from sketcher.errors import FileError
from sketcher.exchange.dxf_content import DxfContent
from sketcher.exchange.dxf_cut import write_cut
from sketcher.exchange.dxf_read import read_dxf
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.geometry.evaluate import midpoint, point_at
from sketcher.geometry.loops import find_loops
from tests.plates import looked_at
from tests.unit.exchange.test_dxf_cut import obround, pac


def drawn(tmp_path: Path, draw: object, **options: object) -> DxfContent:
    """Content of a file that a function has drawn into the model space."""
    document = ezdxf.new("R2010", **{"units": 4, **options})  # type: ignore[arg-type]
    draw(document.modelspace())  # type: ignore[operator]
    document.saveas(tmp_path / "some.dxf")
    return read_dxf(tmp_path / "some.dxf")


@pytest.mark.parametrize("pieces", [False, True])
def test_reads_back_what_was_cut(pieces: bool, tmp_path: Path) -> None:
    inspection = looked_at(obround())
    write_cut(inspection, tmp_path / "cut.dxf", pieces)
    content = read_dxf(tmp_path / "cut.dxf")
    assert content.unit == "mm"
    assert (content.left_out, content.mended) == ({}, ())
    loops = find_loops([(str(k), c.curve) for k, c in enumerate(content.curves)], 1e-9)
    assert loops.sound
    assert loops.moments.area == pytest.approx(inspection.profile.area, rel=1e-14)
    assert sorted(loop.perimeter for loop in loops.loops) == pytest.approx(
        sorted(loop.perimeter for loop in inspection.profile.loops), rel=1e-14
    )
    # Every curve of the part is there: by the middle of it, and by its length.
    ours = sorted((*midpoint(c), c.length) for loop in inspection.profile.loops
                  for c in loop.shapes)
    theirs = sorted((*midpoint(c.curve), c.curve.length) for c in content.curves)
    assert np.array(theirs) == pytest.approx(np.array(ours), abs=1e-12)


def test_line_ends_come_back_bit_by_bit(tmp_path: Path) -> None:
    write_cut(looked_at(obround()), tmp_path / "cut.dxf")
    read = {c.curve.start for c in read_dxf(tmp_path / "cut.dxf").curves
            if isinstance(c.curve, Line)}
    assert read <= set(obround().points.values())


def test_radii_of_bulges(tmp_path: Path) -> None:
    for sweep in (1.0, 30.0, 180.0, 270.0, 300.0, 359.0):
        # The horn of one degree and the slit of one degree fold back: a finding that is accepted.
        write_cut(looked_at(pac(sweep)), tmp_path / "cut.dxf", despite={"fold"})
        arcs = [c.curve for c in read_dxf(tmp_path / "cut.dxf").curves if isinstance(c.curve, Arc)]
        for arc in arcs:
            assert arc.radius == pytest.approx(10.0, rel=1e-11)
            assert arc.center == pytest.approx((0.0, 0.0), abs=1e-9)


@pytest.mark.parametrize("kind", ["ARC", "CIRCLE", "LWPOLYLINE", "POLYLINE", "LINE"])
def test_entities_mirrored_by_their_extrusion_stand_where_they_are(
    kind: str, tmp_path: Path
) -> None:
    def draw(space: object) -> None:
        made = {
            "ARC": lambda: space.add_arc((10, 0), 5, 30, 120),  # type: ignore[attr-defined]
            "CIRCLE": lambda: space.add_circle((3, 2), 1),  # type: ignore[attr-defined]
            "LWPOLYLINE": lambda: space.add_lwpolyline(  # type: ignore[attr-defined]
                [(0, 0, 0), (10, 0, 1), (10, 4, 0)], format="xyb", close=True),
            "POLYLINE": lambda: space.add_polyline2d(  # type: ignore[attr-defined]
                [(0, 0, 0), (10, 0, 1), (10, 4, 0)], format="xyb", close=True),
            "LINE": lambda: space.add_line((1, 2), (3, 4)),  # type: ignore[attr-defined]
        }[kind]()
        made.transform(Matrix44.scale(-1, 1, 1))

    curves = [c.curve for c in drawn(tmp_path, draw).curves]
    if kind == "ARC":
        # ezdxf's own upright() gives (-10, 0), 60 to 150 degrees counter-clockwise.
        (arc,) = curves
        assert isinstance(arc, Arc)
        assert arc.center == pytest.approx((-10.0, 0.0))
        assert midpoint(arc) == pytest.approx(
            (-10.0 + 5.0 * np.cos(np.radians(105)), 5.0 * np.sin(np.radians(105)))
        )
    elif kind == "CIRCLE":
        assert curves == [Circle((-3.0, 2.0), 1.0)]
    elif kind == "LINE":
        assert curves == [Line((-1.0, 2.0), (-3.0, 4.0))]
    else:
        bent = next(c for c in curves if isinstance(c, Arc))
        assert midpoint(bent) == pytest.approx((-12.0, 2.0))
        assert len(curves) == 3


def test_arcs_always_run_counter_clockwise_in_the_file(tmp_path: Path) -> None:
    content = drawn(tmp_path, lambda s: s.add_arc((0, 0), 2, 350, 10))
    (arc,) = (c.curve for c in content.curves)
    assert isinstance(arc, Arc)
    assert arc.sweep == pytest.approx(20.0 * pi / 180.0)
    assert midpoint(arc) == pytest.approx((2.0, 0.0), abs=1e-12)


def test_blocks_are_resolved(tmp_path: Path) -> None:
    document = ezdxf.new(units=4)
    block = document.blocks.new("B")
    block.add_circle((1, 0), 0.5)
    block.add_line((0, 0), (1, 0))
    document.modelspace().add_blockref("B", (10, 5), dxfattribs={"rotation": 90})
    document.saveas(tmp_path / "some.dxf")
    curves = [c.curve for c in read_dxf(tmp_path / "some.dxf").curves]
    circle = next(c for c in curves if isinstance(c, Circle))
    assert circle.center == pytest.approx((10.0, 6.0))
    line = next(c for c in curves if isinstance(c, Line))
    assert point_at(line, 1.0) == pytest.approx((10.0, 6.0))


def test_free_curves_stand_apart_and_words_are_counted(tmp_path: Path) -> None:
    def draw(space: object) -> None:
        space.add_spline([(0, 0), (1, 2), (3, 1)])  # type: ignore[attr-defined]
        space.add_ellipse((0, 0), (2, 0), 0.5)  # type: ignore[attr-defined]
        space.add_text("no edge")  # type: ignore[attr-defined]
        space.add_line((0, 0), (1, 0))  # type: ignore[attr-defined]

    content = drawn(tmp_path, draw)
    assert dict(content.left_out) == {"TEXT": 1}
    assert [each.entity for each in content.splines] == [1, 2]
    assert [each.entity for each in content.curves] == [4]
    assert [word.text for word in content.words] == ["no edge"]


@pytest.mark.parametrize(
    ("insunits", "unit", "length"),
    [(0, None, 1.0), (1, "in", 1.0), (2, "in", 12.0), (4, "mm", 1.0), (5, "mm", 10.0),
     (6, "mm", 1000.0), (9, "in", 0.001), (13, "mm", 0.001), (21, None, 1.0)],
)
def test_units(insunits: int, unit: str | None, length: float, tmp_path: Path) -> None:
    content = drawn(tmp_path, lambda s: s.add_line((0, 0), (1, 0)), units=insunits)
    assert content.unit == unit
    assert content.curves[0].curve.length * content.factor == pytest.approx(length)


def test_a_missing_file(tmp_path: Path) -> None:
    with pytest.raises(FileError, match=r"none\.dxf"):
        read_dxf(tmp_path / "none.dxf")


def test_a_folder(tmp_path: Path) -> None:
    with pytest.raises(FileError):
        read_dxf(tmp_path)


@pytest.mark.parametrize(
    "content", [b"", b"\x00\x01\x02", b"{}", b"0\nSECTION\n", b"999\n", b"\xff" * 100],
)
def test_no_dxf_is_one_error(content: bytes, tmp_path: Path) -> None:
    (tmp_path / "some.dxf").write_bytes(content)
    with pytest.raises(FileError):
        read_dxf(tmp_path / "some.dxf")


def test_a_damaged_file_is_mended_as_far_as_it_goes(
    tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    write_cut(looked_at(obround()), tmp_path / "cut.dxf")
    text = (tmp_path / "cut.dxf").read_text(encoding="cp1252")
    damaged = text.replace(" 70\n1\n", " 70\n1x\n")
    assert damaged != text
    (tmp_path / "cut.dxf").write_text(damaged, encoding="cp1252")
    content = read_dxf(tmp_path / "cut.dxf")
    assert len(content.curves) == 9
    assert caplog.records == []


def test_the_binary_form_is_read_too(tmp_path: Path) -> None:
    document = ezdxf.new("R2010", units=4)
    document.modelspace().add_circle((3, 2), 1)
    document.saveas(tmp_path / "some.dxf", fmt="bin")
    assert [c.curve for c in read_dxf(tmp_path / "some.dxf").curves] == [Circle((3.0, 2.0), 1.0)]


@cache
def sample() -> bytes:
    """Content of a sound file; the same in every run, for times of writing stand in it."""
    with TemporaryDirectory() as folder:
        write_cut(looked_at(pac(90.0)), Path(folder) / "cut.dxf")
        return (Path(folder) / "cut.dxf").read_bytes()


@settings(max_examples=60)
@given(data=st.data())
def test_any_damage_gives_content_or_one_error(
    data: st.DataObject, tmp_path_factory: pytest.TempPathFactory
) -> None:
    folder = tmp_path_factory.mktemp("damage")
    whole = bytearray(sample())
    for _ in range(data.draw(st.integers(1, 4))):
        at = int(data.draw(st.floats(0.0, 1.0)) * len(whole))
        whole[at : at + data.draw(st.integers(0, 8))] = data.draw(st.binary(max_size=8))
    (folder / "cut.dxf").write_bytes(bytes(whole))
    try:
        content = read_dxf(folder / "cut.dxf")
    except FileError:
        return
    for read in content.curves:
        assert np.isfinite(read.curve.length)
