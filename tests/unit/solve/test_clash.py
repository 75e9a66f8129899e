"""Smallest sets of bindings that cannot all hold."""

from __future__ import annotations

from collections.abc import Callable
from math import dist

import pytest

from sketcher.part.value import ArcCurve, Binding, Part
from sketcher.solve import clash, solve
from sketcher.solve.clash import QUICK, _Search, approach, excerpt, find_clashes
from sketcher.solve.system import System
from tests.specimens import frame, said, strip

TRIANGLE = {"p1": (0.0, 0.0), "p2": (1.2, 0.3), "p3": (3.0, 1.0)}
THREE = [("p1", "p2"), ("p2", "p3"), ("p3", "p1")]
ROW = {f"p{k}": (10.0 * k, 3.0 * (k % 2)) for k in range(1, 7)}
FIVE = [(f"p{k}", f"p{k + 1}") for k in range(1, 6)]
RUNS = [said("run", f"p{k}", f"p{k + 1}", value=str(10 + k)) for k in range(1, 6)]
PLATE = {"p1": (0.0, 0.0), "p2": (9.0, 0.2), "p3": (9.0, 5.0), "p4": (0.3, 5.0)}
FOUR = [("p1", "p2"), ("p2", "p3"), ("p3", "p4"), ("p4", "p1")]

CASES = {
    "triangle inequality": (
        frame(TRIANGLE, THREE, said("level", "e1"), said("distance", "e1", value="1"),
              said("distance", "e2", value="2"), said("fixed", "p1"),
              said("distance", "e3", value="5")),
        {("b2", "b3", "b5")}),
    "total and parts": (
        frame(ROW, FIVE, *RUNS, said("run", "p1", "p6", value="70"),
              said("rise", "p1", "p2", value="3")),
        {("b1", "b2", "b3", "b4", "b5", "b6")}),
    "level and rise": (
        frame(TRIANGLE, THREE, said("level", "e1"), said("level", "e2"),
              said("rise", "p1", "p3", value="1"), said("distance", "e1", value="2")),
        {("b1", "b2", "b3")}),
    "held at two heights": (
        frame(TRIANGLE, THREE, said("level", "e1"), said("fixed", "p1"), said("plumb", "e2"),
              said("fixed", "p2"), said("distance", "e3", value="2")),
        {("b1", "b2", "b4")}),
    "square and parallel": (
        frame(ROW, FIVE, said("square", "e1", "e2"), said("parallel", "e2", "e3"),
              said("parallel", "e3", "e4"), said("parallel", "e1", "e4"),
              said("distance", "e1", value="2")),
        {("b1", "b2", "b3", "b4")}),
    "two values for one radius": (
        frame({"p1": (5.0, 0.0), "p2": (0.0, 5.0), "m": (0.0, 0.0)},
              [ArcCurve(("p1", "p2"), "m")], said("fixed", "m"), said("radius", "e1", value="5"),
              said("diameter", "e1", value="12"), said("level", "m", "p1")),
        {("b2", "b3")}),
    "circles too far apart": (
        frame({"p1": (0.0, 0.0), "p2": (20.0, 0.0), "p3": (9.0, 1.0)}, (),
              said("fixed", "p1"), said("fixed", "p2"), said("distance", "p1", "p3", value="5"),
              said("distance", "p2", "p3", value="6")),
        {("b1", "b2", "b3", "b4")}),
}


@pytest.mark.parametrize("name", CASES)
def test_smallest_set(name: str) -> None:
    part, wanted = CASES[name]
    assert set(find_clashes(part)) == wanted


@pytest.mark.parametrize("name", CASES)
def test_every_member_is_needed(name: str) -> None:
    """Dropping any one member lets the others hold."""
    part, wanted = CASES[name]
    (members,) = wanted
    for dropped in members:
        system = System(excerpt(part, [m for m in members if m != dropped]))
        assert "clashing" not in system.merged.values()
        assert approach(system, system.x0)[1], dropped


def test_clashes_apart_are_named_apart() -> None:
    part = frame(ROW, FIVE, *RUNS, said("run", "p1", "p6", value="70"),
                 said("rise", "p1", "p2", value="3"), said("rise", "p1", "p2", value="4"))
    assert set(find_clashes(part)) == {("b7", "b8"), ("b1", "b2", "b3", "b4", "b5", "b6")}


def test_pair_is_preferred_to_a_longer_way_round() -> None:
    part = frame(PLATE, FOUR, said("level", "e1"), said("plumb", "e2"), said("level", "e3"),
                 said("plumb", "e4"), said("distance", "e1", value="9"),
                 said("distance", "e3", value="9"), said("distance", "e1", value="12"))
    found = find_clashes(part)
    assert ("b5", "b7") in found


@pytest.mark.parametrize("part", [
    Part(),
    frame(TRIANGLE, THREE, said("distance", "e1", value="3"), said("distance", "e2", value="4"),
          said("distance", "e3", value="5")),
    frame(PLATE, FOUR, *[said("square", f"e{k}", f"e{k % 4 + 1}") for k in (1, 2, 3, 4)]),
])
def test_sound_parts_have_none(part: Part) -> None:
    assert find_clashes(part) == ()


def test_reference_dimension_never_clashes() -> None:
    part = frame(TRIANGLE, THREE, said("distance", "e1", value="1"),
                 said("distance", "e1", value="2", drives=False))
    assert find_clashes(part) == ()


def test_excerpt_takes_arcs_between_its_points_along() -> None:
    part = frame({"p1": (5.0, 0.0), "p2": (0.0, 5.0), "m": (0.0, 0.0), "q": (9.0, 9.0)},
                 [ArcCurve(("p1", "p2"), "m"), ("p2", "q")], said("distance", "p1", "m", value="5"),
                 said("distance", "p2", "q", value="5"))
    short = excerpt(part, ["b1"])
    assert list(short.points) == ["p1", "p2", "m"]
    assert list(short.curves) == ["e1"]
    assert list(short.bindings) == ["b1"]


def test_a_clash_through_a_whole_chain_is_named_without_a_trial_for_each_member(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A distance across a wave of lines and arcs that is 3 mm off: its links and all between."""
    part, exact = strip(61)
    far = Binding("distance", ("p3", "p55"), repr(dist(exact["p3"], exact["p55"]) + 3.0))
    trials = []
    solutions = _Search._solutions
    monkeypatch.setattr(_Search, "_solutions", lambda *given: trials.append(1) or solutions(*given))
    (members,) = find_clashes(part.having(bindings={**part.bindings, "far": far}))
    assert len(trials) == 1
    assert members[-1] == "far"
    assert {f"l{k}" for k in range(4, 55, 2)} | {f"r{k}" for k in range(3, 55, 2)} <= set(members)
    assert not {"l0", "l2", "l56", "l58", "r57"} & set(members)


def narrowing(
    monkeypatch: pytest.MonkeyPatch, judge: Callable[[_Search, list[str]], bool]
) -> tuple[_Search, list[int]]:
    """A search whose trials are judged by a rule, and the sizes of the sets that it tries."""
    search, sizes = _Search(System(strip(60)[0])), list[int]()

    def possible(names: list[str]) -> bool:
        sizes.append(len(names))
        return judge(search, names)

    monkeypatch.setattr(search, "possible", possible)
    return search, sizes


def test_two_of_many_are_found_in_trials_that_grow_with_their_logarithm(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    search, sizes = narrowing(monkeypatch, lambda _, names: not {"d4", "l8"} <= set(names))
    names = list(search.place)
    assert len(names) > 150
    assert search.reduced(names) == tuple(sorted(("d4", "l8"), key=names.index))
    assert len(sizes) < 50
    # All needed: one trial without each, and at last one of all with many starts.
    search, sizes = narrowing(monkeypatch, lambda _, tried: len(tried) < len(names))
    assert search.reduced(names) == tuple(names)
    assert sizes == [len(names) - 1] * len(names) + [len(names)]


def test_what_many_starts_solve_is_taken_back(monkeypatch: pytest.MonkeyPatch) -> None:
    """Few starts take any set with d4 for a clash; many do so only where l8 is in it too."""
    def judge(search: _Search, names: list[str]) -> bool:
        return not ({"d4"} if search.starts == QUICK else {"d4", "l8"}) <= set(names)

    search, _ = narrowing(monkeypatch, judge)
    names = list(search.place)
    assert set(search.reduced(names)) == {"d4", "l8"}
    assert search.starts == QUICK
    search, _ = narrowing(monkeypatch, lambda search, names: search.starts > QUICK)
    assert search.reduced(names) == ()


def test_long_trials_use_up_the_search(monkeypatch: pytest.MonkeyPatch) -> None:
    """A triangle whose sides cannot meet: a trial of many steps counts as several."""
    part = frame({"p1": (0.0, 0.0), "p2": (10.0, 0.0), "p3": (4.0, 5.0)},
                 [("p1", "p2"), ("p2", "p3"), ("p3", "p1")],
                 *(said("distance", name, value=value)
                   for name, value in (("e1", "30"), ("e2", "10"), ("e3", "10"))))
    search = _Search(System(part))
    monkeypatch.setattr(clash, "STEPS", 10)
    assert not search.possible(["b1", "b2", "b3"])
    short = clash.TRIALS - search.left
    search = _Search(System(part))
    monkeypatch.setattr(clash, "STEPS", 20)
    assert not search.possible(["b1", "b2", "b3"])
    assert short > 1
    assert short == pytest.approx(2 * (clash.TRIALS - search.left), abs=1)
    search.left = 0
    assert search.possible(["b1"])


def triangles(count: int) -> Part:
    """Triangles of sides 1, 2 and 5, each by itself: values out of range, not one too many."""
    points, lines, bindings = {}, [], []
    for k in range(count):
        x = 10.0 * k
        points |= {f"a{k}": (x, 0.0), f"b{k}": (x + 1.0, 0.3), f"c{k}": (x + 3.0, 1.0)}
        lines += [(f"a{k}", f"b{k}"), (f"b{k}", f"c{k}"), (f"c{k}", f"a{k}")]
        bindings += [said("distance", f"e{3 * k + side}", value=value)
                     for side, value in ((1, "1"), (2, "2"), (3, "5"))]
    return frame(points, lines, *bindings)


def test_at_most_eight_clashes_are_named_at_once() -> None:
    points = {f"{end}{k}": (x, 5.0 * k) for k in range(10) for end, x in (("a", 0.0), ("b", 5.0))}
    part = frame(points, (), *[said("distance", f"a{k}", f"b{k}", value=value)
                               for k in range(10) for value in ("5", "6")])
    # What is one too many is found from the end of the file, and told in its order.
    assert find_clashes(part) == tuple((f"b{2 * k + 1}", f"b{2 * k + 2}") for k in range(8))


def test_a_further_clash_is_looked_for_while_three_quarters_of_the_trials_are_left() -> None:
    part = triangles(8)
    found = find_clashes(part)
    assert found[0] == ("b1", "b2", "b3")
    assert all(len(members) == 3 for members in found)
    assert len(found) == 3  # about ten trials each, of a hundred


def test_a_trial_counts_for_each_sixty_steps() -> None:
    system = System(triangles(1))
    names = ["b1", "b2", "b3"]
    search = _Search(system)
    assert search.left == 100
    few = list(search._solutions(excerpt(system.part, names), 0))
    assert len(few) == 2  # as drawn and settled; nothing has stalled yet
    search.starts = clash.THOROUGH
    many = list(search._solutions(excerpt(system.part, names), 0))
    assert len(many) == 9  # with six ever farther away, and a walk
    assert not any(solution for _, solution in many)
    taken = sum(outcome.iterations for outcome, _ in many)
    assert len({round(taken / steps) for steps in (30, 60, 120)}) == 3, taken
    assert not search.possible(names)
    assert 100 - search.left == round(taken / 60)


def test_what_a_solution_of_some_breaks_is_named() -> None:
    points = {"a": (0.0, 0.0), "b": (5.0, 0.0), "c": (9.0, 0.0), "d": (0.0, 2.0)}
    part = frame(points, (), said("fixed", "a"), said("distance", "a", "b", value="5"),
                 said("distance", "b", "c", value="4"), said("fixed", "b"),
                 said("run", "a", "b", value="3"), said("plumb", "a", "d"))
    search = _Search(System(part))
    solution = Part(points={"a": (0.0, 0.0), "b": (3.0, 0.0), "d": (1e-9, 2.0)})
    # c is not there, d stands straight enough, b has left its place.
    assert search._broken(solution, set()) == ["b2", "b4"]
    assert search._broken(solution, {"b2"}) == ["b4"]
    assert search._broken(solution, {"b1", "b4"}) == ["b2"]


def test_a_set_grows_by_what_its_solution_breaks() -> None:
    part = frame({"a": (0.0, 0.0), "b": (3.0, 3.9), "c": (50.0, 0.0)}, (),
                 said("distance", "a", "b", value="5"), said("run", "a", "b", value="3"),
                 said("rise", "a", "b", value="1"), said("run", "a", "c", value="50"))
    search = _Search(System(part))
    assert search.grown(["b1", "b2"]) == ["b1", "b2", "b3"]
    assert search.grown(["b1", "b2", "b3"]) == ["b1", "b2", "b3"]
    right = part.having(bindings={**part.bindings, "b3": said("rise", "a", "b", value="4")})
    assert _Search(System(right)).grown(["b1", "b2"]) == []  # 3-4-5 breaks nothing


def test_what_clashes_is_told_of_its_curves() -> None:
    report = solve(triangles(1)).report
    assert dict(report.states) == dict.fromkeys(("e1", "e2", "e3"), "clashing")
    assert report.clashes == (("b1", "b2", "b3"),)


@pytest.mark.parametrize(("value", "members"), [
    # Longer than 80 between plumb edges 80 apart: only a slope could help, which b3 forbids.
    ("81", ("b2", "b3", "b4", "b6", "b7")),
    # Shorter: then e1, 80 long, would have to slope, which b1 forbids.
    ("79", ("b1", "b2", "b4", "b6", "b7")),
])
def test_two_sides_of_a_frame_that_differ_are_named_with_what_keeps_them_apart(
    value: str, members: tuple[str, ...]
) -> None:
    part = frame(
        {"p": (0.0, 0.0), "q": (80.0, 0.0), "r": (80.0, 50.0), "s": (0.0, 50.0)},
        (("p", "q"), ("q", "r"), ("r", "s"), ("s", "p")),
        said("level", "e1"), said("plumb", "e2"), said("level", "e3"), said("plumb", "e4"),
        said("fixed", "p"), said("distance", "e1", value="80"), said("distance", "e3", value=value))
    report = solve(part).report
    assert report.clashes == (members,)
    assert report.doubled == ()
