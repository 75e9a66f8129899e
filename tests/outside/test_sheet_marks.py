"""The judges of written sheets, tried on a sheet made by hand: nothing to mark, then one fault.

The sheet is drawn here stroke by stroke from the rules, not by the program.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from tests.sheet_marks import (
    judge_centers,
    judge_frame,
    judge_lettering,
    judge_strokes,
    judge_values,
    part_on_paper,
)
from tests.sheet_marks.deductions import Fault, fault, mark
from tests.sheet_marks.said_values import said
from tests.sheet_marks.sample_sheet import (
    HOLES,
    LEFT,
    LOW,
    Head,
    Items,
    Piece,
    Words,
    leader,
    length,
    moved,
    sample,
    write,
)
from tests.sheet_marks.sheet_views import views_of
from tests.sheet_marks.written_sheet import read_page


def judged(items: Items, folder: Path) -> list[Fault]:
    """Everything that is found on a sheet."""
    sheet = read_page(write(items, folder / "sheet.svg"))
    views = views_of(sheet, 1.0)
    rounds = [s.whole for s in sheet.outline if s.whole.center is not None]
    return [*(f for v in views for f in (*judge_centers.judge(v), *part_on_paper.too_small(v))),
            *judge_strokes.judge(sheet), *judge_values.judge(views, "mm", rounds),
            *judge_lettering.judge(sheet, "ISO"),
            *judge_frame.judge(sheet, "ISO", 1.0, (100.0, 60.0))]


def test_a_good_sheet_has_a_hundred(tmp_path: Path) -> None:
    found = judged(sample(), tmp_path)
    assert [str(f) for f in found] == []
    assert mark(found) == 100


def swapped(name: str, **more: object) -> Callable[[Items], None]:
    def spoil(items: Items) -> None:
        items[name] = replace(items[name], **more)
    return spoil


def shifted(name: str, dx: float, dy: float) -> Callable[[Items], None]:
    def spoil(items: Items) -> None:
        items[name] = moved(items[name], dx, dy)
    return spoil


def added(**more: Piece | Words | Head) -> Callable[[Items], None]:
    return lambda items: items.update(more)


def without(*names: str) -> Callable[[Items], None]:
    def spoil(items: Items) -> None:
        for name in names:
            del items[name]
    return spoil


def again(name: str, **more: object) -> Callable[[Items], None]:
    return lambda items: items.update({"copy": replace(items[name], **more)})


def redrawn(*names: str, by: Items) -> Callable[[Items], None]:
    """Every item of these dimensions drawn anew."""
    def spoil(items: Items) -> None:
        for key in [k for k in items if k.partition(".")[0] in names]:
            del items[key]
        items.update(by)
    return spoil


(HX, HY), (IX, IY) = HOLES
PLANTED: list[tuple[str, str, Callable[[Items], None]]] = [
    ("no lines at a hole", "center-mark-missing", without("level1", "plumb1")),
    ("one line at a hole", "center-mark-missing", without("level1")),
    ("a plus without gap", "plus-covered", swapped("level1", dashes=())),
    ("a longer end", "overhang", swapped("level1", b=(IX + 14.0, IY))),
    ("two center lines", "center-line-doubled", again("level1", source="center:x")),
    ("a line past another hole", "center-line-astray", added(
        other=Piece("center", "center:z/level", (40.0, HY + 4.0), (58.0 + 110.0, HY + 4.0),
                    dashes=(12.0, 1.0, 2.0, 1.0)))),
    ("the same place twice", "dimension-twice", lambda items: items.update(
        length("more", "100", (LEFT, LOW), (LEFT + 100, LOW), 110.0))),
    ("a false length", "dimension-value", swapped("apart.text", text="51")),
    ("a false radius", "dimension-value", swapped("round.text", text="R13")),
    ("too large a count", "dimension-value", swapped("size.text", text="3x Ø20")),
    ("no count", "count-missing", swapped("size.text", text="Ø20")),
    ("a circle by its radius", "radius-for-diameter", swapped("size.text", text="2x R10")),
    ("a fillet by its diameter", "radius-for-diameter", swapped("round.text", text="Ø24")),
    ("no zero", "decimals", swapped("tall.text", text=".6")),
    ("a zero too many", "decimals", swapped("tall.text", text="60.0")),
    ("lettering on a line", "text-on-line", shifted("wide.text", 0.0, -2.0)),
    ("lettering on lettering", "text-on-line", added(
        other=Words("Page", "sheet:notes", (104.0, 35.0)))),
    ("lettering head down", "text-turned", swapped("tall.text", turn=-90.0)),
    ("small lettering", "lettering", swapped("Number", high=2.5)),
    ("dimension lines cross", "dimension-crossing", redrawn("apart", by={
        **length("apart", "50", (HX, HY + 13.0), (IX, HY + 13.0), 215.0),
        "stray": Piece("dimension", "dimension:tall", (100.0, 205.0), (100.0, 225.0))})),
    ("no gap", "extension-gap", swapped("wide.a", a=(LEFT, LOW))),
    ("an extension line in the air", "in-the-air", swapped("wide.a", a=(LEFT, LOW - 8.0))),
    ("an extension line over a center line", "over-center-line",
     swapped("apart.a", a=(HX, HY + 5.0))),
    ("a stroke over a plus", "plus-covered", swapped("apart.a", a=(HX, HY))),
    ("a dimension line through a hole", "through-hole", redrawn("tall", by={
        "tall.line": Piece("dimension", "dimension:tall", (85.0, LOW), (85.0, LOW + 60.0)),
        "tall.one": Head("dimension:tall", (85.0, LOW), -90.0),
        "tall.two": Head("dimension:tall", (85.0, LOW + 60.0), 90.0),
        "tall.text": Words("60", "dimension:tall", (84.2, 152.0), turn=90.0)})),
    ("a flat leader", "leader-angle", redrawn("size", by=leader(
        "size", "2x Ø20", HOLES[0], 10.0, 10.0, -8.0))),
    ("a leader past the center", "leader-angle", swapped("size.line", b=(98.0, 150.0))),
    ("an elbow on an edge", "elbow-on-outline", redrawn("size", by=leader(
        "size", "2x Ø20", HOLES[0], 10.0, 20.0 / 0.8660254 + 1.5470054, -60.0))),
    ("a stroke drawn twice", "stroke-doubled", again("wide.a", source="dimension:tall")),
    ("an edge drawn twice", "stroke-doubled", again("top")),
    ("a thin line on an edge", "over-outline", swapped("wide.line", a=(LEFT, LOW),
                                                       b=(LEFT + 100.0, LOW))),
    ("rows too near", "spacing", lambda items: items.update(
        length("more", "50", (HX, LOW), (IX, LOW), 124.0))),
    ("a corner that is not there", "sharp-not-shown", lambda items: items.update({
        "corner": Piece("extension", "dimension:tall", (LEFT - 1.0, 201.0),
                        (LEFT - 12.0, 212.0))})),
    ("no field", "title-block", without("Approved by")),
    ("another scale", "scale", swapped("1:1", text="1:2")),
    ("no standard scale", "scale", swapped("1:1", text="1:3")),
    ("wide thin lines", "line-widths", swapped("level0", width=0.5)),
    ("a tiny hole", "too-small", added(dot=Piece("visible", "curve:dot", (140.0, 150.0), (0, 360),
                                                 0.5, width=0.5))),
]


@pytest.mark.parametrize(("rule", "spoil"), [row[1:] for row in PLANTED],
                         ids=[row[0] for row in PLANTED])
def test_a_planted_fault_is_found(rule: str, spoil: Callable[[Items], None], tmp_path: Path
                                  ) -> None:
    items = sample()
    spoil(items)
    assert rule in {f.rule for f in judged(items, tmp_path)}


def test_marks_stop_at_the_cap() -> None:
    assert mark([fault("overhang", (0, 0), "")]) == 99
    assert mark([fault("overhang", (0, 0), "")] * 9) == 97


@pytest.mark.parametrize(("text", "count", "sign", "value"), [
    ("2x Ø9", 2, "Ø", 9.0), ("4X R1/4", 4, "R", 0.25), ("(122)", 1, "", 122.0),
    ("3x 20 (60)", 3, "", 20.0), ("2 3/4", 1, "", 2.75), ("Ø.375 ±.005", 1, "Ø", 0.375),
    ("19°40′", 1, "", 19.0 + 40.0 / 60.0), ("27.5°", 1, "", 27.5),
    ("2x 4 × 45°", 2, "", 4.0), ("R0.4", 1, "R", 0.4),
])
def test_what_lettering_says(text: str, count: int, sign: str, value: float) -> None:
    read = said(text)
    assert (read.count, read.sign, read.value) == (count, sign, pytest.approx(value))
