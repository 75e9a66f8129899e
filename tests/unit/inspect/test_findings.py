"""Every finding tells its place, what is there and what should be, and names only what there is."""

from __future__ import annotations

import re
from typing import Any, get_args

import pytest

from sketcher.inspect.findings import CODES, Finding
from sketcher.inspect.inspection import Inspection
from sketcher.inspect.joint_value import JOINT_STATES, JointState
from sketcher.part.value import Binding, Part
from sketcher.solve.solve_report import LoosePoint
from tests.plates import codes, looked_at, plate, rectangle
from tests.refusals import is_line

Told = list[tuple[str, tuple[str, ...], Any]]


def told(inspection: Inspection) -> Told:
    """Code, ids and place of every finding."""
    for finding in inspection.findings:
        assert_told_well(inspection.part, finding)
    return [(f.code, f.ids, f.at and pytest.approx(f.at)) for f in inspection.findings]


def assert_told_well(part: Part, finding: Finding) -> None:
    """All words are there, and every id is one of the part's or the image of one."""
    assert finding.code in CODES
    for words in (finding.where, finding.found, finding.wanted, finding.text):
        assert is_line(words)
        assert "None" not in words
    assert isinstance(finding.ids, tuple)
    known = {*part.points, *part.curves, *part.bindings}
    assert {re.sub(r"#\d+|'+$", "", name) for name in finding.ids} <= known
    for name in finding.ids:
        assert name in re.findall(r"[\w'#]+", finding.where + " " + finding.text)


def box(**more: Any) -> Part:
    """A plate of 40 by 20 with sides pe1 to pe4 and what else is given by name."""
    points, curves = rectangle(40.0, 20.0)
    points |= more.pop("points", {})
    curves |= more.pop("curves", {})
    for name in more.pop("without", ()):
        del curves[name]
    return plate(points, curves, *more.pop("bindings", ()), **more)


def test_what_the_solver_could_not_do() -> None:
    part = box(bindings=(Binding("level", ("pe1",)), Binding("run", ("p1", "p2"), "40")))
    assert told(looked_at(part, converged=False, clashes=(("b1", "b2"),))) == [
        ("clash", ("b1", "b2"), None)]
    assert told(looked_at(part, converged=False)) == [("unsolved", (), None)]
    assert told(looked_at(Part())) == [("empty", (), None)]


def test_what_can_still_move_is_shown_where_it_is() -> None:
    part = box(points={"h": (12.0, 9.0)}, curves={"hole": ("h", 3.0)})
    one = LoosePoint("p3", ((1.0, 0.0),))
    assert told(looked_at(part, freedoms=1, loose=(one,))) == [("loose", ("p3",), (40.0, 20.0))]
    hole = LoosePoint("hole", ())  # a radius; the place is the center
    assert told(looked_at(part, freedoms=1, loose=(hole,))) == [("loose", ("hole",), (12.0, 9.0))]
    (nothing,) = looked_at(part, freedoms=1).findings
    assert (nothing.code, nothing.ids, nothing.at) == ("loose", (), None)
    assert is_line(nothing.where)


@pytest.mark.parametrize("count", [1, 2, 5, 6, 7, 20])
def test_many_loose_points_are_counted(count: int) -> None:
    points = {f"q{k}": (float(k), 50.0) for k in range(count)}
    loose = tuple(LoosePoint(name, ((1.0, 0.0), (0.0, 1.0))) for name in points)
    (found,) = looked_at(box(points=points), freedoms=2 * count, loose=loose).findings
    assert found.ids == tuple(points)
    named = set(re.findall(r"\bq\d+\b", found.text))
    rest = [int(n) for n in re.findall(r"\b(\d+) more\b", found.text)]
    assert len(named) + sum(rest) == count
    assert len(named) <= 3
    assert len(found.text) <= 45  # a line of the narrow pane
    assert re.findall(r"\d+", found.found) == [str(2 * count)]


def test_dimensions_that_are_off() -> None:
    bindings = (
        Binding("run", ("p1", "p2"), "41"), Binding("diameter", ("hole",), "6.5", drives=False),
        Binding("rise", ("p2", "p3"), "20.4", tolerance=(0.1, -0.1)),
        Binding("distance", ("pe3",), "40.05", tolerance=(0.2, 0.1)),
        Binding("radius", ("hole",), "3"), Binding("distance", ("pe3",), "40", drives=False),
    )
    part = box(points={"h": (12.0, 9.0)}, curves={"hole": ("h", 3.0)}, bindings=bindings)
    inspection = looked_at(part)
    assert told(inspection) == [
        ("off-dimension", ("b1", "p1", "p2"), (20.0, 0.0)),
        ("reference-differs", ("b2", "hole"), (12.0, 9.0)),
        ("off-dimension", ("b3", "p2", "p3"), (40.0, 10.0)),
        ("off-dimension", ("b4", "pe3"), (20.0, 20.0)),
    ]
    numbers = [re.findall(r"-?[\d.]+", f"{f.found} | {f.wanted}") for f in inspection.findings]
    assert numbers == [["40", "41"], ["6", "6.5"], ["20", "20.4"], ["40", "40.05"]]
    for finding, both in zip(inspection.findings, numbers, strict=True):
        assert finding.text.endswith(
            f" {both[0]} instead of {both[1]} mm" if finding.code == "off-dimension" else
            f" as {both[1]} mm, but is {both[0]} mm")


def test_a_value_that_holds_may_be_outside_its_limits() -> None:
    part = box(bindings=(Binding("run", ("p1", "p2"), "40", tolerance=(0.3, 0.1)),))
    inspection = looked_at(part)
    assert told(inspection) == [("off-limits", ("b1", "p1", "p2"), (20.0, 0.0))]
    assert re.findall(r"[\d.]+", inspection.findings[0].wanted) == ["40.1", "40.3"]


def test_bindings_and_tangencies_that_do_not_hold() -> None:
    part = box(
        points={"q": (60.0, 0.5), "s1": (5.0, 14.0), "s2": (25.0, 14.0), "h": (12.0, 9.0)},
        curves={"s": ("s1", "s2"), "hole": ("h", 3.0)}, roles={"s": "layout"},
        bindings=(Binding("level", ("p1", "q")), Binding("tangent", ("s", "hole"))))
    inspection = looked_at(part)
    assert told(inspection) == [
        ("off-binding", ("b1", "p1", "q"), (30.0, 0.25)),
        ("off-tangent", ("b2", "s", "hole"), (12.0, 13.0)),
    ]
    assert [re.findall(r"[\d.]+", f.found) for f in inspection.findings] == [["0.5"], ["2"]]


def test_ends_that_miss_each_other() -> None:
    gap = box(points={"p5": (0.0, 19.7)}, curves={"pe4": ("p5", "p1")})
    # Closing the gap closes the contour: its four edges are no findings of their own.
    assert told(looked_at(gap)) == [("gap", ("pe3", "pe4"), (0.0, 19.85))]
    assert re.findall(r"[\d.]+", looked_at(gap).findings[0].found) == ["0.3"]
    past = box(points={"p5": (0.0, 20.4), "p6": (-0.3, 20.0)},
               curves={"pe3": ("p3", "p6"), "pe4": ("p5", "p1")})
    found = looked_at(past).findings[0]
    assert (found.code, set(found.ids), found.at) == ("overrun", {"pe3", "pe4"}, (0.0, 20.0))
    assert "open" not in codes(looked_at(past))


def test_an_end_in_the_open_and_what_belongs_to_no_contour() -> None:
    # The outline lies on both sides of the line through its ends, so it is no half either.
    inspection = looked_at(box(points={"t": (60.0, 60.0)}, without=["pe3"],
                               curves={"tail": ("p4", "t")}))
    assert told(inspection)[:2] == [
        ("open", ("pe2",), (40.0, 20.0)), ("open", ("tail",), (60.0, 60.0))]
    assert set(codes(inspection)) == {"open", "stray"}
    lone = looked_at(box(points={"a": (5.0, 5.0), "b": (15.0, 5.0)}, curves={"rib": ("a", "b")}))
    assert told(lone) == [("stray", ("rib",), (10.0, 5.0))]  # and neither end once more


def test_contours_that_touch_cross_or_cover_each_other() -> None:
    points, curves = rectangle(40.0, 20.0, (20.0, 10.0), "q")
    crossing = looked_at(box(points=points, curves=curves))
    found = {(ids, tuple(at.expected)) for code, ids, at in told(crossing) if code == "crossing"}
    assert found == {(("pe2", "qe1"), (40.0, 10.0)), (("pe3", "qe4"), (20.0, 20.0))}
    points, curves = rectangle(40.0, 20.0, (40.0, 20.0), "q")
    corner = looked_at(box(points=points, curves=curves))
    assert [(code, at) for code, _, at in told(corner) if code == "crossing"] == [
        ("crossing", (40.0, 20.0))]
    (touch,) = (f for f in corner.findings if f.code == "crossing")
    assert set(touch.ids) == {"pe2", "pe3", "qe1", "qe4"}
    assert re.findall(r"^\d+", touch.found) == ["4"]
    twice = looked_at(box(curves={"copy": ("p4", "p3")}))
    assert ("overlap", ("pe3", "copy"), (20.0, 20.0)) in told(twice)


def test_a_curve_on_both_sides_of_its_axis() -> None:
    part = plate({"a": (-5.0, 3.0), "b": (9.0, 3.0), "x1": (0.0, -9.0), "x2": (0.0, 9.0),
                  "c": (20.0, 0.0)},
                 {"e1": ("a", "b"), "h": ("c", 4.0), "ax": ("x1", "x2")}, axis="ax",
                 roles={"ax": "axis"})
    assert ("axis-crossing", ("e1", "ax"), None) in told(looked_at(part))


def test_an_edge_that_folds_back_or_nearly_runs_on() -> None:
    fold = looked_at(plate(
        {"a": (0.0, 0.0), "b": (40.0, 0.0), "c": (10.0, 0.0001), "d": (10.0, 20.0)},
        {"e1": ("a", "b"), "e2": ("b", "c"), "e3": ("c", "d"), "e4": ("d", "a")}))
    assert ("fold", ("e1", "e2"), (40.0, 0.0)) in told(fold)
    near = looked_at(plate(
        {"a": (0.0, 0.0), "b": (20.0, 0.2), "c": (40.0, 0.0), "d": (40.0, 20.0), "e": (0.0, 20.0)},
        {"e1": ("a", "b"), "e2": ("b", "c"), "e3": ("c", "d"), "e4": ("d", "e"),
         "e5": ("e", "a")}))
    assert told(near) == [("near-tangent", ("e1", "e2"), (20.0, 0.2))]
    (found,) = near.findings
    assert found.text.endswith("bind them in line")  # there is no tangency between two lines


def test_what_counts_as_nothing_is_measured_on_the_outline_alone() -> None:
    far = box(points={"x1": (20.0, -9e6), "x2": (20.0, 9e6)}, curves={"ax": ("x1", "x2")},
              roles={"ax": "axis"})
    assert looked_at(far).tol == pytest.approx(looked_at(box()).tol)
    assert looked_at(far).sound


def sentences(text: str) -> bool:
    """Whether a text is one line of whole sentences."""
    return is_line(text) and text[0].isupper() and text.endswith(".")


def test_every_code_says_why_it_matters_and_what_mends_it() -> None:
    meanings = list(CODES.values())
    for meaning in meanings:
        assert is_line(meaning.text)
        assert sentences(meaning.why)
        assert sentences(meaning.mend)
    for told_of in ("text", "why", "mend"):
        assert len({getattr(m, told_of) for m in meanings}) == len(CODES)


def test_every_state_of_a_joint_says_why_it_matters_and_what_mends_it() -> None:
    assert set(JOINT_STATES) == set(get_args(JointState))
    assert all(sentences(why) and sentences(mend) for why, mend in JOINT_STATES.values())


def test_a_wrong_dimension_is_named_with_what_it_measures() -> None:
    part = box(bindings=(Binding("run", ("p1", "p2"), "41"),
                         Binding("run", ("p4", "p3"), "39", drives=False)))
    texts = {f.ids[0]: f.text for f in looked_at(part).findings if f.ids[0] in ("b1", "b2")}
    assert texts["b1"].startswith("b1, the run of p1 and p2, is 40 instead of 41 mm")
    assert texts["b2"].startswith("b2, the run of p4 and p3, is printed as 39 mm, but is 40 mm")
