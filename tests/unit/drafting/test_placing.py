"""Where dimensions stand and what they say."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketcher.drafting.dimension_text import wording
from sketcher.drafting.features import shown_pieces
from sketcher.drafting.view_contents import contents_of
from sketcher.part.value import (
    Binding,
    CircleCurve,
    Drawing,
    GridPattern,
    LineCurve,
    Mirror,
    Part,
    PolarPattern,
    frozen,
)

POINTS = {"p1": (0.0, 0.0), "p2": (60.0, 0.0), "p3": (60.0, 40.0), "p4": (0.0, 40.0),
          "k1": (20.0, 15.0)}
CURVES = {**{f"e{k}": LineCurve((f"p{k}", f"p{k % 4 + 1}")) for k in range(1, 5)},
          "h1": CircleCurve("k1", 3.0)}


def plate(unit="mm", patterns=None, drawing=None, **bindings: Binding) -> Part:
    return Part(unit=unit, points=frozen(POINTS), curves=frozen(CURVES),
                bindings=frozen(bindings), patterns=frozen(patterns or {}),
                drawing=drawing or Drawing())


def drawn(part: Part) -> dict:
    return {d.id: d for d in contents_of(part, shown_pieces(part), 1.0, 3.5).dimensions}


WIDTH = Binding("run", ("p1", "p2"), "60")


@pytest.mark.parametrize(
    ("practice", "unit", "binding", "said"),
    [
        # ASME Y14.5M-1994, 1.6.1: mm with a leading zero, without trailing ones.
        ("ISO", "mm", Binding("run", ("p1", "p2"), "60.0"), "60"),
        ("ISO", "mm", Binding("run", ("p1", "p2"), "0.50"), "0.5"),
        # 1.6.2: inches without a leading zero, as many decimals as typed.
        ("ASME", "in", Binding("run", ("p1", "p2"), ".500"), ".500"),
        ("ASME", "in", Binding("run", ("p1", "p2"), "1 5/8"), "1 5/8"),
        # 1.8.1 and 1.8.2: the sign before the number.
        ("ISO", "mm", Binding("diameter", ("h1",), "6"), "Ø6"),
        ("ISO", "mm", Binding("radius", ("h1",), "3"), "R3"),
        ("ISO", "mm", Binding("angle", ("e1",), "22.5"), "22°30'"),
        # 1.5.4: degrees and minutes, or decimals of a degree, as the tolerance is given.
        ("ASME", "mm", Binding("angle", ("e1",), "22.5"), "22.5°"),
        ("ASME", "mm", Binding("angle", ("e1",), "19°40'"), "19°40'"),
        ("ISO", "mm", Binding("angle", ("e1",), "22.51"), "22.51°"),
        ("ISO", "mm", Binding("angle", ("e1",), "30", tolerance=(1 / 3, -1 / 3)), "30° ±0°20'"),
        ("ASME", "mm", Binding("angle", ("e1",), "30", tolerance=(1 / 3, -1 / 3)), "30° ±0°20'"),
        ("ASME", "mm", Binding("angle", ("e1",), "30", tolerance=(0.5, -0.5)), "30° ±0.5°"),
        ("ISO", "mm", Binding("angle", ("e1",), "30", tolerance=(0.5, 0.0)), "30° +0°30'/0°"),
        # Reference dimensions in parentheses.
        ("ISO", "mm", Binding("run", ("p1", "p2"), "60", drives=False), "(60)"),
        ("ISO", "mm", Binding("run", ("p1", "p2"), "60", tolerance=(0.1, -0.1)), "60 ±0.1"),
        ("ISO", "mm", Binding("run", ("p1", "p2"), "60", tolerance=(0.1, 0)), "60 +0.1/0"),
        # 2.3.2: an inch dimension has as many decimals as its tolerance.
        ("ASME", "in", Binding("run", ("p1", "p2"), ".5", tolerance=(0.005, -0.005)), ".500 ±.005"),
    ],
)
def test_wording(practice, unit, binding, said) -> None:
    part = plate(unit, drawing=Drawing(practice=practice))
    assert wording(part, binding).plain == said


def test_equal_holes_are_counted_once_in_either_form() -> None:
    grid = {"n1": GridPattern(("h1",), ("15", "15"), (3, 2))}
    size = Binding("diameter", ("h1",), "6")
    assert drawn(plate(patterns=grid, d=size))["d"].text == "6x Ø6"
    asme = plate(patterns=grid, d=size, drawing=Drawing(practice="ASME"))
    assert drawn(asme)["d"].text == "6X Ø6"


def test_steps_of_a_grid_are_dimensioned() -> None:
    found = drawn(plate(patterns={"n1": GridPattern(("h1",), ("15", "12"), (3, 2))}))
    assert found["n1.step1"].text == "2x 15 (=30)"
    assert found["n1.step2"].text == "12"


def test_a_full_polar_pattern_says_how_its_holes_are_spaced() -> None:
    part = plate(patterns={"n1": PolarPattern(("h1",), "c0", 4)},
                 d=Binding("diameter", ("h1",), "6"), r=Binding("distance", ("c0", "k1"), "10"))
    part = part.having(points=dict(part.points) | {"c0": (30.0, 15.0)})
    found = drawn(part)
    assert found["d"].text == "4x Ø6 equally spaced"
    assert found["r"].text == "Ø20"  # the pitch circle
    assert found["r"].form == "diameter"


def test_a_level_length_stands_outside_in_the_first_row() -> None:
    found = drawn(plate(b=WIDTH))["b"]
    v = found.points[2][1]
    assert v in (pytest.approx(-10.0), pytest.approx(50.0))
    assert found.form == "linear"


def test_a_chain_shares_its_row() -> None:
    part = plate(a=Binding("run", ("p1", "k1"), "20"), b=Binding("run", ("k1", "p2"), "40"))
    found = drawn(part)
    assert found["a"].points[2][1] == pytest.approx(found["b"].points[2][1])


def test_the_shorter_of_two_from_one_edge_is_nearer() -> None:
    part = plate(a=Binding("run", ("p1", "k1"), "20"), b=WIDTH)
    away = {name: abs(d.points[2][1] - 20.0) for name, d in drawn(part).items()}  # from the middle
    assert away["a"] <= away["b"]
    assert drawn(part)["a"].points[2][1] != drawn(part)["b"].points[2][1]


def half(**drawing) -> Part:
    points = {"p1": (0.0, 0.0), "p2": (30.0, 0.0), "p3": (30.0, 40.0), "p4": (0.0, 40.0)}
    curves = {"e1": LineCurve(("p1", "p2")), "e2": LineCurve(("p2", "p3")),
              "e3": LineCurve(("p3", "p4")), "ax": LineCurve(("p1", "p4"), "axis")}
    bindings = {"w": Binding("offset", ("ax", "e2"), "30", tolerance=(0.1, -0.2)),
                "h": Binding("rise", ("p1", "p4"), "40")}
    return Part(points=frozen(points), curves=frozen(curves), bindings=frozen(bindings),
                mirrors=(Mirror("ax"),), drawing=Drawing(**drawing))


def test_a_symmetric_part_is_dimensioned_by_the_whole_or_by_the_half() -> None:
    assert drawn(half())["w"].text == "60 +0.2/-0.4"
    assert drawn(half())["h"].text == "40"
    assert drawn(half(show_half=True))["w"].text == "30 +0.1/-0.2"


def test_a_reference_that_repeats_a_dimension_is_left_out() -> None:
    part = plate(b=WIDTH, r=Binding("run", ("p4", "p3"), "60", drives=False),
                 s=Binding("rise", ("p1", "p4"), "40", drives=False))
    assert set(drawn(part)) == {"b", "s"}


@pytest.mark.parametrize("place", [(30.0, -31.0), (12.0, 77.0)])
@pytest.mark.parametrize("practice", ["ISO", "ASME"])
def test_a_dragged_length_stays_where_it_was_put(place, practice) -> None:
    drawing = Drawing(practice=practice, placed=frozen({"b": place}))
    found = drawn(plate(drawing=drawing, b=WIDTH, c=Binding("run", ("p1", "k1"), "20")))
    assert found["b"].place == pytest.approx(place)


def test_a_dragged_diameter_and_angle_follow_as_far_as_they_can() -> None:
    drawing = Drawing(placed=frozen({"d": (55.0, 60.0), "a": (80.0, 20.0)}))
    part = plate(drawing=drawing, d=Binding("diameter", ("h1",), "6"),
                 a=Binding("angle", ("e1", "e2"), "90"))
    found = drawn(part)
    assert found["d"].place == pytest.approx((55.0, 60.0))
    plain = drawn(replace(part, drawing=Drawing()))
    assert found["a"].place != plain["a"].place


def test_dragging_one_moves_no_other_that_has_room() -> None:
    part = plate(b=WIDTH, h=Binding("rise", ("p1", "p4"), "40"))
    moved = part.having(drawing=Drawing(placed=frozen({"b": (30.0, 90.0)})))
    assert drawn(moved)["h"] == drawn(part)["h"]
