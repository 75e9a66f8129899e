"""Layers, blocks, space and words of a DXF; ezdxf writes them, the meaning is the DXF reference's
(from memory: layer 0 in blocks, extrusion, flags of POLYLINE and VERTEX)."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, pi, sin
from pathlib import Path
from typing import Any

import ezdxf
import numpy as np
import pytest
from ezdxf.math import Matrix44

from sketcher.errors import EditError, FileError
from sketcher.exchange.dxf_content import DxfContent
from sketcher.exchange.dxf_read import read_dxf
from sketcher.geometry.curves import Arc, Circle, Line


def written(tmp_path: Path, draw: Callable[[Any], None], version: str = "R2010") -> DxfContent:
    """What is read of a document that a function has drawn into."""
    document = ezdxf.new(version, units=4)
    draw(document)
    document.saveas(tmp_path / "some.dxf")
    return read_dxf(tmp_path / "some.dxf")


def layered(document: Any) -> None:
    """A circle on each of four layers and in blocks, by radius."""
    document.layers.add("SEEN")
    document.layers.add("COLD").freeze()
    document.layers.add("DARK").off()
    space = document.modelspace()
    for radius, layer in ((1, "SEEN"), (2, "COLD"), (3, "DARK"), (4, "seen")):
        space.add_circle((0, 0), radius, dxfattribs={"layer": layer})
    space.add_circle((0, 0), 5, dxfattribs={"layer": "SEEN", "invisible": 1})
    block = document.blocks.new("B")
    block.add_circle((0, 0), 6)
    block.add_circle((0, 0), 7, dxfattribs={"layer": "SEEN"})
    block.add_circle((0, 0), 8, dxfattribs={"layer": "COLD"})
    for at, layer in ((10, "SEEN"), (20, "COLD"), (30, "DARK")):
        space.add_blockref("B", (at, 0), dxfattribs={"layer": layer})


def circles(content: DxfContent) -> set[tuple[str, float, float]]:
    """Layer, place and radius of all circles."""
    return {(each.layer, each.curve.center[0], each.curve.radius) for each in content.curves
            if isinstance(each.curve, Circle)}


@pytest.mark.parametrize("version", ["R12", "R2000", "R2018"])
def test_only_what_is_seen_is_read(version: str, tmp_path: Path) -> None:
    content = written(tmp_path, layered, version)
    expected = {("SEEN", 0, 1), ("SEEN", 0, 4), ("SEEN", 10, 6), ("SEEN", 10, 7),
                # The reference stands on a layer that is off: what has a layer of its own is seen.
                ("SEEN", 30, 7)}
    if version == "R12":  # has no mark for what is invisible
        expected.add(("SEEN", 0, 5))
    assert circles(content) == expected
    hidden = {layer.name: layer.hidden for layer in content.layers}
    assert hidden == {"SEEN": "", "COLD": "frozen", "DARK": "off"}
    counts = {layer.name: layer.counts["CIRCLE"] for layer in content.layers}
    assert counts == {"SEEN": 7, "COLD": 5, "DARK": 2}
    assert content.left_out["CIRCLE in a block on COLD (frozen)"] == 1


def test_named_layers_are_read_hidden_or_not(tmp_path: Path) -> None:
    written(tmp_path, layered)
    content = read_dxf(tmp_path / "some.dxf", ["dark"])
    assert circles(content) == {("DARK", 0, 3), ("DARK", 30, 6)}
    with pytest.raises(EditError, match=r"--layers NONE: .* it has SEEN, COLD, DARK"):
        read_dxf(tmp_path / "some.dxf", ["DARK", "NONE"])


def test_numbers_of_entities_do_not_hang_on_the_layers(tmp_path: Path) -> None:
    content = written(tmp_path, layered)
    dark = read_dxf(tmp_path / "some.dxf", ["DARK"])
    assert [each.entity for each in dark.curves] == [3, 12]
    assert 3 not in [each.entity for each in content.curves]


def test_blocks_in_blocks_in_rows_with_scale(tmp_path: Path) -> None:
    def draw(document: Any) -> None:
        inner = document.blocks.new("INNER")
        inner.add_arc((1, 0), 1, 0, 90)
        outer = document.blocks.new("OUTER")
        outer.add_blockref("INNER", (0, 0), dxfattribs={"xscale": -2, "yscale": 2})
        document.modelspace().add_blockref("OUTER", (100, 0), dxfattribs={
            "row_count": 2, "column_count": 3, "row_spacing": 10, "column_spacing": 20})

    content = written(tmp_path, draw)
    arcs = [each.curve for each in content.curves if isinstance(each.curve, Arc)]
    assert np.array(sorted((round(a.center[0], 9), a.center[1]) for a in arcs)) == pytest.approx(
        np.array([(98.0 + 20 * column, 10.0 * row) for column in range(3) for row in range(2)]))
    assert all(a.radius == pytest.approx(2.0) for a in arcs)
    # Mirrored: the quarter from the middle's left up.
    ends = {(round(a.start[0] - a.center[0], 9), round(a.start[1] - a.center[1], 9)) for a in arcs}
    assert ends <= {(-2.0, 0.0), (-0.0, 2.0), (0.0, 2.0)}


def test_a_circle_of_unequal_scale_is_a_free_curve(tmp_path: Path) -> None:
    def draw(document: Any) -> None:
        document.blocks.new("B").add_circle((0, 0), 1)
        document.modelspace().add_blockref("B", (5, 6), dxfattribs={"xscale": 3, "yscale": 2})

    content = written(tmp_path, draw)
    (free,) = content.splines
    places, _ = free.curve.at(np.linspace(*free.curve.span, 200))
    # The equation of the ellipse itself.
    assert ((places[:, 0] - 5) / 3) ** 2 + ((places[:, 1] - 6) / 2) ** 2 == pytest.approx(1.0)


def test_a_block_that_holds_itself(tmp_path: Path) -> None:
    def draw(document: Any) -> None:
        document.blocks.new("A").add_blockref("B", (1, 0))
        document.blocks.new("B").add_blockref("A", (1, 0))
        document.modelspace().add_blockref("A", (0, 0))

    with pytest.raises(FileError, match=r"block [AB]: holds itself"):
        written(tmp_path, draw)


def test_ellipses_that_are_round(tmp_path: Path) -> None:
    def draw(document: Any) -> None:
        space = document.modelspace()
        space.add_ellipse((1, 2), (3, 0), 1.0)
        space.add_ellipse((1, 2), (0, 3), 1.0, 0.0, 0.5 * pi)
        space.add_ellipse((1, 2), (3, 0), 1.0, 0.0, 0.5 * pi).transform(Matrix44.scale(-1, 1, 1))

    circle, arc, mirrored = (each.curve for each in written(tmp_path, draw).curves)
    assert circle == Circle((1.0, 2.0), 3.0)
    assert isinstance(arc, Arc)
    assert isinstance(mirrored, Arc)
    assert (*arc.start, *arc.end) == pytest.approx((1.0, 5.0, -2.0, 2.0))
    assert arc.sweep == pytest.approx(0.5 * pi)
    assert {tuple(np.round(p, 9)) for p in (mirrored.start, mirrored.end)} == {(-4, 2), (-1, 5)}
    assert abs(mirrored.sweep) == pytest.approx(0.5 * pi)


def test_a_bulge_of_nothing_is_a_line_and_that_is_told(tmp_path: Path) -> None:
    content = written(tmp_path, lambda d: d.modelspace().add_lwpolyline(
        [(0, 0, 1e-9), (10, 0, 0.5), (20, 0, 0)], format="xyb"))
    assert [type(each.curve) for each in content.curves] == [Line, Arc]
    assert content.mended == (
        "LWPOLYLINE 1 on layer 0: a bulge too small for an arc was taken for a straight line",)


def test_the_frame_of_a_smoothed_polyline_is_left_out(tmp_path: Path) -> None:
    def draw(document: Any) -> None:
        line = document.modelspace().add_polyline2d([(0, 0), (5, 5), (4, 1), (10, 0)])
        line.dxf.flags |= 4
        line.vertices[1].dxf.flags = 16
        line.vertices[2].dxf.flags = 8

    assert [each.curve for each in written(tmp_path, draw).curves] == [
        Line((0.0, 0.0), (4.0, 1.0)), Line((4.0, 1.0), (10.0, 0.0))]


def test_a_flat_drawing_anywhere_in_space_is_laid_level(tmp_path: Path) -> None:
    def draw(document: Any) -> None:
        space = document.modelspace()
        space.add_lwpolyline([(0, 0), (40, 0), (40, 30), (0, 30)], close=True)
        space.add_arc((20, 15), 5, 0, 120)
        space.add_line((1, 1), (2, 4))
        turn = Matrix44.xyz_rotate(0.5, 0.3, 0.2) @ Matrix44.translate(3, 4, 5)
        for entity in space:
            entity.transform(turn)

    content = written(tmp_path, draw)
    lines = [each.curve.length for each in content.curves if isinstance(each.curve, Line)]
    assert lines == pytest.approx([40.0, 30.0, 40.0, 30.0, 10.0 ** 0.5])
    (arc,) = (each.curve for each in content.curves if isinstance(each.curve, Arc))
    assert (arc.radius, abs(arc.sweep)) == pytest.approx((5.0, 2.0 * pi / 3.0))
    assert "laid into its plane" in content.mended[0]


def test_what_is_not_flat_is_refused_by_name(tmp_path: Path) -> None:
    def draw(document: Any) -> None:
        space = document.modelspace()
        space.add_line((0, 0, 7), (10, 0, 7))
        space.add_line((0, 0, 0), (0, 10, 0))
        space.add_line((1, 1, 0), (2, 2, 9))

    with pytest.raises(FileError, match=r"LINE 3 on layer 0.*not flat: it rises from z 0 to z 9"):
        written(tmp_path, draw)


def test_heights_do_not_matter(tmp_path: Path) -> None:
    content = written(tmp_path, lambda d: d.modelspace().add_line((0, 0, 7), (1, 0, 7)))
    assert content.curves[0].curve == Line((0.0, 0.0), (1.0, 0.0))


def test_numbers_are_plain(tmp_path: Path) -> None:
    content = written(tmp_path, lambda d: d.modelspace().add_lwpolyline(
        [(0, 0, 0.5), (10, 0, 0.5), (20, 5, 0)], format="xyb"))
    for each in content.curves:
        assert isinstance(each.curve, Arc)
        numbers = (*each.curve.center, *each.curve.start, *each.curve.end, each.curve.radius)
        assert {type(number) for number in numbers} == {float}


def test_numbers_that_are_none_are_dropped_and_told(tmp_path: Path) -> None:
    written(tmp_path, lambda d: [d.modelspace().add_line((0, 0), (1.25, 0)),
                                 d.modelspace().add_circle((0, 0), 3.5)])
    text = (tmp_path / "some.dxf").read_text(encoding="cp1252")
    (tmp_path / "some.dxf").write_text(text.replace("1.25\n", "nan\n").replace("3.5\n", "0.0\n"),
                                       encoding="cp1252")
    content = read_dxf(tmp_path / "some.dxf")
    assert content.curves == ()
    assert content.mended == ("LINE 1 on layer 0 was left out: a number is not finite",
                              "CIRCLE 2 on layer 0 was left out: its radius is 0")


def test_words_and_dimensions(tmp_path: Path) -> None:
    def draw(document: Any) -> None:
        space = document.modelspace()
        space.add_text("2x Ø9", dxfattribs={"insert": (3, 4)})
        space.add_mtext("two\\Plines 5")
        space.add_linear_dim((0, 5), (0, 0), (50.8, 0)).render()
        space.add_linear_dim((0, 5), (0, 0), (50.8, 0), text="2").render()
        space.add_angular_dim_3p((0, 5), (0, 0), (5, 0), (0, 5)).render()

    content = written(tmp_path, draw)
    assert [(word.kind, word.value) for word in content.words] == [
        ("text", 9.0), ("text", None), ("dimension", pytest.approx(50.8)), ("dimension", 2.0),
        ("dimension", None)]
    assert content.words[0].at == (3.0, 4.0)
    assert content.left_out == {"TEXT": 1, "MTEXT": 1, "DIMENSION": 3}


@pytest.mark.parametrize("decimals", [3, 6])
def test_decimals_are_those_that_are_written(decimals: int, tmp_path: Path) -> None:
    pairs = [(0, "SECTION"), (2, "ENTITIES")]
    for k in range(8):
        a, b = (f"{100 * f(k):.{decimals}f}" for f in (cos, sin))
        pairs += [(0, "LINE"), (8, "0"), (10, a), (20, b), (11, b), (21, a)]
    pairs += [(0, "ENDSEC"), (0, "EOF")]
    (tmp_path / "some.dxf").write_text("".join(f"{c}\n{v}\n" for c, v in pairs))
    content = read_dxf(tmp_path / "some.dxf")
    assert (len(content.curves), content.decimals) == (8, decimals)


def test_numbers_in_full_have_no_decimals(tmp_path: Path) -> None:
    content = written(tmp_path, lambda d: [
        d.modelspace().add_line((cos(k), sin(k)), (sin(k), k / 7)) for k in range(9)])
    assert content.decimals is None


def test_a_file_that_ends_early_says_so(tmp_path: Path) -> None:
    written(tmp_path, layered)
    text = (tmp_path / "some.dxf").read_text(encoding="cp1252")
    cut = text.rindex("CIRCLE\n")
    (tmp_path / "some.dxf").write_text(text[:cut + 6], encoding="cp1252")
    content = read_dxf(tmp_path / "some.dxf")
    # The last circle is broken off; it stands in the file in front of three blocks.
    assert len(content.curves) == 2
    assert content.mended[0].startswith(
        f"the file breaks off in line {text.count(chr(10), 0, cut) + 1},")


def test_entities_without_class_marks_are_read(tmp_path: Path) -> None:
    written(tmp_path, lambda d: d.modelspace().add_lwpolyline([(0, 0), (4, 0), (4, 3)]))
    text = (tmp_path / "some.dxf").read_text(encoding="cp1252")
    bare = text.replace("100\nAcDbPolyline\n", "")
    assert bare != text
    (tmp_path / "some.dxf").write_text(bare, encoding="cp1252")
    content = read_dxf(tmp_path / "some.dxf")
    assert [each.curve.length for each in content.curves] == [4.0, 3.0]
    assert content.mended[0].startswith("1 LWPOLYLINE without AcDbPolyline")
