"""Findings of center lines that a person changed; the part itself stays sound."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketcher.cli import main
from sketcher.drafting.center_findings import center_findings
from sketcher.errors import ExportError
from sketcher.inspect.inspection import inspect_part
from sketcher.inspect.release import release_cut, release_sheet
from sketcher.part import store
from sketcher.part.value import CircleCurve, Drawing, LineCurve, Part, frozen
from sketcher.shipped import shipped
from sketcher.solve import solve


def plate(*holes, points=(), curves=(), **lines) -> Part:
    """A plate of 200 by 80 with holes (x, y, radius), and rules by line."""
    at = {"p1": (0.0, 0.0), "p2": (200.0, 0.0), "p3": (200.0, 80.0), "p4": (0.0, 80.0)}
    drawn: dict = {f"e{k}": LineCurve((f"p{k}", f"p{k % 4 + 1}")) for k in range(1, 5)}
    for k, (x, y, r) in enumerate(holes, 1):
        at[f"k{k}"] = (x, y)
        drawn[f"h{k}"] = CircleCurve(f"k{k}", r)
    rules = {name.replace("_", "/"): frozen(entry) for name, entry in lines.items()}
    return Part(points=frozen(at | dict(points)), curves=frozen(drawn | dict(curves)),
                drawing=Drawing(sheet="A3", scale="1:1", centers=frozen(rules)))


AXIS = {"points": {"m1": (60.0, 0.0), "m2": (60.0, 80.0)},
        "curves": {"ax": LineCurve(("m1", "m2"), "axis")}}


@pytest.mark.parametrize("part", [
    plate((30, 40, 5)),
    plate((30, 40, 5), h1_level={"end": "outline"}, h1_plumb={"off": True}),
    plate((30, 40, 5), (90, 40, 5), h1_level={"end": "to h2"}),
    plate((30, 40, 5), h1_level={"end": "center"}),
    plate((30, 40, 5), **AXIS, h1_level={"end": "axis ax"}),
    plate((30, 40, 5), h1_level={"end": 4.0}),
], ids=["as it is", "outline", "to a hole", "center", "axis", "longer"])
def test_what_stands_as_its_rule_says_has_no_finding(part: Part) -> None:
    assert center_findings(part) == ()


@pytest.mark.parametrize(("part", "said", "at"), [
    (plate((30, 40, 5), h9_level={"off": True}), "is gone", None),
    (plate((30, 40, 5), h1_level={"end": "to h9"}), "past h9, which is not on it", (38, 40)),
    (plate((30, 40, 5), (90, 41, 5), h1_level={"end": "to h2"}), "not on it", (38, 40)),
    (plate((30, 40, 5), h1_level={"end": "axis ax"}), "does not meet", (38, 40)),
    (plate((30, 40, 5), h1_level={"end": -4.0}), "inside the outline", (34, 40)),
    (plate((58, 40, 5), **AXIS, h1_level={"end": "axis ax"}), "inside the outline", (63, 40)),
    (plate((30, 40, 5), (90, 40.2, 5), h1_level={"end": 60.0}), "lies on it", (22, 40)),
    (plate((30, 40, 5), points={"q1": (60.0, 40.0), "q2": (90.0, 40.0), "q3": (75.0, 60.0)},
           curves={"i1": LineCurve(("q1", "q2")), "i2": LineCurve(("q2", "q3")),
                   "i3": LineCurve(("q3", "q1"))}, h1_level={"end": "outline"}),
     "an edge of the part", (75, 40)),
], ids=["line gone", "hole gone", "hole moved off", "axis gone", "short", "axis inside", "doubled",
        "covered"])
def test_a_line_that_does_not_has_one_that_says_where(part: Part, said: str, at) -> None:
    (found,) = center_findings(part)
    assert found.code == "center-line"
    assert said in found.text
    assert found.at == (None if at is None else pytest.approx(at))


def test_a_finding_of_a_center_line_keeps_the_sheet_back_and_not_the_cut() -> None:
    solution = solve(store.load(shipped("demo_parts", "gate-strap.profile.json")))
    part = solution.part.having(drawing=replace(
        solution.part.drawing, centers=frozen({"h9/level": frozen({"off": True})})))
    inspection = inspect_part(part, solution.report)
    release_cut(inspection)
    with pytest.raises(ExportError, match="--despite center-line"):
        release_sheet(inspection, (), center_findings(part))
    release_sheet(inspection, ("center-line",), center_findings(part))


def test_the_command_says_it_and_exports_when_it_is_named(tmp_path, capsys) -> None:
    part = store.load(shipped("demo_parts", "shift-arm.profile.json"))
    store.save(part.having(drawing=replace(
        part.drawing, centers=frozen({"h9/level": frozen({"off": True})}))), tmp_path / "a.json")
    asked = ["export", str(tmp_path / "a.json"), "--sheet", str(tmp_path / "a.svg")]
    assert main(asked) == 1
    assert "center-line: level center line of h9" in " ".join(capsys.readouterr().err.split())
    assert not (tmp_path / "a.svg").exists()
    assert main([*asked, "--despite", "center-line"]) == 0
    assert "NOT TO BE MADE" not in (tmp_path / "a.svg").read_text()
