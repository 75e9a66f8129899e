"""Which draws of a problem count, and what is told of the others."""

from __future__ import annotations

import json
from functools import cache

import pytest

from sketcher.errors import SketcherError
from sketcher.inspect.sketched import solve_sketch
from sketcher.interrupt import Stopped, while_wanted
from sketcher.marking.problem import Problem, problem_of
from sketcher.marking.tried_draw import TriedDraw, try_draw
from sketcher.marking.variants import class_variants
from sketcher.marking.varied_values import DrawSpace, VariedName, draw_space
from sketcher.part.file_text import write
from tests.plates import bound
from tests.ready_keys import demo_solved


@cache
def problem(least: float | None = None) -> Problem:
    """The gate strap: a web of 7.5 between the small hole and the edge is its narrowest."""
    return problem_of(demo_solved("gate-strap"), "strap", least)


def tried(draw: dict[str, str]) -> TriedDraw:
    space = DrawSpace(tuple(VariedName(name, name in problem().part.parameters, (text,))
                            for name, text in draw.items()))
    return try_draw(problem(), space, draw, "07")


@pytest.mark.parametrize(("draw", "refused", "detail"), [
    # 12 from the middle of the small hole to the edge: less 9 leaves 3, less 7.5 leaves 4.5
    ({"b24": "18"}, "a web below 4.5 mm", "3 mm"),
    ({"b24": "26"}, "a finding (crossing)", "cross or touch"),
    ({"b7": "12"}, "two equal radii", "a1 and a2"),  # 8 and 12 on the paper
    ({"b34": "16"}, "two edges of equal length", "e2 and e6"),  # 16 and 20 on the paper
    ({"b14": "60"}, "an edge below 9.6 mm", "e3 is 1.1531 mm"),
    ({"b36": "61"}, "a side turned", "b33"),
    ({"b29": "19"}, "bindings that cannot all hold", "b29"),  # an arc across 40 wide
    ({"b7": "4*zz"}, "values that cannot be had", "no parameter named 'zz'"),
    ({"wall": "16"}, "no room on A4 at 1:1", "does not fit"),
])
def test_a_draw_that_is_no_good_problem_is_refused(
    draw: dict[str, str], refused: str, detail: str
) -> None:
    found = tried(draw)
    assert found.refused == refused
    assert detail in found.detail
    assert found.key is None


def test_a_draw_that_counts_has_a_key_and_a_handout() -> None:
    found = tried({"b24": "15"})  # leaves the 4.5 that are just allowed
    assert found.refused == ""
    assert found.handout.startswith(b"%PDF-")
    assert found.key is not None
    data = json.loads(write(found.key))
    assert data["curves"]["h2"]["radius"] == pytest.approx(7.5, abs=1e-9)
    assert data["drawing"]["sheet"] == "A4"
    assert data["drawing"]["scale"] == "1:1"
    assert data["drawing"]["fields"]["number"].startswith("07 ")


def test_the_least_web_can_be_said() -> None:
    space = draw_space(problem().part, ["b24=9..10:1"])
    refused = [try_draw(problem(7.4), space, space.draw(index), "1").refused
               for index in range(space.count)]
    assert refused == ["", "a web below 7.4 mm"]  # 12 - 9 / 2 is 7.5, 12 - 10 / 2 is 7


def test_one_part_by_other_values_is_the_same() -> None:
    """The web round the large hole is 11 by its own value and by the parameter that it names."""
    one, other, third = (tried({"wall": wall, "b21": offset}) for wall, offset in (
        ("11", "11"), ("11", "wall"), ("11", "11.5")))
    assert one.sameness
    assert one.sameness == other.sameness
    assert one.sameness != third.sameness


def test_a_value_that_changes_nothing_is_no_variant() -> None:
    space = DrawSpace((VariedName("b20", False, ("20", "20.0", "21")),))
    with pytest.raises(SketcherError, match="gives 2 different variants for 3 students; none of"):
        class_variants(problem(), space, ["1", "2", "3"], jobs=1)


def test_too_few_draws_are_told_with_the_reasons() -> None:
    space = draw_space(problem().part, ["b24=15..18:1"])
    with pytest.raises(SketcherError) as caught:
        class_variants(problem(), space, ["1", "2"], jobs=1)
    assert "gives 1 different variants for 2 students" in str(caught.value)
    assert "3 of 4 draws refused: 3 a web below 4.5 mm" in str(caught.value)
    with pytest.raises(SketcherError, match="there are 4 draws in all"):
        class_variants(problem(), space, [str(number) for number in range(5)], jobs=1)


def test_it_stops_when_nobody_wants_it() -> None:
    space = draw_space(problem().part, ["b24=8..9:0.5"])
    with while_wanted(lambda: False), pytest.raises(Stopped):
        class_variants(problem(), space, ["1", "2"], jobs=1)


@pytest.mark.parametrize(("change", "said"), [
    ("loose", "is no key: something is loose"),
    ("unsound", "is no problem to set"),
])
def test_what_is_no_problem_is_not_varied(change: str, said: str) -> None:
    part = bound()
    bindings = dict(part.bindings)
    if change == "loose":
        del bindings["b7"]
    else:
        bindings["b99"] = type(bindings["b7"])("run", ("p1", "p2"), "3", drives=False)
    with pytest.raises(SketcherError, match=said):
        problem_of(solve_sketch(part.having(bindings=bindings)), "plate")
