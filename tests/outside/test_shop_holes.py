"""The list of holes against the handbook's hole circle table, and the cutting file's circles.

The file is read by ezdxf; the list knows nothing of it, nor it of the list.
"""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from math import cos, dist, hypot, radians, sin
from pathlib import Path

import ezdxf
import pytest

from sketcher.exchange.dxf_cut import write_cut
from sketcher.part import store
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Drawing, Part, PolarPattern
from sketcher.shop.hole_csv import as_csv
from sketcher.shop.hole_rows import HoleList, hole_rows
from tests.demo_parts import SOUND
from tests.inspected import inspected

# Machinery's Handbook, 31st ed., Industrial Press 2020, pp. 709-710, "Determining Hole Circle
# Coordinates", five holes, D = 1, five decimals printed, from the corner of the square around the
# circle. The book counts y downward from the top: here the corner is the upper left one.
FROM_CORNER = [(0.5, 0.0), (0.02447, 0.34549), (0.20611, 0.90451), (0.79389, 0.90451),
               (0.97553, 0.34549)]
FROM_CENTER = {"A": [(0.0, -0.5), (-0.47553, -0.15451), (-0.29389, 0.40451), (0.29389, 0.40451),
                     (0.47553, -0.15451)],
               "B": [(-0.29389, -0.40451), (-0.47553, 0.15451), (0.0, 0.5), (0.47553, 0.15451),
                     (0.29389, -0.40451)]}
CHORD_OF_FIVE = 0.587785252292473  # sin(180/5), standard formula
IN_SQUARE = "corner"


def circled(first: float, **drawing: object) -> Part:
    """Five holes on a circle of diameter 1 at a first angle, on a square plate of 3 by 3."""
    draft = Draft(Part(unit="in"))
    corners = [(-1.0, -1.5), (2.0, -1.5), (2.0, 1.5), (-1.0, 1.5)]
    for k, at in enumerate(corners):
        draft.line(at, corners[(k + 1) % 4], name=f"e{k + 1}")
    center = draft.point((0.0, 0.0), name="middle")
    draft.point((-0.5, 0.5), name=IN_SQUARE)
    draft.circle((0.5 * cos(radians(first)), 0.5 * sin(radians(first))), 0.05, name="h")
    draft.pattern(PolarPattern(("h",), center, 5))
    return draft.done().having(drawing=Drawing(**drawing))


def by_name(holes: HoleList) -> dict[str, tuple[float, float]]:
    """Places by the names of the holes."""
    return {row.name: row.at for row in holes.rows}


@pytest.mark.parametrize(("zero", "table", "first"), [
    ("middle", FROM_CENTER["A"], 90.0), ("middle", FROM_CENTER["B"], 126.0),
    (IN_SQUARE, FROM_CORNER, 90.0),
])
def test_a_bolt_circle_as_the_handbook_prints_it(
    zero: str, table: list[tuple[float, float]], first: float
) -> None:
    holes = hole_rows(circled(first, table_zero=zero))
    (circle,) = holes.circles
    begin = next(k for k, turn in enumerate(circle.angles) if abs(turn - first) < 1e-9)
    names = circle.holes[begin:] + circle.holes[:begin]  # the book's run counter-clockwise as well
    for name, (x, y) in zip(names, table, strict=True):
        assert by_name(holes)[name] == pytest.approx((x, -y), abs=5e-6)
    assert (circle.diameter, circle.step) == (pytest.approx(1.0), pytest.approx(72.0))
    assert circle.chord == pytest.approx(CHORD_OF_FIVE, rel=1e-12)


def test_x_along_an_edge_turns_the_table_with_the_plate() -> None:
    """Turned by 30 degrees and measured along its own edge, the plate has the handbook's table."""
    part = circled(90.0, table_zero="middle", table_along="e1")
    turned = part.having(points={name: (x * cos(0.5236) - y * sin(0.5236),
                                        x * sin(0.5236) + y * cos(0.5236))
                                 for name, (x, y) in part.points.items()})
    holes = hole_rows(turned)
    assert holes.axes.turn == pytest.approx(30.0, abs=1e-3)
    found = sorted(by_name(holes).values())
    assert found == [pytest.approx(at, abs=5e-6)
                     for at in sorted((x, -y) for x, y in FROM_CENTER["A"])]


ZEROS = {
    "auto": lambda part: {},
    "first point": lambda part: {"table_zero": next(iter(part.points))},
    "edges": lambda part: {"table_zero": ",".join(_square_edges(part)),
                           "table_along": _square_edges(part)[0]},
}


def _square_edges(part: Part) -> tuple[str, str]:
    """Two straight edges that are not parallel, the longest first."""
    lines = {name: (part.points[c.ends[0]], part.points[c.ends[1]])
             for name, c in part.curves.items() if c.kind == "line" and c.role == "outline"}

    def way(name: str) -> tuple[float, float]:
        (x0, y0), (x1, y1) = lines[name]
        return (x1 - x0) / dist(*lines[name]), (y1 - y0) / dist(*lines[name])

    order = sorted(lines, key=lambda name: -dist(*lines[name]))
    one = order[0]
    other = next(n for n in order if abs(way(one)[0] * way(n)[1] - way(one)[1] * way(n)[0]) > 0.1)
    return one, other


ROUND = "pump-flange.profile.json"  # has no straight edge
SERIES = [(path, zero) for path in SOUND for zero in ZEROS if (path.name, zero) != (ROUND, "edges")]


@pytest.mark.parametrize(("path", "zero"), SERIES, ids=lambda of: getattr(of, "stem", of))
def test_the_circles_of_the_cutting_file_are_the_holes_of_the_list(
    path: Path, zero: str, tmp_path: Path
) -> None:
    """Reflected and repeated ones too; distances from hole to hole do not know the zero."""
    inspection = inspected(store.load(path))
    part = inspection.part
    write_cut(inspection, tmp_path / "cut.dxf")
    cut = [((c.dxf.center.x, c.dxf.center.y), 2.0 * c.dxf.radius)
           for c in ezdxf.readfile(tmp_path / "cut.dxf").modelspace().query("CIRCLE")
           if c.dxf.layer == "INSIDE"]
    told = ZEROS[zero](part)
    holes = hole_rows(part.having(drawing=replace(part.drawing, **told)))
    rows = [row for row in csv.DictReader(io.StringIO(as_csv(holes))) if row["kind"] == "hole"]
    unit = part.unit
    listed = [((float(row[f"X ({unit})"]), float(row[f"Y ({unit})"])),
               float(row[f"diameter or width ({unit})"])) for row in rows]
    near = 2e-3 if unit == "mm" else 2e-4
    assert sorted(d for _, d in listed) == pytest.approx(sorted(d for _, d in cut), abs=near)
    (zx, zy), turn = holes.axes.zero, radians(holes.axes.turn)
    for (x, y), width in listed:
        at = (zx + x * cos(turn) - y * sin(turn), zy + x * sin(turn) + y * cos(turn))
        assert any(dist(at, c) < near and abs(width - d) < near for c, d in cut)
    assert len(listed) == len(cut)
    if zero == "first point" and "table_zero" in told:
        assert holes.axes.zero == part.points[told["table_zero"]]


def test_the_corner_of_two_edges_is_where_they_would_meet() -> None:
    """The rounded corner of a plate turned by atan(3/4), by 3-4-5 triangles."""
    draft = Draft(Part())
    # Along (0.8, 0.6) from (10, 5): edges 8 in from the corner, which was rounded off.
    draft.line((16.4, 9.8), (50.0, 35.0), name="foot")
    draft.line((5.2, 11.4), (-14.0, 37.0), name="side")
    draft.circle((10.0 + 0.8 * 20 - 0.6 * 15, 5.0 + 0.6 * 20 + 0.8 * 15), 2.0, name="h")
    part = draft.done().having(drawing=Drawing(table_zero="foot,side", table_along="foot"))
    draft = Draft(part)
    draft.line((50.0, 35.0), (-14.0, 37.0))
    draft.line((16.4, 9.8), (5.2, 11.4))
    (row,) = hole_rows(draft.done()).rows
    assert row.at == pytest.approx((20.0, 15.0), abs=1e-12)
    assert hypot(*row.at) == pytest.approx(25.0)
