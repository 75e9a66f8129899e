"""Construction order: steps that only use what was found, and whose words hold on the geometry."""

from __future__ import annotations

import re
from collections import Counter
from math import hypot

import pytest

from sketcher.errors import GeometryError
from sketcher.lesson.order import OrderStep, construction_order
from sketcher.lesson.stages import STAGES
from sketcher.part.edits.draft import Draft
from sketcher.part.store import load
from sketcher.part.value import ArcCurve, CircleCurve, GridPattern, LineCurve, Mirror, Part
from sketcher.part.whole import whole
from sketcher.solve.solver import solve
from tests.demo_parts import SOUND as DEMO
from tests.refusals import refused
from tests.specimens import bar, frame, said

NAME = re.compile(r"[a-z]+\d+|ax")


def tokens(step: OrderStep) -> str:
    """Ids and numbers of a step in the order in which it names them, without its bindings."""
    return " ".join(re.findall(r"\b[a-z]\d+\b|\bm\b|(?<![a-z])-?(?:\b|(?<=R))\d+(?:\.\d+)?\b",
                               " ".join(told(step))))


def told(step: OrderStep) -> tuple[str, ...]:
    """The sentences of a step, without its bindings."""
    return step.substeps or (step.text.split(" [")[0],)


def ways(step: OrderStep) -> list[str]:
    """The directions that a step names, in order."""
    return re.findall(r"\b(?:above|below|left|right|counter-clockwise|clockwise)\b",
                      " ".join(told(step)))


@pytest.fixture(scope="module", params=DEMO, ids=lambda p: p.name.split(".")[0])
def demo(request: pytest.FixtureRequest) -> tuple[Part, tuple[OrderStep, ...]]:
    part = load(request.param)
    return solve(part).part, construction_order(part)


def test_there_are_demo_parts() -> None:
    assert len(DEMO) >= 5


def test_everything_is_found_and_drawn_once(demo: tuple[Part, tuple[OrderStep, ...]]) -> None:
    part, steps = demo
    assert [step.number for step in steps] == list(range(1, len(steps) + 1))
    assert not any(step.together for step in steps)
    assert sorted(p for step in steps for p in step.points) == sorted(part.points)
    for name, curve in part.curves.items():
        drawn = [step.stage for step in steps if name in step.curves]
        assert drawn == [drawn[0], *["Go over the outline"] * (curve.role == "outline")], name


def test_stages_stand_once_and_in_their_order(demo: tuple[Part, tuple[OrderStep, ...]]) -> None:
    _, steps = demo
    numbers = [STAGES.index(step.stage) for step in steps]
    assert numbers == sorted(numbers)
    assert len(set(numbers)) >= 4


def test_every_image_is_drawn_once(demo: tuple[Part, tuple[OrderStep, ...]]) -> None:
    part, steps = demo
    drawn = Counter(name for step in steps if step.stage in ("Patterns", "Reflection")
                    for name in step.curves)
    wanted = Counter(piece.id for piece in whole(part) if not piece.image.drawn)
    assert drawn == wanted


def test_every_driving_binding_has_its_step(demo: tuple[Part, tuple[OrderStep, ...]]) -> None:
    part, steps = demo
    used = {name for step in steps for name in step.bindings}
    driving = {name for name, b in part.bindings.items() if b.drives}
    doubled = set(solve(part).report.doubled)
    # A point bound on a curve at which that curve is tangent says no more than the tangency.
    silent = {n for n in driving - used - doubled if part.bindings[n].kind == "on"}
    assert driving - used - doubled - silent == set()
    for step in steps:
        for name in step.bindings:
            assert re.search(rf"\b{name}\b", step.text)


def test_steps_use_only_what_was_found(demo: tuple[Part, tuple[OrderStep, ...]]) -> None:
    part, steps = demo
    known: set[str] = set()
    for step in steps:
        known.update(step.points, step.curves)
        for text in told(step):
            lies = set(re.findall(r"(\w+) lies on", text))
            named = {n for n in NAME.findall(text) if n in part.points or n in part.curves}
            assert named - lies <= known, text


PATTERNS = {
    r"the plumb line ([\d.]+)(?: = [^()]*?)? to the (left|right) of (\w+)": "run",
    r"the level line ([\d.]+)(?: = [^()]*?)? (above|below) (\w+)": "rise",
    r"the circle of R([\d.]+)(?: = [^()]*?)?(?: \([^)]*\))? about (\w+)": "circle",
    r"the parallel to (\w+) at ([\d.]+)(?: = [^()]*?)?(?: \([^)]*\))? "
    r"((?:above|below|to the|left|right|of|and| )+)it": "parallel",
    r"the square to (\w+) through (\w+)": "square",
    r"the line through (\w+) and (\w+)": "through",
    r"(?:(?<=is where )|(?<=meets ))(e\d+|x\d+|ax)(?= meets|,)": "line",
}


def off(part: Part, kind: str, words: tuple[str, ...], at: tuple[float, float]) -> float:
    """How far a place is from the locus that the words name."""
    x, y = at
    if kind in {"run", "rise"}:
        value, side, other = float(words[0]), words[1], part.points[words[2]]
        sense = 1.0 if side in {"right", "above"} else -1.0
        axis = 0 if kind == "run" else 1
        return abs(at[axis] - other[axis] - sense * value)
    if kind == "circle":
        cx, cy = part.points[words[1]]
        return abs(hypot(x - cx, y - cy) - float(words[0]))
    if kind == "through":
        (ax, ay), (bx, by) = (part.points[n] for n in words)
        return abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / hypot(bx - ax, by - ay)
    curve = part.curves[words[0]]
    assert isinstance(curve, LineCurve)
    (ax, ay), (bx, by) = (part.points[n] for n in curve.ends)
    ux, uy = bx - ax, by - ay
    size = hypot(ux, uy)
    ux, uy = ux / size, uy / size
    if kind == "square":
        qx, qy = part.points[words[1]]
        return abs(ux * (x - qx) + uy * (y - qy))
    away = ux * (y - ay) - uy * (x - ax)
    if kind == "line":
        return abs(away)
    nx, ny = (-uy, ux) if away > 0 else (uy, -ux)
    said_side = words[2]
    for word, amount in (("above", ny), ("below", -ny), ("right", nx), ("left", -nx)):
        assert (word in said_side) == (amount > 0.38), said_side
    return abs(abs(away) - float(words[1]))


def test_words_hold_on_the_geometry(demo: tuple[Part, tuple[OrderStep, ...]]) -> None:
    part, steps = demo
    checked = 0
    for text in (text for step in steps for text in told(step)):
        foot = re.match(r"(\w+) on (\w+) is the foot of the square from (\w+), at", text)
        if foot is not None:
            assert off(part, "square", foot.group(2, 3), part.points[foot[1]]) < 6e-4, text
            assert off(part, "line", (foot[2],), part.points[foot[1]]) < 6e-4, text
            checked += 2
            continue
        head = re.match(r"(\w+) is where (.*?), at \((-?[\d.]+), (-?[\d.]+)\)", text)
        if head is None or " lies on " in head[2]:
            continue
        at = part.points[head[1]]
        assert at == pytest.approx((float(head[3]), float(head[4])), abs=6e-4)
        rest = head[2]
        for pattern, kind in PATTERNS.items():
            for match in re.finditer(pattern, rest + ","):
                # The words carry three decimals.
                assert off(part, kind, match.groups(), at) < 6e-4, (text, match[0])
                checked += 1
            rest = re.sub(pattern, "", rest)
    assert checked >= 6


def test_two_distances_are_two_circles() -> None:
    points = {"p1": (0.0, 0.0), "p2": (6.0, 0.0), "p3": (2.0, 5.0)}
    part = frame(points, [("p1", "p3")], said("fixed", "p1"), said("fixed", "p2"),
                 said("distance", "p1", "p3", value="5"), said("distance", "p2", "p3", value="7"))
    step = next(s for s in construction_order(part) if "p3" in s.points)
    sentence = next(text for text in told(step) if text.startswith("p3"))
    assert sentence == ("p3 is where the circle of R5 about p1 meets the circle of R7 about p2, "
                        "the upper crossing, at (1, 4.899).")
    assert step.bindings == ("b3", "b4")
    assert not step.together


def test_slope_by_angle_and_run() -> None:
    points = {"p1": (0.0, 0.0), "p2": (9.0, 2.0)}
    part = frame(points, [("p1", "p2")], said("fixed", "p1"), said("angle", "e1", value="15"),
                 said("run", "p1", "p2", value="40"))
    texts = [text for step in construction_order(part) for text in told(step)]
    assert "Draw e1 at 15° to level, rising to the right, through p1." in texts
    # 40 tan(15 degrees) is 10.718
    assert ("p2 is where e1 meets the plumb line 40 to the right of p1, at (40, 10.718)."
            in texts), texts


def test_parallel_is_drawn_before_its_ends() -> None:
    points = {"p1": (0.0, 0.0), "p2": (50.0, 0.0), "p3": (3.0, -11.0), "p4": (44.0, -13.0)}
    part = frame(points, [("p1", "p2"), ("p3", "p4")], said("fixed", "p1"), said("level", "e1"),
                 said("distance", "e1", value="50"), said("offset", "e1", "e2", value="12.5"),
                 said("run", "p1", "p3", value="5"), said("run", "p1", "p4", value="45"))
    steps = construction_order(part)
    drawn = next(s for s in steps if s.bindings == ("b4",))
    assert told(drawn) == ("Draw e2 parallel to e1 at 12.5 below it.",)
    assert all(s.number > drawn.number for s in steps if {"p3", "p4"} & set(s.points))


def test_a_fillet_is_one_step_with_its_center_its_feet_and_its_arc() -> None:
    points = {"p1": (0.0, 0.0), "p2": (20.0, 0.0), "p3": (30.0, 10.0), "p4": (30.0, 30.0),
              "m": (20.0, 10.0)}
    part = frame(points, [("p1", "p2"), ArcCurve(("p2", "p3"), "m"), ("p3", "p4")],
                 said("fixed", "p1"), said("level", "e1"), said("plumb", "e3"),
                 said("run", "p1", "p4", value="32"), said("rise", "p1", "p4", value="30"),
                 said("radius", "e2", value="8"), said("tangent", "e1", "e2"),
                 said("tangent", "e3", "e2"))
    step = next(s for s in construction_order(part) if "m" in s.points)
    assert step.stage == "Fillets"
    assert step.text.startswith("Round the corner of e1 and e3: e2.")
    assert set(step.points) == {"m", "p2", "p3"}
    assert step.curves == ("e2",)
    assert told(step)[0] == ("m is where the parallel to e1 at 8 (radius of e2) above it meets "
                             "the parallel to e3 at 8 (radius of e2) to the left of it, at "
                             "(24, 8).")
    assert "p2 on e1 is the foot of the square from m, at (24, 0)." in told(step)


def test_circle_through_three_points() -> None:
    points = {"p1": (5.0, 0.0), "p2": (0.0, 5.0), "p3": (-3.0, 4.0), "m": (0.2, 0.1)}
    part = frame(points, [CircleCurve("m", 5.3)], *[said("fixed", p) for p in ("p1", "p2", "p3")],
                 *[said("on", p, "e1") for p in ("p1", "p2", "p3")])
    step = next(s for s in construction_order(part) if "m" in s.points)
    # through three points: the bisectors of two chords give the center
    assert not step.together
    assert "m is as far from p1 as from p2 and as from p3, at (0, 0)." in told(step)
    assert step.bindings == ("b4", "b5", "b6")


def test_given_points_come_first() -> None:
    points = {"p1": (0.0, 0.0), "p2": (9.0, 2.0), "p3": (5.0, 8.0)}
    part = frame(points, [("p1", "p2"), ("p3", "p2")], said("plumb", "e2"), said("level", "e1"),
                 said("fixed", "p3"), said("run", "p1", "p2", value="4"),
                 said("distance", "e2", value="6"))
    first, second = construction_order(part)[:2]
    assert (first.points, first.bindings) == (("p3",), ("b3",))
    assert (told(second), second.bindings) == (("Draw e2 plumb, through p3.",), ("b1",))


def test_floating_triangle_says_what_was_chosen() -> None:
    points = {"p1": (1.0, 1.0), "p2": (4.0, 1.0), "p3": (4.0, 5.0)}
    pairs = [("p1", "p2"), ("p2", "p3"), ("p3", "p1")]
    steps = construction_order(frame(points, pairs, *[bar(points, *p) for p in pairs]))
    assert any("Choose p1: nothing says where it is." in text
               for step in steps for text in told(step))
    assert tokens(steps[-1]) == "p1 e1 3"


def test_loose_point_on_a_line_is_told() -> None:
    points = {"p1": (0.0, 0.0), "p2": (9.0, 0.0)}
    steps = construction_order(
        frame(points, [("p1", "p2")], said("fixed", "p1"), said("level", "e1")))
    loose = next(s for s in steps if "p2" in s.points)
    assert "p2 lies on e1; nothing says where along it, so choose. Here it is at (9, 0)." in told(
        loose)
    assert tokens(steps[-1]) == "p2 1"


def test_what_depends_on_each_other_is_called_so() -> None:
    """Four bars between two fixed points and two that hold each other: no single move."""
    points = {"p1": (0.0, 0.0), "p2": (10.0, 0.0), "p3": (2.0, 6.0), "p4": (9.0, 7.0)}
    part = frame(points, [("p3", "p4")], said("fixed", "p1"), said("fixed", "p2"),
                 bar(points, "p1", "p3"), bar(points, "p2", "p4"), bar(points, "p3", "p4"),
                 said("angle", "e1", value="8.13"))
    steps = construction_order(part)
    block = [s for s in steps if s.together]
    assert len(block) == 1
    assert set(block[0].points) == {"p3", "p4"}
    assert not any(s.together for s in steps if s is not block[0])
    assert {"b3", "b4", "b5"} <= set(block[0].bindings)


def test_doubled_bindings_become_checks() -> None:
    points = {"p1": (0.0, 0.0), "p2": (4.0, 0.0), "p3": (4.0, 3.0), "p4": (0.0, 3.0)}
    sides = [("p1", "p2"), ("p2", "p3"), ("p3", "p4"), ("p4", "p1")]
    part = frame(points, sides, said("fixed", "p1"), said("level", "e1"),
                 *[said("square", f"e{k}", f"e{k % 4 + 1}") for k in (1, 2, 3, 4)],
                 said("distance", "e1", value="4"), said("distance", "e2", value="3"))
    last = construction_order(part)[-1]
    assert last.bindings == ("b6",)
    assert last.text.startswith("Not used, for it follows from the rest: check b6")


def test_pattern_and_reflection_come_last() -> None:
    points = {"p1": (0.0, 0.0), "p2": (0.0, 9.0), "m": (5.0, 5.0)}
    part = frame(points, [LineCurve(("p1", "p2"), "axis"), CircleCurve("m", 1.0)],
                 said("fixed", "p1"), said("fixed", "p2"), said("fixed", "m"),
                 said("diameter", "e2", value="2"))
    part = part.having(mirrors=(Mirror("e1", ("e2",)),),
                       patterns={"n1": GridPattern(("e2",), ("30", "24"), (4, 2))})
    steps = construction_order(part)
    assert [tokens(step) for step in steps[-2:]] == ["e2 4 30 2 24 n1", "e2 e1 e1"]
    assert [len(step.curves) for step in steps[-2:]] == [7, 8]
    assert "with all images" in steps[-1].text


def test_clash_is_refused_with_its_members() -> None:
    points = {"p1": (0.0, 0.0), "p2": (1.0, 0.3), "p3": (3.0, 1.0)}
    part = frame(points, [("p1", "p2"), ("p2", "p3"), ("p3", "p1")],
                 *[said("distance", f"e{k}", value=v) for k, v in ((1, "1"), (2, "2"), (3, "5"))])
    with refused("bindings", GeometryError) as caught:
        construction_order(part)
    assert re.findall(r"\bb\d\b", caught.value.problem) == ["b1", "b2", "b3"]


def test_empty_part_has_no_steps() -> None:
    assert construction_order(Part()) == ()


def test_circle_through_two_points_whose_center_is_so_far_from_a_third() -> None:
    points = {"p1": (0.0, 0.0), "p2": (6.0, 0.0), "p3": (3.0, -3.0), "m": (3.2, 3.9)}
    part = frame(points, [CircleCurve("m", 4.8)], *[said("fixed", p) for p in ("p1", "p2", "p3")],
                 *[said("on", p, "e1") for p in ("p1", "p2")],
                 said("distance", "p3", "m", value="7"))
    step = next(s for s in construction_order(part) if "m" in s.points)
    # 3-4-5
    assert told(step)[0] == ("m is as far from p1 as from p2 and on the circle of R7 about p3, "
                             "at (3, 4).")
    assert step.bindings == ("b4", "b5", "b6")
    assert not step.together


@pytest.mark.parametrize(("kind", "ends", "word"), [
    ("run", ((0.0, 0.0), (0.0, 30.0)), "plumb"), ("rise", ((0.0, 0.0), (30.0, 0.0)), "level"),
])
def test_a_run_or_rise_of_nothing_is_a_direction(
    kind: str, ends: tuple[tuple[float, float], ...], word: str
) -> None:
    draft = Draft(Part())
    start = draft.point(ends[0])
    draft.bind("fixed", (start,))
    line = draft.line(start, ends[1])
    draft.bind(kind, (line,), "0")
    disc = draft.circle(start, 30.0, "layout")
    draft.bind("radius", (disc,), "30")
    draft.bind("on", (draft.curves[line].ends[1], disc))
    part = draft.done()
    assert solve(part).report.state == "bound"
    texts = [text for step in construction_order(part) for text in told(step)]
    assert any(f"{word}, through p1" in text for text in texts), texts
