"""The inspection as a value, as JSON and as text."""

from __future__ import annotations

import csv
import io
import json
import re
from html import unescape
from html.parser import HTMLParser

import pytest

from sketcher.inspect.export import as_csv, as_html, sheets
from sketcher.inspect.findings import CODES, Finding
from sketcher.inspect.inspection import Inspection
from sketcher.part.edits.scribe_slope import scribe_slope
from sketcher.part.edits.scribe_touching import scribe_touching
from sketcher.part.value import Binding, frozen
from sketcher.solve.solve_report import LoosePoint
from tests.inspected import inspected
from tests.plates import codes, looked_at, plate, rectangle
from tests.specimens import frame, said


def sample(**report: object) -> Inspection:
    """Half plate with a hole, a reference, a touch and an axis."""
    points = {"p1": (0.0, 0.0), "p2": (20.0, 0.0), "p3": (20.0, 10.0), "p4": (0.0, 14.0),
              "c": (10.0, 5.0), "x1": (0.0, -5.0), "x2": (0.0, 25.0), "s1": (5.0, 7.0),
              "s2": (15.0, 7.0)}
    curves = {"e1": ("p1", "p2"), "e2": ("p2", "p3"), "e3": ("p3", "p4"), "h": ("c", 2.0),
              "ax": ("x1", "x2"), "s": ("s1", "s2")}
    bindings = (
        Binding("run", ("p1", "p2"), "20", tolerance=(0.1, -0.1)), Binding("level", ("e1",)),
        Binding("diameter", ("h",), "4", drives=False), Binding("tangent", ("s", "h")),
    )
    part = plate(points, curves, *bindings, axis="ax", roles={"ax": "axis", "s": "layout"},
                 name="Sample")
    return looked_at(part, **report)


KEYS = {
    "name", "unit", "sound", "state", "freedoms", "loose", "doubled", "clashes", "dimensions",
    "joints", "touches", "profile", "symmetry", "cutting", "findings", "points", "radii",
    "doubtful", "unadvised", "remarks", "cut_findings", "format", "version",
}


def test_json_has_the_agreed_form() -> None:
    told = json.loads(json.dumps(sample().as_dict(), allow_nan=False))
    assert set(told) == KEYS
    assert (told["name"], told["unit"], told["state"], told["freedoms"]) == (
        "Sample", "mm", "bound", 0)
    assert told["dimensions"][0] == {
        "id": "b1", "kind": "run", "of": ["p1", "p2"], "wanted": 20.0, "actual": 20.0,
        "residual": 0.0, "drives": True, "limits": [19.9, 20.1], "within": True}
    assert {"at", "between", "state", "gap", "angle_deg", "residual"} <= set(told["joints"][0])
    assert set(told["touches"][0]) >= {"between", "at", "residual", "angle_deg"}
    assert set(told["profile"]) == {
        "closed", "loops", "area", "perimeter", "centroid", "second_moments", "bounds", "mass",
        "strays", "overlaps", "crossings", "more"}
    assert set(told["profile"]["loops"][0]) == {
        "curves", "hole", "detached", "area", "perimeter"}
    assert set(told["profile"]["second_moments"]) == {"Ix", "Iy", "Ixy"}
    assert set(told["symmetry"]) >= {"axis", "on_axis", "joints", "off_axis_deg"}
    assert set(told["cutting"][0]) >= {"rule", "where", "found", "wanted"}
    assert told["points"]["p2"] == [20.0, 0.0]
    assert told["radii"] == {"h": 2.0}


def test_touch_is_measured() -> None:
    touch = sample().touches[0]
    assert (touch.between, touch.at) == (("s", "h"), (10.0, 7.0))
    assert touch.residual == pytest.approx(0.0, abs=1e-12)


def test_a_touch_that_misses_is_a_finding() -> None:
    part = sample().part
    away = looked_at(part.having(points={**part.points, "s1": (5.0, 7.5), "s2": (15.0, 7.5)}))
    assert codes(away) == ["off-tangent"]
    assert away.touches[0].residual == pytest.approx(0.5)


def test_what_the_solver_says_is_passed_on() -> None:
    inspection = sample(
        freedoms=1, loose=(LoosePoint("c", ((1.0, 0.0),)),), doubled=("b2",), iterations=3,
    )
    told = inspection.as_dict()
    assert (told["state"], told["freedoms"], told["doubled"]) == ("loose", 1, ["b2"])
    assert told["loose"] == [{"point": "c", "directions": [[1.0, 0.0]]}]
    assert codes(inspection) == ["loose"]
    (finding,) = inspection.findings
    assert finding.ids == ("c",)
    assert "c" in re.findall(r"\w+", finding.text)


def test_doubled_bindings_that_agree_are_no_finding() -> None:
    inspection = sample(doubled=("b2",))
    assert inspection.sound
    assert inspection.verdict != sample().verdict  # and both are told side by side
    assert inspection.verdict.startswith(sample().verdict)


def test_clash() -> None:
    inspection = sample(converged=False, clashes=(("b1", "b2"),))
    assert codes(inspection) == ["clash"]
    assert inspection.as_dict()["state"] == "clashing"
    assert inspection.findings[0].ids == ("b1", "b2")
    assert inspection.findings[0].text in inspection.as_text()


def test_not_solved_without_a_named_clash() -> None:
    assert codes(sample(converged=False)) == ["unsolved"]


def test_without_a_report_the_part_is_solved_first() -> None:
    points, lines = rectangle(40.0, 20.0)
    points["p2"] = (43.0, 1.0)
    part = plate(
        points, lines, Binding("fixed", ("p1",)), Binding("level", ("pe1",)),
        Binding("level", ("pe3",)), Binding("plumb", ("pe2",)), Binding("plumb", ("pe4",)),
        Binding("run", ("p1", "p2"), "40"), Binding("rise", ("p1", "p4"), "20"),
    )
    inspection = inspected(part)
    assert inspection.sound
    assert inspection.part.points["p2"] == pytest.approx((40.0, 0.0), abs=1e-9)


def test_verdict() -> None:
    assert sample().verdict == "Sound"
    assert sample(converged=False).verdict == "1 finding"


def test_text_names_everything() -> None:
    text = sample().as_text()
    for words in ("Sample: sound", "b1", "reference", "e1 e2", "corner", "Touches", "centroid",
                  "Symmetry about ax: plumb", "smooth", "Cutting advice"):
        assert words in text


def test_text_is_in_the_parts_unit() -> None:
    points, lines = rectangle(1.5, 0.75)
    part = plate(points, lines, Binding("run", ("p1", "p2"), "1 1/2"), unit="in", thickness=0.125)
    text = looked_at(part).as_text()
    assert "Dimensions (in, degrees)" in text
    assert "1.5 x .75 in" in text
    assert " mm" not in text.split("Cutting advice")[0]


def test_loose_points_far_more_than_fit_a_line() -> None:
    loose = tuple(LoosePoint(f"p{k}", ((1.0, 0.0), (0.0, 1.0))) for k in range(1, 5))
    many = loose * 5
    text = sample(freedoms=40, loose=many).findings[0].text
    assert "19 more" in text


def test_a_code_must_be_known() -> None:
    with pytest.raises(KeyError):
        Finding("nonsense", "", "", "", (), None, "")



def test_csv_reads_back_in_full_precision() -> None:
    inspection = sample()
    rows = list(csv.reader(io.StringIO(as_csv(inspection))))
    dimension = next(row for row in rows if row and row[0] == "b1")
    assert float(dimension[4]) == inspection.dimensions[0].actual
    centroid = next(row for row in rows if row and row[0] == "centroid y")
    assert inspection.profile.moments is not None
    assert float(centroid[1]) == inspection.profile.moments.centroid[1]


def test_csv_starts_no_formula() -> None:
    part = sample().part.having(name='=HYPERLINK("x")')
    first = next(csv.reader(io.StringIO(as_csv(looked_at(part)))))
    assert first[0].startswith("'=")


class Tables(HTMLParser):
    """Counts tables, rows and open elements."""

    def __init__(self) -> None:
        super().__init__()
        self.counts: dict[str, int] = {}
        self.open: list[str] = []

    def handle_starttag(self, tag: str, attrs: object) -> None:
        self.counts[tag] = self.counts.get(tag, 0) + 1
        if tag != "meta":
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def test_html_is_whole_and_escapes() -> None:
    inspection = looked_at(sample().part.having(name="<b>Sample & Co</b>"))
    reader = Tables()
    text = as_html(inspection)
    reader.feed(text)
    assert reader.open == []
    assert reader.counts["table"] == len(sheets(inspection))
    assert "&lt;b&gt;Sample &amp; Co&lt;/b&gt;" in text
    assert "<b>" not in text


def test_frozen_mappings_do_not_leak_into_json() -> None:
    part = sample().part.having(parameters=frozen({"wall": "8"}))
    json.dumps(looked_at(part).as_dict())


def test_layout_alone_is_measured_by_its_own_size() -> None:
    # 30 degrees of a line that ends at a run comes back with a rounding of 7e-15 degrees.
    part = frame({"p1": (0.0, 0.0)}, (), said("fixed", "p1"))
    part = scribe_slope(part, "p1", "30", (9.0, 5.0), extent=("run", "24")).part
    part = scribe_slope(part, "p1", "77", (2.0, 9.0), extent=("length", "31")).part
    part = scribe_touching(part, ("s1", "s2"), (12.0, 20.0), "7").part
    assert [each.code for each in inspected(part).findings] == ["empty"]


def test_what_a_finding_means_is_in_the_printed_reports() -> None:
    inspection = sample(freedoms=1, converged=False, clashes=(("b1", "b2"),))
    found = {finding.code for finding in inspection.findings}
    assert found == {"clash", "loose"}
    paper, screen = unescape(as_html(inspection)), " ".join(inspection.as_text().split())
    for code in found:
        for words in (CODES[code].why, CODES[code].mend):
            assert words in paper
            assert words in screen
    for code in set(CODES) - found:
        assert CODES[code].why not in paper
