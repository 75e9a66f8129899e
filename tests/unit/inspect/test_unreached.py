"""Values that no drawing can have: the last that holds, against trigonometry done by hand here."""

from __future__ import annotations

import re
from dataclasses import replace
from math import asin, atan, degrees

import pytest

from sketcher.inspect.inspection import inspect_part
from sketcher.inspect.sketched import solve_sketch
from sketcher.inspect.unreached import holds, missed, reach_of, reach_words
from sketcher.part.store import load
from sketcher.part.value import ArcCurve, Part
from sketcher.quantity.parse import evaluate
from sketcher.solve.solve_report import Solution
from tests.demo_parts import SOUND
from tests.specimens import frame, said, strip

SHELF = next(path for path in SOUND if "shelf" in path.name)


def tray(unit: str, wide: str, high: str, radius: str, fillets: int = 1) -> Part:
    """A plate with one or both upper corners filleted; sizes as text."""
    w, h, r = 3.0, 2.0, 0.5
    points = {"p1": (0.0, 0.0), "p2": (w, 0.0), "p3": (w, h - r), "p4": (w - r, h),
              "c1": (w - r, h - r)}
    curves = [("p1", "p2"), ("p2", "p3"), ArcCurve(("p3", "p4"), "c1")]
    if fillets == 1:
        points |= {"p5": (0.0, h)}
        curves += [("p4", "p5"), ("p5", "p1")]
    else:
        points |= {"p5": (r, h), "p6": (0.0, h - r), "c2": (r, h - r)}
        curves += [("p4", "p5"), ArcCurve(("p5", "p6"), "c2"), ("p6", "p1")]
    last = f"e{len(curves)}"
    bound = [said("fixed", "p1"), said("level", "e1"), said("plumb", "e2"), said("level", "e4"),
             said("plumb", last), said("run", "p1", "p2", value=wide),
             said("rise", "p1", "p4", value=high), said("tangent", "e2", "e3"),
             said("tangent", "e4", "e3"), said("radius", "e3", value=radius)]
    if fillets == 2:
        bound += [said("tangent", "e4", "e5"), said("tangent", "e6", "e5"),
                  said("radius", "e5", value=radius)]
    return frame(points, curves, *bound).having(unit=unit)


def triangle(unit: str) -> Part:
    """A hole's center by two distances from the ends of a level base of 50."""
    points = {"p1": (0.0, 0.0), "p2": (50.0, 0.0), "p3": (18.0, 24.0)}
    return frame(points, [("p1", "p2"), ("p2", "p3"), ("p3", "p1")], said("fixed", "p1"),
                 said("level", "e1"), said("distance", "e1", value="50"),
                 said("distance", "e2", value="40"), said("distance", "e3", value="30"),
                 ).having(unit=unit)


def chain(unit: str) -> Part:
    """Three links of 30, 20 and 25 between the ends of a span, the middle one level as the span."""
    points = {"p1": (0.0, 0.0), "p2": (20.0, 22.0), "p3": (40.0, 22.0), "p4": (52.0, 0.0)}
    return frame(points, [("p1", "p2"), ("p2", "p3"), ("p3", "p4"), ("p4", "p1")],
                 said("fixed", "p1"), said("level", "e2"), said("level", "e4"),
                 said("distance", "e1", value="30"), said("distance", "e2", value="20"),
                 said("distance", "e3", value="25"), said("run", "p1", "p4", value="52"),
                 ).having(unit=unit)


def leaning(unit: str) -> Part:
    """A base of 50 and a side of 30 from its end to a line that leaves its start at an angle."""
    points = {"p1": (0.0, 0.0), "p2": (50.0, 0.0), "p3": (20.0, 8.0)}
    return frame(points, [("p1", "p2"), ("p2", "p3"), ("p3", "p1")], said("fixed", "p1"),
                 said("level", "e1"), said("distance", "e1", value="50"),
                 said("distance", "e2", value="30"), said("angle", "e3", value="20"),
                 ).having(unit=unit)


def asked(part: Part, name: str, value: str) -> Solution:
    """A part that held, asked for another value of a binding or a parameter."""
    good = solve_sketch(part)
    assert good.report.converged
    part = good.part
    if name in part.parameters:
        return solve_sketch(part.having(parameters={**part.parameters, name: value}))
    changed = replace(part.bindings[name], value=value)
    return solve_sketch(part.having(bindings={**part.bindings, name: changed}))


def named(part: Part, kind: str, value: str) -> str:
    """Id of the last binding of a kind with a value."""
    return [n for n, b in part.bindings.items() if (b.kind, b.value) == (kind, value)][-1]


FILLET_MM, FILLET_IN = tray("mm", "60", "40", "5"), tray("in", "3", "2 1/4", "1/2")
BOTH = tray("mm", "30", "40", "r", 2).having(parameters={"r": "5"})
THROUGH = tray("mm", "60", "40", "wall / 2 + 1").having(parameters={"wall": "8"})
GUSSET = load(SHELF)
CASES = {
    # part, what is changed, to what, the true limit, in steps of, the text in use, its partners
    "fillet, mm": (FILLET_MM, "radius 5", "50", 40.0, 0.01, "39.99", {"rise"}),
    "fillet, inch fractions": (FILLET_IN, "radius 1/2", "4", 2.25, 1 / 64, "2 15/64", {"rise"}),
    "fillet, inch decimals": (FILLET_IN, "radius 1/2", "4.000", 2.25, 0.001, "2.249", {"rise"}),
    "distance too long": (triangle("mm"), "distance 30", "120", 90.0, 0.01, "89.99", {"distance"}),
    "distance too short": (triangle("in"), "distance 30", "5", 10.0, 0.01, "10.01", {"distance"}),
    "chain longer than the span": (chain("mm"), "run 52", "85.5", 75.0, 0.01, "74.99",
                                   {"distance"}),
    # what is left of the span, 52 less the link, spans the other two: no less than 30 - 25
    "link too long, inch": (chain("in"), "distance 20", "50", 52.0 - 5.0, 0.01, "46.99",
                            {"run", "distance"}),
    "angle": (leaning("mm"), "angle 20", "60", degrees(asin(30.0 / 50.0)), 0.01, "36.86",
              {"distance"}),
    "angle of the bracket": (GUSSET, "angle 45", "89.9", degrees(atan((5.0 - 2.25 - 0.75) / 0.625)),
                             0.01, "72.64", {"rise", "radius", "run"}),
    "fillet of the bracket": (GUSSET, "radius 3/4", "4", 5.0 - 2.25 - 0.625, 1 / 64, "2 7/64",
                              {"rise", "run", "angle"}),
    "parameter of two fillets": (BOTH, "r", "40", 15.0, 0.01, "14.99", {"run"}),
    "parameter in an expression": (THROUGH, "wall", "200", 2.0 * (40.0 - 1.0), 0.01, "77.99",
                                   {"rise"}),
}


@pytest.mark.parametrize("case", CASES)
def test_the_last_value_that_holds(case: str) -> None:
    part, what, value, true, grain, text, partners = CASES[case]
    name = what if what in part.parameters else named(part, *what.split(" ", 1))
    solution = asked(part, name, value)
    report = solution.report
    assert not report.converged
    assert report.unreached
    found = reach_of(solution.part, report)
    assert found is not None
    assert found.text == text
    assert found.missed.parameter == (name if what in part.parameters else "")
    amount = evaluate(text, "number", part.unit)
    assert 0.0 < (true - amount if found.most else amount - true) <= grain * 1.001
    assert holds(found.missed.given(solution.part, text))
    beyond = true + (grain if found.most else -grain)
    assert not holds(found.missed.given(solution.part, repr(beyond)))
    kinds = {part.bindings[n].kind for n in found.against if part.bindings[n].value}
    assert kinds == partners
    words = reach_words(solution.part, report)
    assert words.startswith(f"parameter {name} cannot" if what in part.parameters else f"{name}, ")
    assert f"cannot be {value} here: at {'most' if found.most else 'least'} {text} holds" in words


def test_the_finding_names_the_value_and_says_nothing_of_drawing_nearer() -> None:
    solution = asked(GUSSET, "b13", "4")
    assert solution.report.clashes == ()
    (finding,) = inspect_part(solution.part, solution.report).findings
    assert finding.code == "unreached"
    assert finding.text == ("b13, radius of a2, cannot be 4 here: at most 2 7/64 holds with "
                            "b9, b10, b18 and b19")
    assert finding.ids == ("b13", "a2")
    assert (finding.found, finding.wanted) == (".75 in", "4 in")
    assert "nearer" not in finding.text + finding.mend


def test_the_curve_of_such_a_value_is_in_trouble_as_in_a_clash() -> None:
    report = asked(GUSSET, "b13", "4").report
    assert report.troubled == {"b13"}
    assert report.states["a2"] == "clashing"


def test_a_value_said_twice_with_another_number_has_no_limit() -> None:
    """The level sides are 60 long already, so a second run of 50 can go nowhere."""
    twice = FILLET_MM.having(bindings={
        **FILLET_MM.bindings, "b99": said("run", "p5", "p2", value="60")})
    solution = asked(twice, "b99", "50")
    assert not solution.report.converged
    assert reach_of(solution.part, solution.report) is None


def test_a_rough_sketch_that_has_no_solution_blames_no_value() -> None:
    rough = frame({"p1": (0.0, 0.0), "p2": (1.2, 0.3), "p3": (3.0, 1.0)},
                  [("p1", "p2"), ("p2", "p3"), ("p3", "p1")], said("fixed", "p1"),
                  said("level", "e1"), said("distance", "e1", value="1"),
                  said("distance", "e2", value="2"), said("distance", "e3", value="5"))
    solution = solve_sketch(rough)
    assert not solution.report.converged
    assert missed(solution.part, solution.report) is None
    assert reach_words(solution.part, solution.report) == ""


def test_a_value_that_can_be_had_is_not_unreached() -> None:
    report = asked(FILLET_MM, named(FILLET_MM, "radius", "5"), "39").report
    assert report.converged
    assert report.unreached == ()


def test_of_many_that_stand_against_a_value_the_first_are_named() -> None:
    """A wave of 61 curves over a fixed run: one line gives way until nothing is left of it."""
    wave, exact = strip(61)
    run = said("run", "p0", "p61", value=repr(exact["p61"][0] - exact["p0"][0]))
    rest = {name: b for name, b in wave.bindings.items() if name != "l20"}
    solution = asked(wave.having(bindings={**rest, "all": run}), "r19", "60")
    found = reach_of(solution.part, solution.report)
    assert found is not None
    assert len(found.against) > 20
    assert re.search(r" holds with (\w+, ){3}\w+ and \d+ more$",
                     reach_words(solution.part, solution.report))
