"""Files as hand-ins: parts, the program's own sheets, and what is no drawing at all."""

from __future__ import annotations

import json
from collections import Counter
from itertools import pairwise
from math import cos, pi, sin
from pathlib import Path

import ezdxf
import pytest

from sketcher.errors import SketcherError
from sketcher.exchange.sheet_file import write_sheet
from sketcher.geometry.curves import Line
from sketcher.marking.comparing import NoFit
from sketcher.marking.hand_in_file import read_hand_in
from tests.demo_parts import FOLDER
from tests.ready_keys import key_ready
from tests.unit.marking.by_hand import gate_strap, handed


def test_a_part_is_a_hand_in_with_its_whole_outline() -> None:
    hand_in = read_hand_in(FOLDER / "gate-strap.profile.json")
    assert hand_in.part is not None
    assert hand_in.report is not None
    assert (hand_in.file, hand_in.unit, hand_in.factor) == ("gate-strap.profile.json", "mm", 1.0)
    assert {each.role for each in hand_in.curves} == {"outline"}
    comparison = key_ready("gate-strap").compare(hand_in)
    assert comparison.matching.wrong(1e-6) == 0
    assert comparison.changes == ()
    assert comparison.center_lines == ()


@pytest.mark.parametrize("name", ["gate-strap", "shelf-bracket"])
def test_the_sheet_of_the_key_is_a_hand_in(name: str, tmp_path: Path) -> None:
    write_sheet(key_ready(name).part, tmp_path / "sheet.dxf")
    hand_in = read_hand_in(tmp_path / "sheet.dxf")
    layers = Counter((each.role, hand_in.entities[each.entity].layer) for each in hand_in.curves)
    assert {layer for role, layer in layers if role == "outline"} == {"VISIBLE"}
    assert {layer for role, layer in layers if role == "center"} == {"CENTER"}
    assert hand_in.dimensions
    assert all(not each.typed for each in hand_in.dimensions)
    comparison = key_ready(name).compare(hand_in)
    assert comparison.matching.wrong(comparison.within) == 0
    assert comparison.pose.scale == 1.0


@pytest.mark.parametrize(("name", "content", "said"), [
    ("some.dxf", b"", "empty"), ("some.dxf", b"not a drawing at all", "not a readable DXF"),
    ("some.dxf", b"\x00\x01\x02" * 400, "not a readable DXF"),
    ("some.profile.json", b"{", "some.profile.json"),
    ("some.profile.json", json.dumps({"a": 1}).encode(), "some.profile.json"),
    ("some.profile.json", b"\xff\xfe\x00", "some.profile.json"),
    ("some.pdf", b"%PDF-1.4 ...", "not a readable DXF")])
def test_what_is_no_drawing_is_one_clear_error(
    name: str, content: bytes, said: str, tmp_path: Path
) -> None:
    (tmp_path / name).write_bytes(content)
    with pytest.raises(SketcherError, match=said) as raised:
        read_hand_in(tmp_path / name)
    assert name in str(raised.value)
    assert "\n" not in str(raised.value)


def test_a_missing_file_is_one_clear_error(tmp_path: Path) -> None:
    with pytest.raises(SketcherError, match=r"gone\.dxf"):
        read_hand_in(tmp_path / "gone.dxf")


def test_a_drawing_of_texts_alone_has_no_outline(tmp_path: Path) -> None:
    document = ezdxf.new("R2010")
    document.modelspace().add_text("nothing drawn")
    document.layout("Layout1").add_line((0, 0), (5, 5))
    document.saveas(tmp_path / "some.dxf")
    hand_in = read_hand_in(tmp_path / "some.dxf")
    assert hand_in.curves == ()
    assert hand_in.content is not None
    assert hand_in.content.left_out["on paper"] == 1
    with pytest.raises(NoFit, match=r"some\.dxf: has no outline; .* on the paper"):
        key_ready("gate-strap").compare(hand_in)
    document.modelspace().add_line((0, 0), (5, 5), {"layer": "EDGES"})
    document.layers.add("EDGES").off()
    document.saveas(tmp_path / "some.dxf")
    with pytest.raises(NoFit, match="its layer EDGES is off"):
        key_ready("gate-strap").compare(read_hand_in(tmp_path / "some.dxf"))


def test_another_part_is_not_graded_and_half_of_the_part_is() -> None:
    corners = [(3.0 * cos(k * pi / 3.0), 3.0 * sin(k * pi / 3.0)) for k in range(7)]
    with pytest.raises(NoFit, match=r"no outline fits the key: \d of its 14 lines and rounds"):
        key_ready("shelf-bracket").compare(handed(
            [Line(start, end) for start, end in pairwise(corners)], "in"))
    key = key_ready("gate-strap")
    half = [curve for name, curve in gate_strap().items() if not name.startswith("l_")]
    comparison = key.compare(handed(half))
    assert comparison.changes == ()
    assert len(comparison.matching.missing) == len(comparison.shape.found) - len(half)
