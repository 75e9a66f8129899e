"""The room that dimensions take: texts and leaders keep off each other."""

from __future__ import annotations

import pytest

from sketcher.board.dimensions.desk_layout import lay_out
from sketcher.board.dimensions.desk_room import Layout, crosses
from sketcher.board.dimensions.dimension_lines import DimLines
from sketcher.geometry.curves import Line
from sketcher.part.edits.draft import Draft
from sketcher.part.store import load
from sketcher.part.value import Mirror, Part
from sketcher.shipped import shipped
from sketcher.solve import solve
from sketcher.solve.solve_report import SolveReport

DEMOS = ("gate-strap", "shift-arm", "roof-gusset", "pump-flange", "shelf-bracket")


@pytest.mark.parametrize(("a", "b", "meets"), [
    ((-5, 0), (5, 0), True),  # through the middle
    ((-5, -5), (5, 5), True),
    ((-5, 2), (5, 2), False),  # passes above
    ((-5, 1), (5, 1), False),  # along the edge
    ((-5, 0), (-3, 0), False),  # ends before it
    ((0, 0), (5, 5), True),  # begins inside
    ((-4, 0), (0, 4), False),  # cuts the corner off
])
def test_a_way_through_a_box(a: tuple[float, float], b: tuple[float, float], meets: bool) -> None:
    assert crosses(a, b, (0.0, 0.0, 2.0, 1.0)) is meets


def test_the_least_trouble_wins() -> None:
    layout = Layout(Part(), 1.0)
    layout.take((0.0, 0.0), "12345", 0.0)
    layout.take((0.0, 100.0), "12345", 0.0, ((0.0, 60.0), (0.0, 100.0)))
    places = [((0.0, 5.0), 0.0, None), ((0.0, 70.0), 0.0, None), ((200.0, 0.0), 0.0, None)]
    assert layout.clear(places, "9") == 2
    # On the text there is one trouble, on the leader with a leader through the text two.
    assert layout.clear([((0.0, 70.0), 0.0, (0.0, -50.0)), ((0.0, 5.0), 0.0, None)], "9") == 1


def leaders(dim: DimLines) -> list[Line]:
    """The lines of a round's leader."""
    return [line for line in dim.curves if isinstance(line, Line)]


@pytest.mark.parametrize("name", DEMOS)
def test_no_leader_runs_through_a_text_of_another(name: str, tmp_path) -> None:
    path = tmp_path / "part.profile.json"
    path.write_bytes(shipped("demo_parts", f"{name}.profile.json").read_bytes())
    solution = solve(load(path))
    part = solution.part
    xs, ys = zip(*part.points.values(), strict=True)
    px = max(max(xs) - min(xs), max(ys) - min(ys)) / 450.0  # as the sheet fits it
    dims = lay_out(part, solution.report, px)
    room = Layout(part, px)
    for dim in dims:
        if part.bindings[dim.binding].kind not in ("radius", "diameter", "offset"):
            continue
        for other in dims:
            if other is dim:
                continue
            box = room._box(other.anchor, other.text, other.turn)
            # Written small: what touches the air around a text is still read.
            tight = (box[0], box[1], 0.7 * box[2], 0.6 * box[3])
            for line in leaders(dim):
                assert not crosses(line.start, line.end, tight), (dim.binding, other.binding)


def test_a_leader_on_the_axis_leaves_on_the_half_s_side() -> None:
    draft = Draft(Part())
    draft.line((0, 0), (0, 90), "axis")
    draft.line((0, 0), (60, 0))
    draft.bind("diameter", (draft.circle((0, 80), 6.0),), "12")
    draft.set_mirrors((Mirror("x1"),))
    (dim,) = lay_out(draft.done(), SolveReport(), 0.2)
    assert dim.anchor[0] > 0.0


def test_a_text_wider_than_its_dimension_stands_beside_it() -> None:
    draft = Draft(Part())
    draft.line((0, 0), (3, 0))
    draft.bind("run", ("e1",), "3.125")
    (dim,) = lay_out(draft.done(), SolveReport(), 0.2)  # 15 pixels for five letters
    assert dim.anchor[0] > 3.0 + 0.5 * 5 * 8 * 0.2
