"""The judge of constructions: a bracket drawn by hand is right, and all that spoils it is told."""

from __future__ import annotations

import copy
import re
from collections.abc import Callable
from math import sqrt
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from mpmath import mpf

from tests import constructed as judge_of_drawing
from tests import paper_numbers, straightedge, told_steps
from tests.constructed import constructed, drawn_for_nothing
from tests.paper_numbers import UnreadNumber, number_of
from tests.told_steps import told_wrong

PART: dict[str, Any] = {
    "unit": "mm", "parameters": {"wide": "2*15"},
    "points": {"p1": [0, 0], "p2": [30, 0], "p3": [30, 20], "p4": [0, 20], "k1": [12, 8]},
    "curves": {"e1": {"kind": "line", "ends": ["p1", "p2"]},
               "ax": {"kind": "line", "ends": ["p1", "p4"], "role": "axis"},
               "e2": {"kind": "line", "ends": ["p2", "p3"]},
               "e3": {"kind": "line", "ends": ["p3", "p4"]},
               "h1": {"kind": "circle", "center": "k1", "radius": 4.5}},
    "bindings": {"b1": {"kind": "fixed", "of": ["p1"]},
                 "b2": {"kind": "run", "of": ["p1", "p2"], "value": "wide"},
                 "b3": {"kind": "rise", "of": ["p1", "p4"], "value": "20"},
                 "b4": {"kind": "run", "of": ["p1", "k1"], "value": "12"},
                 "b5": {"kind": "rise", "of": ["p1", "k1"], "value": "8"},
                 "b6": {"kind": "diameter", "of": ["h1"], "value": "9"}},
    "mirror": {"axis": "ax", "curves": "outline"}}


def mark(name: str, *at: float) -> dict[str, Any]:
    return {"do": "mark", "name": name, "at": list(at)}


def rule(name: str, one: str, other: str, *ends: list[float]) -> dict[str, Any]:
    return {"do": "rule", "name": name, "through": [one, other], "ends": list(ends)}


def swing(name: str, center: str, at: list[float], amount: float, text: str,
          *span: str) -> dict[str, Any]:
    return {"do": "swing", "name": name, "center": center, "at": at, "spans": [],
            "opening": {"amount": amount, "text": text, "span": list(span) or None,
                        "free": text == "any opening"}}


def cross(name: str, one: str, other: str, word: str, *at: float, by: str = "") -> dict[str, Any]:
    return {"do": "cross", "name": name, "of": [one, other], "which": {"word": word, "of": by},
            "at": list(at)}


def over(name: str, on: str, ends: str, *shape: list[float]) -> dict[str, Any]:
    return {"do": "go over", "name": name, "on": on, "ends": ends.split(), "way": "",
            "shape": list(shape)}


def step(number: int, text: str, points: str, curves: str, *strokes: dict[str, Any]
         ) -> dict[str, Any]:
    return {"number": number, "text": text, "points": points.split(), "curves": curves.split(),
            "bindings": [], "together": False, "stage": "", "substeps": [],
            "moves": [{"text": " ".join([text, *map(told, strokes)]), "strokes": list(strokes)}]}


def told(stroke: dict[str, Any]) -> str:
    """Which of two crossings a sentence says is meant."""
    which = stroke.get("which", {"word": "only"})
    if which["word"] == "only":
        return ""
    far = f" from {which['of']}" if which["of"] else ""
    return f"{stroke['name']} ({which['word']}{far})"


LEVEL = {"do": "level", "name": "e1", "through": "p1", "ends": [[-9, 0], [40, 0]]}
ORDER = {"steps": [
    step(1, "Mark p1 and draw e1 level through it.", "p1", "e1", mark("p1", 0, 0), LEVEL),
    step(2, "Draw ax square to e1 at p1, by arcs that cross at 2F.", "", "ax",
         swing("2A", "p1", [0, 0], 5, "any opening"),
         cross("2B", "e1", "2A", "right", 5, 0), cross("2C", "e1", "2A", "left", -5, 0),
         swing("2D", "2B", [5, 0], 10, "2B-2C", "2B", "2C"),
         swing("2E", "2C", [-5, 0], 10, "2B-2C", "2B", "2C"),
         cross("2F", "2D", "2E", "upper", 0, sqrt(75)),
         rule("ax", "p1", "2F", [0, 0], [0, 30])),
    step(3, "p2 lies 30 (wide) from p1, p4 20 above it; p3 is the fourth corner.", "p2 p4 p3",
         "e2 e3",
         swing("3A", "p1", [0, 0], 30, "wide"), cross("p2", "e1", "3A", "right", 30, 0),
         swing("3B", "p1", [0, 0], 20, "20"), cross("p4", "ax", "3B", "upper", 0, 20),
         swing("3C", "p2", [30, 0], 20, "20"), swing("3D", "p4", [0, 20], 30, "p1-p2", "p1", "p2"),
         cross("p3", "3C", "3D", "farther", 30, 20, by="p1"),
         rule("e2", "p2", "p3", [30, -2], [30, 22]), rule("e3", "p4", "p3", [-2, 20], [32, 20])),
    step(4, "k1 lies 12 to the right of p1 and 8 above; draw h1 about it with R4.5 = 9/2.", "k1",
         "h1",
         swing("4A", "p1", [0, 0], 12, "12"), cross("4B", "e1", "4A", "right", 12, 0),
         swing("4C", "p1", [0, 0], 8, "8"), cross("4D", "ax", "4C", "upper", 0, 8),
         swing("4E", "4D", [0, 8], 12, "12"), swing("4F", "4B", [12, 0], 8, "p1-4D", "p1", "4D"),
         cross("k1", "4E", "4F", "upper", 12, 8), swing("h1", "k1", [12, 8], 4.5, "9/2")),
    step(5, "Reflect the outline about ax, the hole with R4.5.", "", "",
         cross("5A", "e1", "3A", "left", -30, 0), swing("5B", "5A", [-30, 0], 20, "20"),
         cross("5C", "5B", "3D", "upper", -30, 20), rule("5D", "5A", "5C", [-30, 0], [-30, 9]),
         cross("5E", "e1", "4A", "left", -12, 0),
         swing("5F", "5E", [-12, 0], 8, "p1-4D", "p1", "4D"),
         cross("5G", "4E", "5F", "upper", -12, 8), swing("5H", "5G", [-12, 8], 4.5, "9/2")),
    step(6, "Go over the outline.", "", "",
         over("e1", "e1", "p1 p2", [0, 0], [30, 0]), over("e2", "e2", "p2 p3", [30, 0], [30, 20]),
         over("e3", "e3", "p3 p4", [30, 20], [0, 20]), over("h1", "h1", "", [16.5, 8], [16.5, 8]),
         over("e1'", "e1", "5A p1", [-30, 0], [0, 0]),
         over("e2'", "5D", "5A 5C", [-30, 0], [-30, 20]),
         over("e3'", "e3", "p4 5C", [0, 20], [-30, 20]),
         over("h1'", "5H", "", [-7.5, 8], [-7.5, 8]))]}


def faults(order: dict[str, Any]) -> list[str]:
    return [fault for stretch in ("1", "1.0618")
            for fault in constructed(order, PART, {"p1"}, stretch)[0]]


def test_the_bracket_is_drawn() -> None:
    assert faults(ORDER) == []
    assert list(told_wrong(ORDER, PART)) == []
    _, paper = constructed(ORDER, PART, {"p1"})
    assert paper.strokes == 2 + 7 + 9 + 8 + 8 + 8
    assert paper.measured == 0


@pytest.mark.parametrize("name", ["p2", "p3", "k1", "5C", "5G"])
def test_a_crossing_that_no_sentence_tells_is_taken_contrary(name: str) -> None:
    order = copy.deepcopy(ORDER)
    for move in (move for step in order["steps"] for move in step["moves"]):
        move["text"] = re.sub(rf"{name} \(\w+( from p1)?\)", name, move["text"])
    assert constructed(order, PART, {"p1"}, "1")[0] == []
    assert constructed(order, PART, {"p1"})[0] != []


def test_an_angle_needs_the_way_in_which_it_turns() -> None:
    def made(text: str, degrees: float) -> list[str]:
        stroke = {"do": "protract", "name": "ax", "at": "p1", "base": "e1", "degrees": degrees,
                  "text": "20°", "ends": [[0, 0], [1, 1]]}
        order = {"steps": [step(1, text, "", "", mark("p1", 0, 0), LEVEL, stroke)]}
        return constructed(order, PART, {"p1"}, "1")[0]

    refused = "and the sentence says 20°"
    assert not any(refused in fault for fault in made("20°, turned counter-clockwise", 20.0))
    assert not any(refused in fault for fault in made("20°, turned clockwise", 160.0))
    assert any(refused in fault for fault in made("20°, turned clockwise", 20.0))
    assert any(refused in fault for fault in made("20°", 20.0))


def test_what_no_stroke_uses_is_told() -> None:
    order = copy.deepcopy(ORDER)
    assert list(drawn_for_nothing(order)) == []
    idle = [rule("5J", "5G", "k1", [-12, 8], [12, 8]), cross("5K", "5J", "ax", "only", 0, 8)]
    order["steps"][4]["moves"].append({"text": "Draw 5J.", "strokes": idle})
    (told,) = drawn_for_nothing(order)
    assert told.startswith("step 5: nothing of this is used: Draw 5J.")
    order["steps"][5]["moves"].append({"text": "Use 5K.", "strokes": [mark("p9", 0, 0), {
        "do": "call", "name": "p8", "of": "5K"}]})
    assert list(drawn_for_nothing(order)) == []


Change = Callable[[dict[str, dict[str, Any]]], None]


def put(stroke_name: str, /, **values: Any) -> Change:
    """Another value for fields of a stroke, or of its opening or which."""
    def change(strokes: dict[str, dict[str, Any]]) -> None:
        stroke = strokes[stroke_name]
        for key, value in values.items():
            inner = [stroke[part] for part in ("opening", "which")
                     if part in stroke and key in stroke[part] and key != "of"]
            (inner[0] if inner else stroke)[key] = value

    return change


@pytest.mark.parametrize(("change", "told"), [
    (put("p2", word="left"), "p2 is at"),
    (put("p2", word="upper"), "no telling which crossing of e1 and 3A is upper"),
    (put("p2", word="only"), "the only crossing of e1 and 3A, and there are 2"),
    (put("3B", text="21"), "p4 is at"),
    (put("3B", text="tall"), "nothing is called 'tall'"),
    (put("3B", amount=21), "3B is swung elsewhere than in its picture"),
    (put("3B", at=[1, 1]), "3B is swung elsewhere than in its picture"),
    (put("p4", at=[1, 20]), "p4 crosses at (0.0, 20.0), and its picture at [1, 20]"),
    (put("e2", ends=[[31, 0], [31, 20]]), "e2 runs elsewhere"),
    (put("3C", center="p9"), "p9 is not there yet"),
    (put("3D", span=["p1", "p3"]), "p3 is not there yet"),
    (put("3B", text="any opening", amount=20, free=True), "p4 is at"),
    (put("2A", text="5", free=True), "any opening would do, and the text says 5"),
    (put("p3", which={"word": "nearer", "of": "p1"}), "p3 is at"),
    (put("p3", which={"word": "nearer", "of": "p2"}), "no telling which crossing of 3C and 3D"),
    (put("2F", name="3F"), "3F is a name of another step"),
    (put("2F", name="q7"), "q7 is no name of the part"),
    (put("2C", name="2B"), "2B is there already"),
    (put("e2", through=["p3", "p3"]), "e2 through one place"),
    (put("4D", do="mark", at=[0, 8]), "4D is marked, and it is not given"),
    (put("5D", do="level", through="5A"), "5D is a second line along the edge of the board"),
    (put("5D", do="copy"), "no hand can 'copy'"),
    (put("ax", name="2G"), "ax is not there yet"),
    (put("5H", text="4"), "an image of h1 is not drawn"),
    (put("5D", through=["5A", "p4"]), "gone over to 5C, which is not on 5D"),
    (put("h1'", on="h1"), "an image of h1 is not gone over"),
    (put("h1'", ends=["p1", "p2"], way="cw"), "h1' is gone over to p1, which is not on 5H"),
    (put("e2'", ends=["5A", "p2"]), "e2' is gone over to p2, which is not on 5D"),
    (put("e2'", ends=["5A"]), "e2' is gone over from where to where?"),
    (put("e3'", ends=["p3", "5C"]), "e3' is gone over, and it is no curve of the part"),
    (put("e3'", shape=[[0, 20], [30, 20]]), "e3' is gone over elsewhere than in its picture"),
    (put("e3'", shape=[[0, 20], [-9, 1], [-30, 20]]), "e3' is gone over elsewhere"),
    (put("h1'", on="9Z"), "9Z is not there yet"),
])
def test_each_way_to_spoil_it_is_told(change: Change, told: str) -> None:
    order = copy.deepcopy(ORDER)
    strokes = [stroke for step in order["steps"] for move in step["moves"]
               for stroke in move["strokes"]]
    change({stroke["name"]: stroke for stroke in reversed(strokes)})
    found = faults(order)
    assert any(told in fault for fault in found), found


@pytest.mark.parametrize(("number", "text", "told"), [
    (3, "p2 lies 31 from p1.", "where does 31 come from"),
    (3, "p2 lies 30 from p1.", "where does 30 come from"),
    (4, "Draw h1 about k1 with R4.5.", "where does 4.5 come from"),
    (4, "Draw h1 about k1 with R4.5 = 9/3.", "where does 4.5 come from"),
    (2, "Draw ax square to e1 through p4.", "speaks of p4"),
    (2, "Draw ax through 2G.", "speaks of 2G"),
    (5, "Take what is computed.", "takes what is computed"),
])
def test_each_slip_of_the_text_is_told(number: int, text: str, told: str) -> None:
    order = copy.deepcopy(ORDER)
    order["steps"][number - 1]["text"] = order["steps"][number - 1]["moves"][0]["text"] = text
    assert any(told in fault for fault in told_wrong(order, PART))


@pytest.mark.parametrize(("text", "wanted"), [
    ("9/16", mpf(9) / 16), ("1 1/2", mpf("1.5")), ("1-1/2", mpf("1.5")), ("52 + 18", mpf(70)),
    ("Ø24 / 2", mpf(12)), ("R70 - R18", mpf(52)), ("15°30'36\"", mpf("15.51")), ("20°", mpf(20)),
    ("wide/2", mpf(15)), ("1 in", mpf("25.4")), ("2*(3 + 4)^2", mpf(98)), ("-2^2", mpf(-4)),
    ("10 - 4 - 3", mpf(3)), ("24/4/3", mpf(2)), ("sqrt(16)", mpf(4)),
])
def test_numbers_of_the_paper_are_read(text: str, wanted: mpf) -> None:
    assert abs(number_of(text, PART) - wanted) < mpf("1e-35")


@pytest.mark.parametrize("text", ["", "R", "4 +", "(4", "1/0", "any opening", "p1-p2", "4 5"])
def test_what_is_no_number_is_not_read(text: str) -> None:
    with pytest.raises(UnreadNumber):
        number_of(text, PART)


@pytest.mark.parametrize("judge", [straightedge, judge_of_drawing, told_steps, paper_numbers],
                         ids=lambda module: module.__name__)
def test_a_judge_shares_no_code_with_the_program(judge: ModuleType) -> None:
    text = Path(str(judge.__file__)).read_text(encoding="utf-8")
    imports = [line for line in text.splitlines() if re.match(r"\s*(from|import) ", line)]
    assert len(imports) > 2
    assert not [line for line in imports if "sketcher" in line or "tests.proof" in line]
