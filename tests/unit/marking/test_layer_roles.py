"""What the curves of a hand-in are for: by layer names, line types, widths and loops."""

from __future__ import annotations

from collections.abc import Mapping
from math import cos, pi, sin
from pathlib import Path
from typing import Any

import ezdxf
import pytest

from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.marking.hand_in import HandIn, LayerRole
from sketcher.marking.hand_in_file import read_hand_in
from sketcher.marking.layer_names import named_role

# Layer names as they stand in drawings of several countries: common practice, no source.
NAMES: dict[LayerRole, str] = {
    "outline": "OUTLINE Object_Lines VISIBLE Sichtbare-Kanten Kontur Körperkanten CONTOUR contorno"
               " Profil 01-Umriss GEOMETRY INSIDE Holes BOHRUNGEN part_1 Контур 轮廓线"
               " Werkstück",
    "center": "CENTER Center-Lines CENTRE MITTELLINIE Mittellinien Achsen AXES axe_3 Ejes CL 02_CTR"
              " hole_centers Hartlijnen Symmetrielinie ОСЕВАЯ 中心线 eixos Linia_osi",
    "dimension": "DIM Dimensions BEMASSUNG Maße COTES cotas Quote Wymiary AM_DIM TEXT Text-3.5"
                 " notes Размеры 尺寸 OUTLINE-DIMS Beschriftung leaders",
    "construction": "CONSTRUCTION Konstruktion HILFSLINIEN Hilfslinie AUX auxiliar Defpoints"
                    " guides costruzione pomocnicze_konstr",
    "sheet": "BORDER Rahmen TITLE titleblock FRAME Schriftfeld CARTOUCHE HATCH Schraffur HIDDEN"
             " cajetín ШТАМП",
}


@pytest.mark.parametrize("role", NAMES)
def test_names_of_layers_tell(role: LayerRole) -> None:
    wrong = {name: named_role(name) for name in NAMES[role].split() if named_role(name) != role}
    assert not wrong


@pytest.mark.parametrize("name", ["0", "Layer1", "1", "red", "Ebene 3", "", "Calque2", "IZREZ"])
def test_names_that_do_not_tell(name: str) -> None:
    assert named_role(name) is None


def plate(space: Any, layer: str, **look: Any) -> None:
    """A plate of 60 x 40 with a hole of 10."""
    corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    for start, end in zip(corners, corners[1:] + corners[:1], strict=True):
        space.add_line(start, end, {"layer": layer, **look})
    space.add_circle((20, 20), 5, {"layer": layer, **look})


def cross(space: Any, layer: str, **look: Any) -> None:
    """Center lines of that hole."""
    space.add_line((12, 20), (28, 20), {"layer": layer, **look})
    space.add_line((20, 12), (20, 28), {"layer": layer, **look})


def document() -> Any:
    made = ezdxf.new("R2010", setup=["linetypes"], units=4)
    made.linetypes.add("LONG-POINT", [18.0, 12.0, -3.0, 0.0, -3.0])
    return made


def taken(made: Any, folder: Path, agreed: Mapping[str, LayerRole] | None = None) -> HandIn:
    made.saveas(folder / "some.dxf")
    return read_hand_in(folder / "some.dxf", agreed)


def counts(hand_in: HandIn) -> dict[str, int]:
    found: dict[str, int] = {}
    for each in hand_in.curves:
        found[each.role] = found.get(each.role, 0) + 1
    return found


@pytest.mark.parametrize("line", ["LONG-POINT", "CENTER", "DASHDOT", "CENTERX2"])
def test_a_chain_line_on_a_layer_of_outlines_is_a_center_line(line: str, tmp_path: Path) -> None:
    for layer in ("OUTLINE", "0"):
        made = document()
        plate(made.modelspace(), layer)
        made.modelspace().add_line((-5, 30), (65, 30), {"layer": layer, "linetype": line})
        assert counts(taken(made, tmp_path)) == {"outline": 5, "center": 1}


@pytest.mark.parametrize("line", ["DASHED", "DASHEDX2", "PHANTOM", "DIVIDE", "DOT2"])
def test_other_broken_lines_are_no_outline(line: str, tmp_path: Path) -> None:
    made = document()
    plate(made.modelspace(), "OUTLINE")
    made.modelspace().add_line((0, 0), (60, 40), {"layer": "OUTLINE", "linetype": line})
    assert counts(taken(made, tmp_path)) == {"outline": 5, "construction": 1}


def test_all_on_one_layer_without_line_types(tmp_path: Path) -> None:
    made = document()
    space = made.modelspace()
    plate(space, "0")
    cross(space, "0")
    for k in range(4):
        angle = 0.5 * pi * k + 0.3
        space.add_circle((42 + 9 * cos(angle), 20 + 9 * sin(angle)), 2)
    space.add_circle((42, 20), 9)  # the circle that their centers lie on
    space.add_line((33, 3), (55, 3))  # a stray line
    found = taken(made, tmp_path)
    assert counts(found) == {"outline": 10, "center": 3}
    assert found.questions == ()
    assert [each.curve for each in found.of_role("center")][2] == Circle((42.0, 20.0), 9.0)


def test_what_closes_loops_is_outline_and_what_does_not_is_asked(tmp_path: Path) -> None:
    made = document()
    space = made.modelspace()
    plate(space, "Ebene1")
    space.add_line((3, 5), (33, 25), {"layer": "Ebene2"})
    found = taken(made, tmp_path)
    assert counts(found) == {"outline": 5, "construction": 1}
    (question,) = found.questions
    assert (question.layer, question.role, question.count) == ("Ebene2", "construction", 1)
    agreed = taken(made, tmp_path, {"ebene2": "dimension"})
    assert counts(agreed) == {"outline": 5, "dimension": 1}
    assert agreed.questions == ()


def test_an_outline_on_two_layers_is_one(tmp_path: Path) -> None:
    made = document()
    space = made.modelspace()
    space.add_line((0, 0), (60, 0), {"layer": "A"})
    space.add_line((60, 0), (60, 40), {"layer": "A"})
    space.add_line((60, 40), (0, 40), {"layer": "B"})
    space.add_line((0, 40), (0, 0), {"layer": "B"})
    assert counts(taken(made, tmp_path)) == {"outline": 4}


def test_a_narrow_layer_beside_a_wide_one_is_no_outline(tmp_path: Path) -> None:
    made = document()
    space = made.modelspace()
    plate(space, "A", lineweight=50)
    space.add_circle((40, 20), 8, {"layer": "B", "lineweight": 18})
    found = taken(made, tmp_path)
    assert counts(found) == {"outline": 5, "construction": 1}
    assert [each.layer for each in found.questions] == ["B"]


def test_a_drawing_in_broken_lines_alone_is_still_drawn(tmp_path: Path) -> None:
    made = document()
    plate(made.modelspace(), "0", linetype="DASHED")
    found = taken(made, tmp_path)
    assert counts(found) == {"outline": 5}
    assert found.questions[0].role == "outline"


def test_free_curves_become_what_they_stand_for(tmp_path: Path) -> None:
    made = document()
    space = made.modelspace()
    plate(space, "0")
    # a half circle as a rational quadratic curve (Piegl & Tiller, from memory), and one edge
    half = 0.5 ** 0.5
    space.add_rational_spline(
        [(50, 20), (50, 24), (46, 24), (42, 24), (42, 20)], [1, half, 1, half, 1], degree=2,
        knots=[0, 0, 0, 1, 1, 2, 2, 2])
    space.add_open_spline([(42, 20), (44, 20), (47, 20), (50, 20)])
    space.add_ellipse((30, 30), (4, 0), 0.5)
    curves = [each.curve for each in taken(made, tmp_path).curves]
    (arc,) = (each for each in curves[5:6] if isinstance(each, Arc))
    assert arc.center == pytest.approx((46.0, 20.0))
    assert arc.radius == pytest.approx(4.0)
    assert arc.start == pytest.approx((50.0, 20.0))
    assert arc.ccw
    assert curves[6] == Line((42.0, 20.0), (50.0, 20.0))
    assert len(curves) > 10  # the ellipse is many arcs
    assert sum(each.length for each in curves[7:]) == pytest.approx(  # Ramanujan's formula
        pi * (18.0 - (10.0 * 14.0) ** 0.5), rel=1e-4)
