"""The series of hand-ins is what it says: repeatable, varied, and fair about what is decidable."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from random import Random

import ezdxf
import ezdxf.bbox
import pytest

from tests.hand_ins.decidable import rival
from tests.hand_ins.drawer import Drawing, Manner, write_dxf
from tests.hand_ins.local_faults import FAULTS, with_moved, without
from tests.hand_ins.papers import PAPERS
from tests.hand_ins.series import Answer, hand_in
from tests.hand_ins.strokes import Ring, Straight

BY_KEY = {paper.key: paper for paper in PAPERS}


def bounding(entity: object) -> tuple[float, ...]:
    box = ezdxf.bbox.extents([entity])
    return (*box.extmin, *box.extmax)


# By hand: the eye's rim is at half the diameter and the wall, so without the eye either may be
# wrong; the foot holes are two, so the other one tells; a plate turned as a whole says no angle;
# a lone hole moved along a dimension is that dimension, moved across both it is two, and then the
# hole may have been moved by itself; four holes in rows that all moved are no such chance.
@pytest.mark.parametrize(("key", "planted", "spoiled", "decidable"), [
    ("gate-strap", {"b20": 22.0}, "-eye", False),
    ("gate-strap", {"b19": 104.0}, "-eye", True),
    ("gate-strap", {"b24": 10.0}, "-foot hole", True),
    ("gate-strap", {"wall": 14.0}, "", True),
    ("roof-gusset", {"b2": 30.0}, "", False),
    ("roof-gusset", {"b9": 32.0}, "", True),
    ("shelf-bracket", {}, "wall hole by 0.25", False),
    ("shelf-bracket", {"b10": 2.0}, "wall hole by 0.25", False),
    ("shelf-bracket", {}, "wall hole by 0.25+0.1j", True),
    ("shelf-bracket", {"b24": 1.25}, "-wall hole", False),
    ("pump-flange", {"b6": 14.0}, "ear hole by 2", True),
    ("shelf-bracket", {"b24": 1.25, "b25": 1.5}, "", False),
    ("shelf-bracket", {"b24": 1.25, "b23": 0.5}, "", False),
    ("shelf-bracket", {"b21": 3.0, "b22": 0.5}, "", True),
    ("roof-gusset", {"b27": 6.0, "b29": 6.5}, "-nail", False),
])
def test_what_is_decidable(
        key: str, planted: Mapping[str, float], spoiled: str, decidable: bool) -> None:
    paper = BY_KEY[key]
    plate = paper.drawn(planted)
    if spoiled.startswith("-"):
        drawing = without(plate, spoiled[1:])
    elif spoiled:
        name, _, by = spoiled.partition(" by ")
        drawing = with_moved(plate, name, complex(by))
    else:
        drawing = FAULTS["none"](plate, Random(1))
    assert (rival(paper, planted, drawing) == "") == decidable


def test_a_hand_in_of_a_series_is_always_the_same(tmp_path: Path) -> None:
    for number in (3, 11):
        one, again = hand_in("A", number), hand_in("A", number)
        assert dict(one.planted) == dict(again.planted)
        assert one.manner == again.manner
        (tmp_path / "again").mkdir(exist_ok=True)
        drawn = [[(e.dxftype(), e.dxf.layer, bounding(e)) for e in ezdxf.readfile(
            each.write(folder)).modelspace()]
            for each, folder in ((one, tmp_path), (again, tmp_path / "again"))]
        assert drawn[0] == drawn[1]
    assert dict(hand_in("B", 3).planted) != dict(hand_in("A", 3).planted)


def test_a_series_has_everything() -> None:
    some = [hand_in("A", number) for number in range(60)]
    assert {len(one.planted) for one in some} == {0, 1, 2, 3}
    assert {one.fault for one in some} == set(FAULTS)
    assert {one.paper.key for one in some} == set(BY_KEY)
    assert {one.manner.version for one in some} == {"R12", "R2000", "R2018"}
    assert any(one.manner.turn % 90.0 for one in some)
    assert any(one.manner.mirrored and one.manner.polylines for one in some)
    assert sum(bool(one.rival) for one in some) < 0.15 * len(some)


def test_an_answer_is_judged_by_name_and_amount() -> None:
    one = next(h for h in (hand_in("A", n) for n in range(0, 100, 5)) if len(h.planted) == 1)
    (name, amount), = one.planted.items()
    assert Answer(one, {name: amount}).right
    assert not Answer(one, {}).right
    assert not Answer(one, {}).blamed
    assert not Answer(one, {name: amount + 0.1}).right
    other = next(v.name for v in one.paper.listed if v.name not in one.paper.spelled(one.planted))
    assert Answer(one, {name: amount, other: 1.0}).blamed
    assert Answer(one, {name: amount}, ("b1:left",)).blamed


def test_a_parameter_that_carries_one_dimension_is_that_dimension() -> None:
    strap = BY_KEY["gate-strap"]
    one = hand_in("A", 0)
    assert one.paper is strap
    drawn = {"width": 130.0}
    as_drawn = type(one)("A", 0, strap, drawn, "none", one.spoiled, one.manner, "")
    assert Answer(as_drawn, {"b5": 65.0}).right
    assert not Answer(as_drawn, {"wall": 17.0}).right


@pytest.mark.parametrize("version", ["R12", "R2000", "R2018"])
def test_a_drawing_is_written_as_it_was_meant(tmp_path: Path, version: str) -> None:
    paper = BY_KEY["shelf-bracket"]
    manner = Manner(turn=90.0, mirrored=True, shift=10.0 + 5.0j, unit="mm", scale=2.0,
                    version=version, layer="Kontur", split=1.0, flipped=0.5, shuffled=True)
    write_dxf(tmp_path / "one.dxf", Drawing(list(paper.plate.loops)), "in", manner, Random(5))
    entities = list(ezdxf.readfile(tmp_path / "one.dxf").modelspace())
    assert {e.dxf.layer for e in entities} == {"Kontur"}
    rings = [e for e in entities if e.dxftype() == "CIRCLE"]
    # the wall hole is at (1, 3.75), of 3/8: mirrored in x, turned a quarter, twice 25.4 as large
    at = 50.8 * 1j * (-1.0 + 3.75j) + manner.shift
    assert any(abs(complex(*e.dxf.center.vec2) - at) < 1e-9
               and abs(e.dxf.radius - 50.8 * 3.0 / 16.0) < 1e-9 for e in rings)
    straight = sum(isinstance(s, Straight) for s in paper.plate.strokes)
    assert sum(e.dxftype() == "LINE" for e in entities) == 2 * straight
    assert len(rings) == sum(isinstance(s, Ring) for s in paper.plate.strokes)


def test_a_closed_polyline_goes_through_the_same_places(tmp_path: Path) -> None:
    paper = BY_KEY["pump-flange"]
    write_dxf(tmp_path / "one.dxf", Drawing(list(paper.plate.loops)), "mm",
              Manner(polylines=True, mirrored=True), Random(5))
    line, = (e for e in ezdxf.readfile(tmp_path / "one.dxf").modelspace()
             if e.dxftype() == "LWPOLYLINE")
    mirrored = [-s.start.conjugate() for s in paper.plate.loops[0]]
    assert max(abs(complex(x, y) - z) for (x, y), z in zip(
        line.get_points("xy"), mirrored, strict=True)) < 1e-9
    # the parts of a polyline with bulges are arcs again, of the radii of the paper
    radii = sorted({round(e.dxf.radius, 6) for e in line.virtual_entities()})
    assert radii == [16.0, 20.0, 44.0]
