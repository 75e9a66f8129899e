"""Text, CSV and HTML tell what the JSON tells: every form is read back and held against it.

The JSON's keys are those of the table in the guide for contributors; numbers are printed anew here
with Python's own formatting.
"""

from __future__ import annotations

import csv
import io
import re
from decimal import Decimal
from html.parser import HTMLParser
from itertools import pairwise
from typing import Any

import pytest

from sketcher.inspect.export import as_csv, as_html
from sketcher.inspect.findings import CODES
from sketcher.inspect.inspection import Inspection
from sketcher.inspect.words import without_rounding
from sketcher.part.store import load
from sketcher.part.value import Binding, Material, Mirror
from sketcher.shipped import shipped
from sketcher.solve.solve_report import LoosePoint
from tests.inspected import inspected
from tests.plates import looked_at, plate, rectangle

INCH = 1.0 / 16.0


def sample(unit: str) -> Inspection:
    """Half a plate with everything in it that the forms tell of, 32 mm or 2 in wide.

    A tangent joint and corners, a gap, a touch that is off, a dimension out of its limits, angles,
    a reference, a slot nearly too narrow, circles on and off the axis, a loose point and a
    binding said twice.
    """
    k = 1.0 if unit == "mm" else INCH
    points = {
        "p1": (0.0, 0.0), "p2": (28.0, 0.0), "c": (28.0, 4.0), "p3": (32.0, 4.0),
        "p4": (32.0, 20.0), "p5": (32.0, 20.5), "p6": (0.0, 26.123456), "h": (20.0, 10.0),
        "g": (0.0, 15.0), "m": (29.0, 12.0), "x1": (0.0, -5.0), "x2": (0.0, 40.0),
        "s1": (5.0, 13.5), "s2": (28.0, 13.5), "d": (-20.0, 10.0),
    }
    points = {name: (x * k, y * k) for name, (x, y) in points.items()}
    curves = {
        "e1": ("p1", "p2"), "a1": ("p2", "p3", "c", "ccw"), "e2": ("p3", "p4"),
        "e3": ("p5", "p6"), "h1": ("h", 3.0 * k), "h2": ("g", 2.0 * k), "h3": ("m", 0.25 * k),
        "h4": ("d", 1.0 * k), "ax": ("x1", "x2"), "s": ("s1", "s2"),
    }
    bindings = (
        Binding("run", ("p1", "p2"), repr(28.0 * k), tolerance=(0.1 * k, -0.1 * k)),
        Binding("level", ("e1",)), Binding("diameter", ("h1",), repr(6.0 * k), drives=False),
        Binding("tangent", ("s", "h1")), Binding("tangent", ("e1", "a1")),
        Binding("rise", ("p3", "p4"), repr(15.0 * k), tolerance=(0.1 * k, 0.0)),
        Binding("angle", ("e1", "e3"), "12", tolerance=(30.0, -30.0)),
    )
    part = plate(points, curves, *bindings, roles={"ax": "axis", "s": "layout"}, unit=unit,
                 name="Sample", thickness=2.0 * k)
    part = part.having(mirrors=(Mirror("ax", ("e1", "a1", "e2", "e3", "h1", "h2", "h3")),))
    return looked_at(part, freedoms=2, doubled=("b2", "b5"), loose=(
        LoosePoint("c", ((1.0, 0.0), (0.0, 1.0))), LoosePoint("h", ((0.8, 0.6),)),
        LoosePoint("h1", ())))


UNITS = pytest.mark.parametrize("unit", ["mm", "in"])


# The JSON: keys as the guide lists them.


@UNITS
def test_json_entries_have_the_keys_of_the_guide(unit: str) -> None:
    told: Any = sample(unit).as_dict()
    listed = {
        "dimensions": "id kind of wanted actual residual drives limits within",
        "joints": "at between state gap angle_deg residual bound",
        "touches": "id between at residual angle_deg",
        "cutting": "rule process where found wanted most ids at why",
        "findings": "code where found wanted ids at text",
        "loose": "point directions",
    }
    for name, keys in listed.items():
        assert told[name], name
        for entry in told[name]:
            assert set(entry) == set(keys.split()), name
    assert set(told["symmetry"]) == {
        "axis", "angle_deg", "off_axis_deg", "nearer", "on_axis", "crossing", "one_sided",
        "joints", "others"}
    assert set(told["symmetry"]["joints"][0]) == {"at", "between", "state", "angle_deg"}
    assert (told["freedoms"], told["doubled"]) == (2, ["b2", "b5"])
    steel = plate(*rectangle(40.0, 20.0), Binding("level", ("pe1",)), unit=unit)
    zinc: Any = looked_at(steel.having(material=Material("galvanized steel", 1.0))).as_dict()
    assert zinc["remarks"]
    assert all(set(entry) == {"rule", "processes", "text"} for entry in zinc["remarks"])
    advice = sample(unit).cutting
    assert [entry["most"] for entry in told["cutting"]] == [a.most for a in advice]
    assert [entry["ids"] for entry in told["cutting"]] == [list(a.ids) for a in advice]
    assert [entry["at"] for entry in told["cutting"]] == [a.at and list(a.at) for a in advice]
    assert any(a.at for a in advice)


# The text.


def length(value: float, unit: str) -> str:
    """At most four decimals; inches without a leading zero; what would vanish as a power of ten."""
    if value and abs(value) < 0.5e-4:
        return f"{value:.1e}"
    text = f"{Decimal(repr(value)):.4f}".rstrip("0").rstrip(".")
    text = "0" if text == "-0" else text
    return re.sub(r"^(-?)0\.", r"\1.", text) if unit == "in" else text


def angle(value: float) -> str:
    return length(value, "mm") + "°"


def spot(at: list[float], unit: str) -> str:
    return f"({', '.join(length(round(c, 4), unit) for c in at)})"


def sections(text: str) -> dict[str, list[str]]:
    """The blocks of the text by their first word."""
    return {block.split()[0].rstrip(":"): block.splitlines() for block in text.split("\n\n")}


def cells(line: str) -> list[str]:
    return re.split(r" {2,}", line.strip())


def assert_columns(lines: list[str], right: str) -> None:
    """The cells of a table stand under their heads, numbers flush at the right."""
    heads = list(re.finditer(r"\S+(?: \S+)*", lines[0]))
    for line in lines[1:]:
        found = list(re.finditer(r"\S+(?: \S+)*", line))
        for letter, head, cell in zip("abcdef", heads, found, strict=False):
            flush = cell.end() == head.end() if letter in right else cell.start() == head.start()
            assert flush, line


TEXT_HEADS = {
    "To": "finding where what", "Dimensions": "id kind of wanted actual residual limits",
    "Joints": "between at state gap angle residual", "Touches": "id between at residual angle",
    "Profile": "contour area perimeter curves", "Cutting": "rule process found wanted where",
}


@UNITS
def test_tables_of_the_text_have_their_heads(unit: str) -> None:
    text = sections(sample(unit).as_text())
    text["Profile"] = sections(whole_plate(unit).as_text())["Profile"]
    for name, heads in TEXT_HEADS.items():
        assert cells(text[name][1]) == heads.split(), name


@UNITS
def test_the_text_says_what_the_json_says(unit: str) -> None:
    inspection = sample(unit)
    told: Any = inspection.as_dict()
    text = sections(inspection.as_text())

    head = text["Sample"]
    assert head[0] == f"Sample: {inspection.verdict.lower()}"
    assert cells(head[2])[0].split()[0] == "2"
    assert [line.split()[0] for line in head[3:6]] == ["c", "h", "h1"]
    assert "36.87°" in head[4]  # a right triangle of 3, 4 and 5
    assert re.findall(r"\bb\d\b", head[6]) == ["b2", "b5"]

    mend = text["To"][2:]
    assert [cells(line)[0] for line in mend] == [entry["code"] for entry in told["findings"]]

    rows = text["Dimensions"][2:]
    for line, entry in zip(rows, told["dimensions"], strict=True):
        shown = angle if entry["kind"] == "angle" else lambda value: length(value, unit)
        low_high = entry["limits"] and f"{shown(entry['limits'][0])} to {shown(entry['limits'][1])}"
        assert cells(line) == list(filter(None, [
            entry["id"], entry["kind"], " ".join(entry["of"]), shown(entry["wanted"]),
            shown(entry["actual"]), f"{entry['residual']:.1e}", low_high,
            "" if entry["drives"] else "reference", "ok" if entry["within"] else "OUT"]))
    assert {cells(line)[-1] for line in rows} == {"ok", "OUT"}
    assert_columns(text["Dimensions"][1:2] + [r for r in rows if "reference" not in r], "def")

    for line, entry in zip(text["Joints"][2:], told["joints"], strict=True):
        state = f"{entry['state']} (bound)" if entry["bound"] else entry["state"]
        off = [] if entry["residual"] is None else [f"{entry['residual']:.1e}"]
        assert cells(line) == [" ".join(entry["between"]), spot(entry["at"], unit), state,
                               f"{entry['gap']:.1e}", angle(entry["angle_deg"]), *off]
    assert any("(bound)" in line for line in text["Joints"])
    for line, entry in zip(text["Touches"][2:], told["touches"], strict=True):
        assert cells(line) == [entry["id"], " ".join(entry["between"]), spot(entry["at"], unit),
                               f"{entry['residual']:.1e}", angle(entry["angle_deg"])]


@UNITS
@pytest.mark.parametrize("closed", [True, False])
def test_the_text_says_the_plate_as_the_json_says_it(unit: str, closed: bool) -> None:
    inspection = whole_plate(unit) if closed else sample(unit)
    told: Any = inspection.as_dict()["profile"]
    block = sections(inspection.as_text())["Profile"]
    assert told["closed"] is closed
    assert ("NOT" in block[0]) is not closed
    rows = block[2:2 + len(told["loops"])]
    for line, loop in zip(rows, told["loops"], strict=True):
        count = len(loop["curves"])
        assert cells(line)[1:4] == [f"{count} curve{'s' if count > 1 else ''}",
                                    length(loop["area"], unit), length(loop["perimeter"], unit)]
        names = " ".join(loop["curves"][:8]) + (" ..." if count > 8 else "")
        assert cells(line)[4] == names
    if not closed:
        return
    rest = "\n".join(block[2 + len(told["loops"]):])
    x0, y0, x1, y1 = told["bounds"]
    for value in (told["area"], told["perimeter"], x1 - x0, y1 - y0):
        assert length(value, unit) in re.findall(r"-?[\d.]+", rest)
    assert spot(told["centroid"], unit) in rest
    moments = told["second_moments"]
    found = [float(n) for n in re.findall(r"I[xy]+ (-?[\d.e+-]+)", rest)]
    assert found == pytest.approx([moments["Ix"], moments["Iy"], moments["Ixy"]], rel=1e-7)
    assert f"{told['mass']:.4g} kg" in rest


def test_what_rounding_leaves_of_zero_is_read_as_zero_and_stays_in_the_json() -> None:
    strap = inspected(load(shipped("demo_parts", "gate-strap.profile.json")))
    told: Any = strap.as_dict()["profile"]
    assert 0.0 < abs(told["centroid"][0]) < 1e-12
    assert 0.0 < abs(told["second_moments"]["Ixy"]) < 1e-6
    rest = "\n".join(sections(strap.as_text())["Profile"])
    assert "centroid (0, 47.4658)" in rest
    assert "Ixy 0 mm" in rest
    assert without_rounding(-1e-10, 1.0) == 0.0
    assert without_rounding(-1e-8, 1.0) == -1e-8


def whole_plate(unit: str) -> Inspection:
    """A plate of ten curves with a hole, not symmetric, so that no moment is zero."""
    k = 1.0 if unit == "mm" else INCH
    corners = [(0, 0), (40, 0), (40, 10), (30, 10), (30, 15), (22, 15), (22, 20), (11, 20),
               (11, 28), (0, 28)]
    points = {f"p{n}": (x * k, y * k) for n, (x, y) in enumerate(corners)}
    curves: dict[str, Any] = {f"e{n}": (f"p{n}", f"p{(n + 1) % 10}") for n in range(10)}
    points["h"] = (8.0 * k, 8.0 * k)
    curves["h1"] = ("h", 3.0 * k)
    return looked_at(plate(points, curves, unit=unit, name="Plate", thickness=2.0 * k))


@UNITS
def test_the_text_says_the_symmetry_as_the_json_says_it(unit: str) -> None:
    inspection = sample(unit)
    told: Any = inspection.as_dict()["symmetry"]
    block = sections(inspection.as_text())["Symmetry"]
    assert block[0].split()[2:] == [f"{told['axis']}:", told["nearer"]]
    lists = {"own": told["on_axis"], "side": told["one_sided"], "across": told["crossing"]}
    for word, ids in lists.items():
        lines = [line for line in block[1:] if word in line.split(":")[0].split()]
        names = [line.split(":")[1].replace(" and ", " ") for line in lines]
        assert [re.findall(r"\w+'?", text) for text in names] == ([ids] if ids else [])
    assert lists["own"] == ["h2"]
    assert lists["side"] == ["h4"]
    rows = block[-len(told["joints"]):]
    for line, joint in zip(rows, told["joints"], strict=True):
        how = joint["state"]
        if how == "corner":
            how += f" of {angle(joint['angle_deg'])}"
        assert cells(line) == [" ".join(joint["between"]), spot(joint["at"], unit), how]


@UNITS
def test_the_text_puts_like_advice_on_one_line(unit: str) -> None:
    inspection = sample(unit)
    advice: Any = inspection.as_dict()["cutting"]
    block = sections(inspection.as_text())["Cutting"]
    rows = [cells(line) for line in block[2:] if len(cells(line)) == 5]
    keys = {(a.rule, a.process, f"{length(a.found, unit)} {unit}",
             f"at {'most' if a.most else 'least'} {length(a.wanted, unit)} {unit}")
            for a in inspection.cutting}
    assert {a.most for a in inspection.cutting} == {True, False}
    assert {tuple(row[:4]) for row in rows} == keys
    assert len(rows) == len(keys)
    assert_columns(block[1:2 + len(rows)], "c")
    whys = dict.fromkeys((a["rule"], a["why"]) for a in advice)
    assert [line.strip() for line in block[2 + len(rows):]] == [f"{r}: {w}" for r, w in whys]


# CSV and HTML.


def tables_of(rows: list[list[str]]) -> dict[str, list[list[str]]]:
    """The tables of the CSV by the first word of their titles: heads, then rows."""
    found: dict[str, list[list[str]]] = {}
    for before, row in pairwise(rows):
        if not before:
            name = row[0].split()[0]
            found[name] = []
        elif row:
            found[name].append(row)
    return found


HEADS = {
    "To": "finding where found wanted what",
    "What": "finding why remedy",
    "Dimensions": "id kind of wanted actual residual lower_limit upper_limit use within",
    "Joints": "between x y state bound gap angle residual",
    "Touches": "id between x y residual angle",
    "Contours": "kind curves area perimeter",
    "Plate": "what value unit",
    "Cutting": "rule process where found wanted why",
}


def expected(told: Any, unit: str) -> dict[str, list[list[Any]]]:
    """The rows of every table as the JSON has them."""
    profile = told["profile"]
    moments = profile["second_moments"]
    return {
        "To": [[f[k] for k in ("code", "where", "found", "wanted", "text")]
               for f in told["findings"]],
        "What": [[code, CODES[code].why, CODES[code].mend]
                 for code in dict.fromkeys(f["code"] for f in told["findings"])],
        "Dimensions": [
            [d["id"], d["kind"], " ".join(d["of"]), d["wanted"], d["actual"], d["residual"],
             *(d["limits"] or [None, None]), "drives" if d["drives"] else "reference",
             "yes" if d["within"] else "NO"] for d in told["dimensions"]],
        "Joints": [[" ".join(j["between"]), *j["at"], j["state"], "yes" if j["bound"] else "no",
                    j["gap"], j["angle_deg"], j["residual"]] for j in told["joints"]],
        "Touches": [[t["id"], " ".join(t["between"]), *t["at"], t["residual"], t["angle_deg"]]
                    for t in told["touches"]],
        "Plate": [] if moments is None else [
            [None, profile["area"], f"{unit}²"], [None, profile["perimeter"], unit],
            [None, profile["centroid"][0], unit], [None, profile["centroid"][1], unit],
            [None, moments["Ix"], f"{unit}⁴"], [None, moments["Iy"], f"{unit}⁴"],
            [None, moments["Ixy"], f"{unit}⁴"], [None, profile["mass"], "kg"]],
        "Contours": [[None, " ".join(c["curves"]), c["area"], c["perimeter"]]
                     for c in profile["loops"]],
        "Cutting": [[a[k] for k in ("rule", "process", "where", "found", "wanted", "why")]
                    for a in told["cutting"]],
    }


def cell(value: Any) -> str:
    """A value as a cell: a number in full, no text that a spreadsheet takes for a formula."""
    if value is None:
        return ""
    if isinstance(value, float):
        return repr(value)
    return f"'{value}" if value.startswith(("=", "+", "-", "@")) else value


@UNITS
@pytest.mark.parametrize("build", [sample, whole_plate])
def test_the_csv_says_what_the_json_says_to_the_last_digit(unit: str, build: Any) -> None:
    inspection = build(unit)
    rows = list(csv.reader(io.StringIO(as_csv(inspection), newline="")))
    assert as_csv(inspection).count("\n") == as_csv(inspection).count("\r\n") == len(rows)
    assert rows[0] == [inspection.part.name, unit, inspection.verdict]
    tables = tables_of(rows)
    wanted = {name: rows for name, rows in expected(inspection.as_dict(), unit).items() if rows}
    assert set(tables) == set(wanted)
    for name, table in tables.items():
        assert table[0] == [head.replace("_", " ") for head in HEADS[name].split()]
        for found, row in zip(table[1:], wanted[name], strict=True):
            assert all(text == cell(value) or (value is None and number == 0 and text)
                       for number, (text, value) in enumerate(zip(found, row, strict=True)))


class Page(HTMLParser):
    """Reads the tables of a page: cells with their class."""

    def __init__(self) -> None:
        super().__init__()
        self.tables: list[list[list[tuple[str, str]]]] = []
        self.titles: list[str] = []
        self.inside = ""
        self.astray = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.inside = tag
        if tag == "table":
            self.tables.append([])
        elif tag == "tr":
            self.tables[-1].append([])
        elif tag in ("td", "th"):
            self.tables[-1][-1].append((dict(attrs).get("class") or "", ""))
        elif tag == "h2":
            self.titles.append("")

    def handle_data(self, data: str) -> None:
        if self.inside in ("td", "th"):
            kind, text = self.tables[-1][-1][-1]
            self.tables[-1][-1][-1] = (kind, text + data)
        elif self.inside == "h2":
            self.titles[-1] += data
        elif not self.inside:
            self.astray += data.strip()

    def handle_endtag(self, tag: str) -> None:
        self.inside = ""


@UNITS
@pytest.mark.parametrize("build", [sample, whole_plate])
def test_the_page_says_what_the_csv_says(unit: str, build: Any) -> None:
    inspection = build(unit)
    page = Page()
    page.feed(as_html(inspection))
    tables = tables_of(list(csv.reader(io.StringIO(as_csv(inspection), newline=""))))
    assert [title.split()[0] for title in page.titles] == list(tables)
    assert page.astray == ""
    for shown, table in zip(page.tables, tables.values(), strict=True):
        for cells_shown, row in zip(shown, table, strict=True):
            for (kind, text), wanted in zip(cells_shown, row, strict=True):
                assert same_cell(kind, text, wanted), (text, wanted)


def same_cell(kind: str, text: str, wanted: str) -> bool:
    """A number stands in a cell of its own kind to ten digits; a text as it is."""
    if kind == "number":
        return float(text) == pytest.approx(float(wanted), rel=1e-9, abs=1e-300)
    return text == wanted.removeprefix("'") and not re.fullmatch(r"-?\d+\.\d+(e-?\d+)?", text)


@UNITS
def test_the_text_ends_with_one_line_break_and_keeps_to_its_width(unit: str) -> None:
    text = sample(unit).as_text()
    assert text.endswith("\n")
    assert not text.endswith("\n\n")
    assert "\n\n\n" not in text
    assert not any(line != line.rstrip() for line in text.splitlines())
