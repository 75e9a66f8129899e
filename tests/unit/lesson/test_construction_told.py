"""What a construction tells besides its moves: repeats, what is loose, what was not needed.

Numbers and ids are read out of the steps; the sentences around them are nobody's business here.
"""

from __future__ import annotations

import re
from math import dist, hypot

import pytest

from sketcher.lesson.order import OrderStep, construction_order
from sketcher.part.value import (
    ArcCurve,
    CircleCurve,
    GridPattern,
    LineCurve,
    Mirror,
    Part,
    PolarPattern,
)
from sketcher.solve import solve
from tests.specimens import bar, frame, said


def numbers(text: str) -> list[float]:
    """Numbers that stand alone, without those in ids."""
    return [float(n) for n in re.findall(r"(?<![\w.])-?\d+(?:\.\d+)?(?![\w])", text)]


def places(step: OrderStep) -> dict[str, tuple[float, float]]:
    """Points of a step with the places that it gives them, the last one where it finds one."""
    found = re.findall(r"(\w+|,) at \((-?[\d.]+), (-?[\d.]+)\)", step.text)
    if len(step.points) == 1:
        found = [(step.points[0], *found[-1][1:])]
    return {name: (float(x), float(y)) for name, x, y in found}


def drilled(**more: object) -> Part:
    points = {"p1": (0.0, 0.0), "p2": (0.0, 9.0), "m": (5.0, 5.0), "k": (9.0, 5.0)}
    part = frame(points, [LineCurve(("p1", "p2"), "axis"), CircleCurve("m", 1.0),
                          CircleCurve("k", 1.5)],
                 *[said("fixed", p) for p in points], said("diameter", "e2", value="2"),
                 said("radius", "e3", value="1.5"))
    return part.having(**more)


def test_repeats_are_told_with_their_curves_and_numbers() -> None:
    part = drilled(
        mirrors=(Mirror("e1", ("e2", "e3")), Mirror("e1")),
        patterns={"n1": GridPattern(("e2", "e3"), ("30", "24"), (4, 2), "15"),
                  "n2": PolarPattern(("e2", "e3"), "k", 6, "180"),
                  "n3": GridPattern(("e3",), ("30", "24"), (3, 5))})
    grid, polar, plain, some, outline = construction_order(part)[-5:]
    assert grid.curves == polar.curves == some.curves == ("e2", "e3")
    assert all("e2, e3" in step.text for step in (grid, polar, some))
    assert numbers(grid.text) == [4, 30, 2, 24, 15]
    assert numbers(plain.text) == [3, 30, 5, 24]
    assert numbers(polar.text) == [6, 180]
    assert re.search(r"\bk\b", polar.text)
    named = [re.findall(r"\bn\d\b", step.text) for step in (grid, polar, plain)]
    assert named == [["n1"], ["n2"], ["n3"]]
    assert (some.text.count("e1"), outline.text.count("e1")) == (2, 2)
    assert outline.curves == ()
    assert [s.number for s in construction_order(part)] == list(range(1, outline.number + 1))


@pytest.mark.parametrize(("at", "radius", "apart", "parts"), [
    ((26.5, 5.0), 2.0, 6.0, [4, 2]), ((22.5, 5.0), 2.0, 2.0, [4, 2]),
    ((17.5, 5.0), 7.0, 3.0, [7, 4]),
])
def test_the_center_of_a_round_that_touches_another_is_on_a_circle(
    at: tuple[float, float], radius: float, apart: float, parts: list[float]
) -> None:
    part = frame({"m": (20.0, 5.0), "q": at}, [CircleCurve("m", 4.0), CircleCurve("q", radius)],
                 said("fixed", "m"), said("level", "m", "q"), said("radius", "e1", value="4"),
                 said("radius", "e2", value=repr(radius)), said("tangent", "e1", "e2"))
    step = next(s for s in construction_order(part) if "q" in s.points)
    locus = re.search(r"the circle of ([^)]*\)) about m", step.text)
    assert locus, step.text
    assert numbers(locus[1]) == [apart, *parts]
    assert dist(places(step)["q"], (20.0, 5.0)) == pytest.approx(apart, abs=1e-3)
    assert {"b2", "b5"} <= set(step.bindings)


def test_what_is_found_together_is_given_as_computed() -> None:
    points = {"p1": (0.0, 0.0), "p2": (10.0, 0.0), "p3": (2.0, 6.0), "p4": (9.0, 7.0)}
    part = frame(points, [("p3", "p4")], said("fixed", "p1"), said("fixed", "p2"),
                 bar(points, "p1", "p3"), bar(points, "p2", "p4"), bar(points, "p3", "p4"),
                 said("angle", "e1", value="8.13"))
    (block,) = (s for s in construction_order(part) if s.together)
    found = places(block)
    assert set(found) == {"p3", "p4"} == set(block.points)
    assert block.curves == ("e1",)
    for a, b in (("p1", "p3"), ("p2", "p4"), ("p3", "p4")):
        ends = [found.get(name, points[name]) for name in (a, b)]
        assert dist(*ends) == pytest.approx(dist(points[a], points[b]), abs=2e-3)
    head = block.text.split(" together")[0].split()
    assert {word.rstrip(",") for word in head} - {"Find", "and"} <= {"p3", "p4", "e1"}
    (count,) = (int(n) for n in re.findall(r"(\d+) conditions", block.text))
    listed = block.text.split(":", 1)[1].split(". ")[0]
    assert count == len(listed.split(";")) >= 4
    assert set(block.bindings) == {"b3", "b4", "b5", "b6"}


def test_what_is_loose_is_told_with_the_number_of_freedoms() -> None:
    points = {"p1": (0.0, 0.0), "p2": (9.0, 0.0), "p3": (4.0, 7.0)}
    for bindings, count, names in (
        ([said("fixed", "p1"), said("level", "e1")], 3, {"p2", "p3"}),
        ([said("fixed", "p1"), said("fixed", "p2"), said("distance", "p1", "p3", value="8")], 1,
         {"p3"}),
    ):
        part = frame(points, [("p1", "p2")], *bindings)
        assert solve(part).report.freedoms == count
        last = construction_order(part)[-1]
        assert numbers(last.text) == [count]
        assert names <= set(re.findall(r"\bp\d\b", last.text))


def test_what_was_not_needed_is_told_in_the_order_of_the_file() -> None:
    points = {"p1": (0.0, 0.0), "p2": (4.0, 0.0), "p3": (4.0, 3.0), "p4": (0.0, 3.0)}
    sides = [("p1", "p2"), ("p2", "p3"), ("p3", "p4"), ("p4", "p1")]
    part = frame(points, sides, said("fixed", "p1"), said("level", "e1"), said("plumb", "e2"),
                 said("level", "e3"), said("plumb", "e4"), said("level", "p1", "p2"),
                 said("distance", "e1", value="4"), said("distance", "e2", value="3"),
                 said("distance", "e3", value="4"), said("distance", "p1", "p3", value="5"))
    report = solve(part).report
    # One of each: found by substitution (level said again) and by rank (lengths that follow).
    assert report.doubled == ("b6", "b9", "b10")
    assert construction_order(part)[-1].bindings == ("b6", "b9", "b10")


def test_the_same_place_by_three_ways_is_one_place() -> None:
    # A point over a corner: by distance and run, by run and rise, by two distances (3-4-5).
    for bindings in (
        [said("distance", "p1", "p3", value="5"), said("run", "p1", "p3", value="3")],
        [said("run", "p1", "p3", value="3"), said("rise", "p1", "p3", value="4")],
        [said("distance", "p1", "p3", value="5"), said("distance", "p2", "p3", value="4")],
    ):
        part = frame({"p1": (0.0, 0.0), "p2": (3.0, 0.0), "p3": (3.2, 3.7)}, [("p1", "p2")],
                     said("fixed", "p1"), said("fixed", "p2"), *bindings)
        step = next(s for s in construction_order(part) if s.points == ("p3",))
        assert places(step)["p3"] == (3.0, 4.0)
        assert step.bindings == ("b3", "b4")
        assert hypot(*places(step)["p3"]) == 5.0


def test_a_circle_found_at_once_names_what_it_passes_and_touches() -> None:
    # Touching both axes through (2, 4): r^2 - 12 r + 20 = 0, so 2 or 10; drawn near the large one.
    points = {"p1": (0.0, 0.0), "p2": (20.0, 0.0), "p3": (0.0, 20.0), "p4": (2.0, 4.0),
              "m": (9.5, 9.7)}
    part = frame(points, [("p1", "p2"), ("p1", "p3"), CircleCurve("m", 9.4)],
                 *[said("fixed", p) for p in ("p1", "p2", "p3", "p4")],
                 said("tangent", "e1", "e3"), said("tangent", "e2", "e3"), said("on", "p4", "e3"))
    step = next(s for s in construction_order(part) if "m" in s.points)
    assert places(step)["m"] == (10.0, 10.0)
    before = step.text.split(":")[0]
    assert sorted(re.findall(r"\b(?:p\d|e\d)\b", before.split(" that ")[1])) == ["e1", "e2", "p4"]
    assert set(step.bindings) == {"b5", "b6", "b7"}


def sloped() -> Part:
    """A slope that is level with the origin half way, a round touching it, an inner round."""
    points = {"p1": (-4.0, -3.0), "p2": (4.0, 3.0), "m": (-3.2, 2.4), "q": (-3.2, 2.4),
              "p3": (7.0, -3.0), "k": (-3.2, 9.9)}
    return frame(points, [("p1", "p2"), CircleCurve("m", 4.0), CircleCurve("q", 2.5),
                          ("p1", "p3"), CircleCurve("k", 3.5)],
                 said("fixed", "p1"), said("angle", "e1", value="36.869897645844021"),
                 said("run", "p1", "p2", value="8"), said("plumb", "m", "k"),
                 said("radius", "e2", value="4"), said("tangent", "e1", "e2"),
                 said("run", "p1", "m", value="0.8"), said("concentric", "e2", "e3"),
                 said("offset", "e2", "e3", value="1.5"), said("level", "e4"),
                 said("distance", "e4", value="11"), said("radius", "e5", value="3.5"),
                 said("tangent", "e2", "e5"))


@pytest.mark.parametrize(("dx", "dy"), [(0.0, 3.0), (4.0, 0.0), (120.0, -45.0)])
def test_a_construction_reads_the_same_wherever_it_is_drawn(dx: float, dy: float) -> None:
    part = sloped()
    moved = part.having(points={n: (x + dx, y + dy) for n, (x, y) in part.points.items()})
    here, there = construction_order(part), construction_order(moved)
    assert len(here) == len(there)
    for one, other in zip(here, there, strict=True):
        plain = [re.sub(r"\(-?[\d.]+, -?[\d.]+\)", "()", step.text) for step in (one, other)]
        assert plain[0] == plain[1]
        assert (one.curves, one.points) == (other.curves, other.points)
        assert one.bindings == other.bindings
        for name, (x, y) in places(one).items():
            assert places(other)[name] == pytest.approx((x + dx, y + dy), abs=2e-3)


def test_a_construction_in_inches_prints_as_inch_drawings_do() -> None:
    # ASME Y14.5M-1994, 1.6.2: no zero before the point; decimals as many as say something here.
    points = {"p1": (0.0, 0.0), "p2": (0.5, 1.25)}
    part = frame(points, [("p1", "p2")], said("fixed", "p1"), said("run", "e1", value="0.5"),
                 said("rise", "e1", value="1 1/4")).having(unit="in")
    step = next(s for s in construction_order(part) if s.points == ("p2",))
    assert "(.5, 1.25)" in step.text
    assert {".5", "1.25"} <= set(re.findall(r"(?<![\w.])\.?\d+(?:\.\d+)?", step.text))
    assert "0.5" not in step.text
    assert "500" not in step.text


def test_the_center_of_a_round_uses_what_gives_its_radius() -> None:
    points = {"p1": (0.0, 0.0), "p2": (20.0, 0.0), "p3": (28.0, 8.0), "p4": (28.0, 30.0),
              "m": (20.0, 8.0), "k": (5.0, 20.0)}
    part = frame(points, [("p1", "p2"), ArcCurve(("p2", "p3"), "m"), ("p3", "p4"),
                          CircleCurve("k", 8.0)],
                 said("fixed", "p1"), said("level", "e1"), said("plumb", "e3"), said("fixed", "k"),
                 said("run", "p1", "p4", value="28"), said("rise", "p1", "p4", value="30"),
                 said("radius", "e4", value="8"), said("equal", "e4", "e2"),
                 said("tangent", "e1", "e2"), said("tangent", "e3", "e2"))
    steps = construction_order(part)
    center = next(s for s in steps if "m" in s.points)
    assert {"b8", "b9", "b10"} <= set(center.bindings)  # equal to e4, tangent, tangent
    assert places(center)["m"] == (20.0, 8.0)
    drawn = next(s for s in steps if "e2" in s.curves)
    assert "b8" in drawn.bindings
