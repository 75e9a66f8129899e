"""Binding kinds: the registry, operands in order, sides, measured and wanted values."""

from __future__ import annotations

from math import hypot
from pathlib import Path

import pytest

from sketcher.errors import EditError, QuantityError
from sketcher.part import kinds
from sketcher.part.kinds import (
    KINDS,
    bind,
    fitting,
    in_order,
    measure,
    residual,
    settle_sides,
    sides,
    wanted,
)
from sketcher.part.value import ArcCurve, Binding, CircleCurve, LineCurve, Part, frozen
from tests.every_kind import SPECIMENS
from tests.refusals import refused

NAMES = {specimen.kind for specimen in SPECIMENS}


@pytest.fixture
def part() -> Part:
    """Lines e1 (10 to the right), e2 (up from its end), e3 parallel above, and three rounds."""
    return Part(
        points=frozen({
            "o": (0.0, 0.0), "a": (10.0, 0.0), "b": (10.0, 8.0), "c": (1.0, 4.0),
            "d": (9.0, 4.0), "m": (4.0, 0.0), "k": (4.0, 3.0), "k2": (20.0, 3.0),
            "s": (22.0, 3.0), "t": (20.0, 5.0)}),
        curves=frozen({
            "e1": LineCurve(("o", "a")), "e2": LineCurve(("a", "b")), "e3": LineCurve(("c", "d")),
            "h1": CircleCurve("k", 3.0), "h2": CircleCurve("k", 5.0),
            "a1": ArcCurve(("s", "t"), "k2"), "x": LineCurve(("o", "b"), "axis")}),
    )


def test_every_file_of_the_folder_is_a_registered_kind() -> None:
    files = {p.stem for p in Path(kinds.__file__).parent.glob("*.py")} - {"__init__"}
    assert {name.replace(" ", "_") for name in KINDS} == files
    assert set(KINDS) == NAMES


@pytest.mark.parametrize("name", sorted(NAMES))
def test_every_form_of_a_kind_has_its_phrase(name: str) -> None:
    kind = KINDS[name]
    assert {len(form) for form in kind.forms} == {phrase.count("{") for phrase in kind.phrases}
    for count in {len(form) for form in kind.forms}:
        operands = [f"q{k}" for k in range(count)]
        said = kind.phrase(operands)
        assert all(said.count(operand) == 1 for operand in operands)


def test_a_binding_is_said_as_a_drafter_says_it() -> None:
    assert KINDS["square"].phrase(("e1", "e4")) == "e1 square to e4"
    assert KINDS["square"].phrase(("e1", "p1", "p2")) == "p1 to p2 square to e1"
    assert KINDS["run"].phrase(("e2",)) == "run of e2"


@pytest.mark.parametrize("name", sorted(NAMES))
def test_a_kind_says_what_it_is_and_takes(name: str) -> None:
    kind = KINDS[name]
    assert kind.name == name
    assert kind.hint.endswith(".")
    assert kind.quantity in {"length", "angle", None}
    assert kind.forms
    assert {want for form in kind.forms for want in form} <= {
        "point", "line", "arc", "circle", "round"}


@pytest.mark.parametrize(("ids", "expected"), [
    (["o"], {"fixed"}),
    (["o", "b"], {"distance", "run", "rise", "level", "plumb"}),
    (["e1"], {"distance", "run", "rise", "angle", "level", "plumb"}),
    (["c", "e1"], {"offset", "on", "middle"}),
    (["e1", "c"], {"offset", "on", "middle"}),
    (["e1", "e3"], {"offset", "angle", "parallel", "square", "in line", "equal"}),
    (["h1"], {"radius", "diameter"}),
    (["a1"], {"radius", "diameter"}),
    (["h1", "e1"], {"tangent"}),
    (["a1", "h1"], {"offset", "equal", "concentric", "tangent", "web"}),
    (["c", "h1"], {"on", "concentric"}),
    (["o", "b", "c"], {"in line", "middle"}),
    (["x", "e1", "e3"], {"reflected"}),
    (["o", "x", "b"], {"reflected", "square"}),
    (["h1", "h2", "x"], {"reflected"}),
    (["h1", "a1", "x"], set()),
    ([], set()),
    (["nothing"], set()),
])
def test_fitting_kinds(part: Part, ids: list[str], expected: set[str]) -> None:
    assert set(fitting(part, ids)) == expected


@pytest.mark.parametrize(("kind", "ids", "of"), [
    ("offset", ["c", "e1"], ("e1", "c")),
    ("on", ["e1", "c"], ("c", "e1")),
    ("tangent", ["h1", "e1"], ("e1", "h1")),
    ("reflected", ["x", "e1", "e3"], ("e1", "e3", "x")),
    ("concentric", ["c", "h1"], ("h1", "c")),
    ("run", ["b", "o"], ("b", "o")),
])
def test_operands_are_put_in_order(part: Part, kind: str, ids: list[str], of: tuple) -> None:
    assert bind(part, kind, ids).of == of


def test_operands_of_a_file_are_put_in_order_where_they_fit_no_form(part: Part) -> None:
    assert in_order(part, Binding("on", ("e1", "c"))).of == ("c", "e1")
    fits = Binding("reflected", ("x", "e1", "e3"))
    assert in_order(part, fits) is fits
    with refused("radius e1", EditError):
        in_order(part, Binding("radius", ("e1",)))


@pytest.mark.parametrize(("kind", "ids", "value", "side"), [
    ("run", ["o", "b"], 10.0, "right"),
    ("run", ["b", "o"], 10.0, "left"),
    ("rise", ["o", "b"], 8.0, "above"),
    ("rise", ["e2"], 8.0, "above"),
    ("distance", ["o", "b"], hypot(10.0, 8.0), None),
    ("distance", ["e2"], 8.0, None),
    ("offset", ["e1", "c"], 4.0, "left"),
    ("offset", ["e1", "e3"], 4.0, "left"),
    ("offset", ["e3", "e1"], 4.0, "right"),
    ("offset", ["h1", "h2"], 2.0, "outside"),
    ("offset", ["h2", "h1"], 2.0, "inside"),
    ("angle", ["e1", "e2"], 90.0, "cw reversed"),
    ("angle", ["e2"], 90.0, "ccw"),
    ("angle", ["e3", "x"], 38.65980825409009, "ccw"),
    ("angle", ["e1", "x"], 38.65980825409009, "ccw"),
    ("radius", ["a1"], 2.0, None),
    ("diameter", ["h2"], 10.0, None),
    ("web", ["a1", "h1"], 11.0, None),  # centers 16 apart, radii 2 and 3
])
def test_a_dimension_without_a_value_takes_the_measured_one(
    part: Part, kind: str, ids: list[str], value: float, side: str | None
) -> None:
    binding = bind(part, kind, ids)
    assert binding.side == side
    assert wanted(part, binding) == pytest.approx(value, abs=1e-8)
    assert measure(part, binding) == pytest.approx(value, abs=1e-8)
    assert residual(part, binding) == pytest.approx(0.0, abs=1e-8)


def test_a_measured_value_can_be_read_again(part: Part) -> None:
    near = part.having(points={**part.points, "m": (0.0000004, 0.0)})
    assert wanted(near, bind(near, "run", ["o", "m"])) == pytest.approx(4e-7)
    assert bind(part, "run", ["o", "b"]).value == "10"
    assert bind(part, "rise", ["o", "a"]).value == "0"


@pytest.mark.parametrize(("kind", "ids", "value", "actual"), [
    ("run", ["o", "b"], "12", 10.0),
    ("offset", ["e1", "c"], "5 - 0.5", 4.0),
    ("angle", ["e1", "x"], "40", 38.65980825409009),
    ("angle", ["e1", "x"], "141", 180.0 - 38.65980825409009),
    ("angle", ["x", "e1"], "38", 38.65980825409009),
    ("radius", ["h1"], "4", 3.0),
])
def test_residual_is_actual_minus_wanted(
    part: Part, kind: str, ids: list[str], value: str, actual: float
) -> None:
    binding = bind(part, kind, ids, value)
    target = wanted(part, binding)
    assert target is not None
    assert measure(part, binding) == pytest.approx(actual, abs=1e-12)
    assert residual(part, binding) == pytest.approx(actual - target, abs=1e-12)


def test_a_point_on_the_other_side_measures_negative(part: Part) -> None:
    assert measure(part, Binding("offset", ("e1", "c"), "4", "right")) == pytest.approx(-4.0)


@pytest.mark.parametrize(("kind", "ids", "off"), [
    ("level", ["o", "c"], 4.0),
    ("plumb", ["e1"], 10.0),
    ("on", ["c", "e1"], 4.0),
    ("on", ["o", "h1"], 2.0),
    ("tangent", ["e1", "h1"], 0.0),
    ("tangent", ["e1", "h2"], 2.0),
    ("concentric", ["h1", "h2"], 0.0),
    ("equal", ["h1", "h2"], 2.0),
    ("equal", ["e1", "e3"], 2.0),
    ("parallel", ["e1", "e3"], 0.0),
    ("middle", ["m", "e1"], 1.0),
    ("fixed", ["o"], 0.0),
])
def test_kinds_without_a_value_measure_their_residual_as_a_length(
    part: Part, kind: str, ids: list[str], off: float
) -> None:
    binding = bind(part, kind, ids)
    assert wanted(part, binding) is None
    assert abs(measure(part, binding)) == pytest.approx(off, abs=1e-12)


def test_sides_are_offered_where_there_are_any(part: Part) -> None:
    assert sides(part, bind(part, "run", ["o", "b"])) == ("right", "left")
    assert sides(part, bind(part, "tangent", ["h1", "h2"])) == ("outside", "inside", "around")
    assert sides(part, bind(part, "angle", ["e1", "x"])) == (
        "ccw", "cw", "ccw reversed", "cw reversed")
    assert sides(part, bind(part, "level", ["e1"])) == ("right", "left")
    assert sides(part, bind(part, "level", ["o", "c"])) == ()
    assert sides(part, bind(part, "distance", ["e1"])) == ()
    assert sides(part, bind(part, "reflected", ["e1", "e3", "x"])) == ("same", "crossed")


def test_a_point_bound_where_line_and_arc_cross_knows_which_crossing() -> None:
    part = Part(
        points=frozen({"a": (0.0, 0.0), "b": (10.0, 0.0), "c": (5.0, -3.0), "p": (9.0, 0.0),
                       "q": (5.0, 2.0)}),
        curves=frozen({"e": LineCurve(("a", "b")), "r": ArcCurve(("p", "q"), "c")}))
    assert bind(part, "on", ["p", "e"]).side == "ahead"
    moved = part.having(points={**part.points, "p": (1.0, 0.0)})
    assert bind(moved, "on", ["p", "e"]).side == "behind"
    assert bind(part, "on", ["c", "e"]).side is None
    # a tangency bound later takes the meaning of the side away, not its right to be in a file
    bound = part.having(bindings={"b1": bind(part, "on", ["p", "e"])})
    bound = bound.having(bindings={**bound.bindings, "b2": bind(bound, "tangent", ["e", "r"])})
    assert bound.bindings["b1"].side in sides(bound, bound.bindings["b1"])
    assert settle_sides(bound) is bound


def test_sides_are_settled_once_and_then_kept(part: Part) -> None:
    bare = part.having(bindings={
        "b1": Binding("offset", ("c", "e1"), "4"), "b2": Binding("run", ("o", "b"), "3", "left"),
        "b3": Binding("distance", ("e1",), "10")})
    settled = settle_sides(bare)
    assert settled.bindings["b1"] == Binding("offset", ("e1", "c"), "4", "left")
    assert settled.bindings["b2"] is bare.bindings["b2"]
    assert settled.bindings["b3"] is bare.bindings["b3"]
    assert settle_sides(settled) is settled


@pytest.mark.parametrize(("kind", "ids", "words"), [
    ("girth", ["e1"], "no binding kind named 'girth'"),
    ("run", ["o"], "does not fit o"),
    ("run", ["o", "o"], "does not fit o, o"),
    ("radius", ["e1"], "select round"),
    ("run", ["o", "zz"], "no point or curve named 'zz'"),
    ("web", ["h1", "h2"], "of h1 and h2 measures -8 here"),
])
def test_what_does_not_fit_is_refused_in_words(
    part: Part, kind: str, ids: list[str], words: str
) -> None:
    with pytest.raises(EditError, match=words):
        bind(part, kind, ids)


def test_an_unreadable_value_is_refused(part: Part) -> None:
    with pytest.raises(QuantityError):
        bind(part, "run", ["o", "b"], "ten")
    # measuring does not depend on a readable value
    assert measure(part, Binding("run", ("o", "b"), "ten", "right")) == pytest.approx(10.0)


def test_values_are_in_the_unit_of_the_part(part: Part) -> None:
    inch = part.having(unit="in", parameters={"wall": "1/4"})
    assert wanted(inch, Binding("run", ("o", "b"), "25.4 mm")) == pytest.approx(1.0, abs=1e-15)
    assert wanted(inch, Binding("run", ("o", "b"), "2*wall")) == pytest.approx(0.5, abs=1e-15)
    assert wanted(inch, Binding("angle", ("e1",), "15°30'")) == pytest.approx(15.5, abs=1e-12)
