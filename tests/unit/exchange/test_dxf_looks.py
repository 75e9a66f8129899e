"""How entities are drawn, and what dimensions say, in files that ezdxf writes."""

from __future__ import annotations

from math import pi, sqrt
from pathlib import Path
from typing import Any

import ezdxf
import pytest
from ezdxf.math import Vec2

from sketcher.exchange import dxf_open
from sketcher.exchange.dxf_content import DxfContent, FileDimension
from sketcher.exchange.dxf_read import read_dxf

CHAIN = (12.0, -3.0, 0.0, -3.0)


def chained(version: str = "R2010") -> Any:
    """An empty document with a chain line of those dashes, in millimetres."""
    document = ezdxf.new(version, units=4)
    document.linetypes.add("CHAIN", [18.0, *CHAIN])
    document.layers.add("AXES", linetype="CHAIN", lineweight=25)
    document.layers.add("EDGES", lineweight=50)
    return document


def read(document: Any, folder: Path) -> DxfContent:
    document.saveas(folder / "some.dxf")
    return read_dxf(folder / "some.dxf")


def test_an_entity_says_its_line_itself_or_leaves_it_to_its_layer(tmp_path: Path) -> None:
    document = chained()
    document.header["$LTSCALE"] = 0.5
    space = document.modelspace()
    space.add_line((0, 0), (9, 0), {"layer": "AXES"})
    space.add_line((0, 1), (9, 1), {"layer": "axes", "ltscale": 4.0, "lineweight": 13})
    space.add_line((0, 2), (9, 2), {"layer": "AXES", "linetype": "CONTINUOUS"})
    space.add_circle((0, 0), 2, {"layer": "EDGES", "linetype": "chain"})
    space.add_circle((0, 0), 3, {"layer": "EDGES"})
    space.add_circle((0, 0), 4)
    content = read(document, tmp_path)
    looks = [content.entities[number] for number in range(1, 7)]
    half = tuple(0.5 * each for each in CHAIN)
    assert [look.dashes for look in looks] == [
        half, tuple(4.0 * each for each in half), (), half, (), ()]
    assert [look.width for look in looks] == [0.25, 0.13, 0.25, 0.5, 0.5, None]
    assert [look.kind for look in looks] == 3 * ["LINE"] + 3 * ["CIRCLE"]
    assert [look.handle for look in looks] == [each.dxf.handle for each in space]


def test_what_a_block_holds_takes_line_and_width_of_its_reference(tmp_path: Path) -> None:
    document = chained()
    inner, outer = document.blocks.new("INNER"), document.blocks.new("OUTER")
    inner.add_line((0, 0), (1, 0), {"linetype": "BYBLOCK", "lineweight": -2})
    inner.add_line((0, 1), (1, 1))
    outer.add_blockref("INNER", (0, 0), {"linetype": "BYBLOCK", "lineweight": -2})
    outer.add_line((0, 2), (1, 2), {"linetype": "BYBLOCK"})
    space = document.modelspace()
    space.add_blockref("OUTER", (0, 0), {"linetype": "CHAIN", "lineweight": 70, "layer": "EDGES"})
    space.add_blockref("INNER", (0, 9), {"layer": "AXES"})
    content = read(document, tmp_path)
    found = [(look.dashes, look.width, look.layer) for look in content.entities.values()]
    assert found == [
        (CHAIN, 0.7, "EDGES"), ((), 0.5, "EDGES"), (CHAIN, 0.5, "EDGES"),
        (CHAIN, 0.25, "AXES"), (CHAIN, 0.25, "AXES")]
    held = {each.dxf.handle for block in (inner, outer) for each in block}
    assert {look.handle for look in content.entities.values()} <= held


@pytest.mark.parametrize(("units", "width"), [(4, 0.8), (1, 0.8 * 25.4), (0, 0.35)])
def test_a_wide_polyline_is_as_wide_as_it_says(units: int, width: float, tmp_path: Path) -> None:
    document = chained()
    document.units = units
    document.modelspace().add_lwpolyline(
        [(0, 0), (5, 0)], dxfattribs={"const_width": 0.8, "lineweight": 35})
    assert read(document, tmp_path).entities[1].width == pytest.approx(width)


def dimensioned(version: str = "R2010") -> Any:
    """All types of dimensions about a plate of 40 x 30, drawn with their pictures."""
    document = ezdxf.new(version, setup=True, units=4)
    space = document.modelspace()
    own: dict[str, Any] = {"dimtxt": 3.5, "dimscale": 2.0, "dimexo": 1.5, "dimasz": 3.0,
                           "dimtsz": 0.0, "dimtad": 1, "dimlfac": 1.0}
    if version != "R12":
        own |= {"dimdec": 1, "dimzin": 0, "dimlunit": 2, "dimadec": 2, "dimazin": 0}
    made = [
        space.add_linear_dim((0, -10), (0, 0), (40, 30), angle=0, override=own),
        space.add_linear_dim((50, 0), (40, 0), (40, 30), angle=90, text="2x <>", override=own),
        space.add_aligned_dim((0, 0), (40, 30), distance=8, text="49", override=own),
        space.add_radius_dim((10, 10), radius=4, angle=30, override=own),
        space.add_diameter_dim((20, 10), radius=6, angle=45, override=own),
        space.add_angular_dim_2l((30, 8), ((0, 0), (30, 30)), ((0, 0), (40, 0)), override=own),
        space.add_angular_dim_3p((-9, 3), (0, 0), (0, 30), (40, 0), override=own),
        space.add_ordinate_x_dim((12, 7), (0, -9), origin=(2, 1), override=own),
        space.add_ordinate_y_dim((12, 7), (9, 0), origin=(2, 1), override=own),
    ]
    for each in made:
        each.render()
    made[2].dimension.dxf.dimtype = 33  # aligned; the library writes it as a turned linear one
    return document


MEASURED = [
    ("linear", 40.0, ""), ("linear", 30.0, ""), ("aligned", 50.0, "49"), ("radius", 4.0, ""),
    ("diameter", 12.0, ""), ("angular", 45.0, ""), ("angular", 270.0, ""), ("ordinate", 10.0, ""),
    ("ordinate", 6.0, "")]


@pytest.mark.parametrize("version", ["R12", "R2000", "R2018"])
def test_each_type_of_dimension_measures_between_its_points(version: str, tmp_path: Path) -> None:
    document = dimensioned(version)
    for entity in document.modelspace():  # what the file says that it measured is not trusted
        if version != "R12":
            entity.dxf.actual_measurement = 1.0
    found = read(document, tmp_path).dimensions
    assert [(each.kind, each.typed) for each in found] == [(k, t) for k, _, t in MEASURED]
    assert [each.measured for each in found] == pytest.approx([m for _, m, _ in MEASURED])
    assert found[0].points == ((0.0, 0.0), (40.0, 30.0))
    assert (found[0].line_at[1], found[0].turn, found[1].turn) == (-10.0, 0.0, 90.0)
    assert found[3].points[0] == pytest.approx((10.0, 10.0))
    assert {each.text_height for each in found} == {7.0}
    assert {each.extension_gap for each in found} == {3.0}
    if version != "R12":  # which has no decimals in its styles
        assert [each.text for each in found] == [
            "40.0", "2x 30.0", "49", "R4.0", "Ø12.0", "45.00°", "270.00°", "10.0", "6.0"]


def test_its_text_stands_where_its_picture_has_it(tmp_path: Path) -> None:
    document = dimensioned()
    (first, *_) = document.modelspace()
    said = next(each for each in first.get_geometry_block() if each.dxftype() == "MTEXT")
    assert said.dxf.attachment_point == 5  # put in by its middle
    there = (said.dxf.insert.x, said.dxf.insert.y)
    assert read(document, tmp_path).dimensions[0].text_at == pytest.approx(there)
    first.dxf.discard("text_midpoint")
    assert read(document, tmp_path).dimensions[0].text_at == pytest.approx(there)


WRITTEN: list[tuple[dict[str, Any], str]] = [
    ({"dimdec": 3, "dimzin": 0}, "12.345"), ({"dimdec": 2, "dimzin": 0}, "12.35"),
    ({"dimdec": 4, "dimzin": 8}, "12.345"), ({"dimdec": 0}, "12"),
    ({"dimdec": 2, "dimrnd": 0.5, "dimzin": 0}, "12.50"), ({"dimlfac": 2.0, "dimdec": 2}, "24.69"),
    ({"dimlunit": 5, "dimdec": 4}, "12 3/8"), ({"dimpost": "<> mm", "dimdec": 1}, "12.3 mm"),
    ({"dimtol": 1, "dimtp": 0.1, "dimtm": 0.1, "dimdec": 2, "dimtdec": 1, "dimzin": 0},
     "12.35±0.1"),
]
"""What a reader shows, from the meaning of the variables in the DXF reference, by hand."""


@pytest.mark.parametrize("form", ["asc", "bin"])
def test_without_a_picture_it_is_written_as_its_style_says(form: str, tmp_path: Path) -> None:
    document = ezdxf.new("R2010", setup=True, units=4)
    for style, _ in WRITTEN:
        document.modelspace().add_linear_dim(
            (0, 5), (0, 0), (12.345001, 0), override={"dimlfac": 1.0, **style}).commit()
    document.saveas(tmp_path / "some.dxf", fmt=form)
    found = read_dxf(tmp_path / "some.dxf").dimensions
    assert [each.text for each in found] == [said for _, said in WRITTEN]
    assert [each.measured for each in found] == pytest.approx(
        [style.get("dimlfac", 1.0) * 12.345001 for style, _ in WRITTEN])


def test_limits_one_above_the_other_are_told_behind_the_number(tmp_path: Path) -> None:
    document = ezdxf.new("R2010", setup=True, units=4)
    added = document.modelspace().add_linear_dim((0, 5), (0, 0), (36, 0), text="%%c<>")
    picture = document.blocks.new_anonymous_block(type_char="D")
    picture.add_text("Ø36", height=3.5)
    picture.add_text("+0.05", height=2.5)
    picture.add_text("0", height=2.5)
    added.dimension.dxf.geometry = picture.name
    (found,) = read(document, tmp_path).dimensions
    assert (found.text, found.text_height, found.typed) == ("Ø36 +0.05/0", 3.5, "")


def test_an_angle_is_that_of_the_sector_where_its_arc_stands(tmp_path: Path) -> None:
    document = ezdxf.new("R2010", setup=True)
    space = document.modelspace()
    one, other = ((-10.0, 0.0), (10.0, 0.0)), ((-5.0, -5.0), (5.0, 5.0))
    places = [(8.0, 3.0), (-3.0, 8.0), (-8.0, -3.0), (3.0, -8.0)]
    for at in places:
        space.add_angular_dim_2l(at, one, other).commit()
    found = read(document, tmp_path).dimensions
    assert [each.measured for each in found] == pytest.approx([45.0, 135.0, 45.0, 135.0])
    assert [each.line_at for each in found] == places


def test_dimensions_in_blocks_and_seen_from_behind(tmp_path: Path) -> None:
    document = ezdxf.new("R2010", setup=True, units=4)
    block = document.blocks.new("B")
    block.add_linear_dim((0, 5), (0, 0), (12, 0), override={"dimlfac": 1.0}).render()
    document.modelspace().add_blockref("B", (100, 50), {"rotation": 90})
    behind = document.modelspace().add_linear_dim((0, 5), (-3, 0), (4, 0), angle=30).dimension
    behind.dxf.dimstyle = "Standard"
    behind.dxf.extrusion, behind.dxf.text_midpoint = (0, 0, -1), (2, 7, 0)
    turned, seen = read(document, tmp_path).dimensions
    assert turned.measured == pytest.approx(12.0)
    assert turned.points == (pytest.approx((100.0, 50.0)), pytest.approx((100.0, 62.0)))
    assert turned.text_at[0] < 95.0
    assert seen.text_at == (-2.0, 7.0)
    assert seen.measured == pytest.approx(7.0 * sqrt(3.0) / 2.0)


def test_leaders_and_arc_lengths(tmp_path: Path) -> None:
    document = ezdxf.new("R2010", setup=True, units=4)
    space = document.modelspace()
    space.add_leader([(0, 0), (5, 5), (9, 5)])
    maker = space.add_multileader_mtext("Standard")
    maker.set_content("4x %%c9")
    maker.add_leader_line(ezdxf.render.ConnectionSide.left, [(20, 0)])
    maker.build(Vec2(30, 10))
    space.add_arc_dim_3p((0, 20), (0, 0), (20, 0), (-20, 0),
                         override={"dimlfac": 1.0}).render()
    content = read(document, tmp_path)
    plain, written = content.leaders
    assert plain.points == ((0.0, 0.0), (5.0, 5.0), (9.0, 5.0))
    assert written.points[0] == (20.0, 0.0)
    assert written.text == "4x Ø9"
    assert "4x Ø9" in [word.text for word in content.words]
    (arc,) = content.dimensions
    assert arc.kind == "arc length"
    assert arc.measured == pytest.approx(20.0 * pi)


def test_words_have_height_layer_and_direction(tmp_path: Path) -> None:
    document = chained()
    space = document.modelspace()
    space.add_text("SCALE 1:2", height=3.5, rotation=90, dxfattribs={"layer": "AXES"})
    space.add_mtext("notes", {"char_height": 2.5, "insert": (4, 5), "rotation": 15})
    words = read(document, tmp_path).words
    assert [(w.text, w.height, w.layer, w.turn, w.number) for w in words] == [
        ("SCALE 1:2", 3.5, "AXES", 90.0, 1), ("notes", 2.5, "0", pytest.approx(15.0), 2)]


def test_a_broken_dimension_does_not_lose_the_drawing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    document = dimensioned()
    document.modelspace().add_line((0, 0), (40, 0))

    def broken(*_: object) -> FileDimension:
        raise KeyError("no style")

    monkeypatch.setattr("sketcher.exchange.dxf_dimensions.DimensionReader.dimension", broken)
    content = read(document, tmp_path)
    assert len(content.curves) == 1
    assert sum("no style" in told for told in content.mended) == 9


@pytest.mark.parametrize("version", ["R12", "R2000", "R2018"])
def test_a_sound_file_is_read_once_and_as_the_mending_reader_does(
    version: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    document = dimensioned(version)
    document.modelspace().add_text("Größe \u2300 ±")
    mending = dxf_open._recovered
    asked: list[Path] = []

    def spied(path: Path, data: bytes) -> Any:
        asked.append(path)
        return mending(path, data)

    monkeypatch.setattr(dxf_open, "_recovered", spied)
    plain = read(document, tmp_path)
    assert not asked
    monkeypatch.setattr(dxf_open, "_sound", lambda *_: None)
    assert read_dxf(tmp_path / "some.dxf") == plain
    assert asked
