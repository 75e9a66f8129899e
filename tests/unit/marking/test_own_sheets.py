"""The finished sheets of sound parts, handed in against the same parts: nothing is wrong with them.

Wanted is what the sheet was drawn from. A name and a date nobody has written into the title block.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sketcher.drafting.sheet import pages
from sketcher.exchange.dxf_sheet import write_dxf_sheet
from sketcher.inspect.sketched import solve_sketch
from sketcher.marking.comparing import KeyReady
from sketcher.marking.hand_in import HandIn
from sketcher.marking.hand_in_file import read_hand_in
from sketcher.marking.marks import Marks, marked
from sketcher.marking.rubric import Rubric
from sketcher.part.value import Binding, CircleCurve, Part
from tests.demo_parts import SOUND
from tests.ready_keys import key_ready
from tests.rough import holed_plate
from tests.seldom import some_of
from tests.unit.marking.sheet_hand_ins import drawn_dimensions, edges_of, found_by

NAMES = [path.name.removesuffix(".profile.json") for path in SOUND]
CASES = [(name, practice, "auto") for name in NAMES for practice in ("ISO", "ASME")]
SCALED = [("gate-strap", "ISO", "2:1"), ("shelf-bracket", "ASME", "1:2")]
OFTEN = {("shift-arm", "ISO", "auto"), ("pump-flange", "ASME", "auto"),
         ("roof-gusset", "ISO", "auto"), *SCALED}


def handed_in(ready: KeyReady, drawn: Part, folder: Path) -> Marks:
    """What the sheet of a part is given by a key."""
    write_dxf_sheet(pages(drawn)[0], folder / "sheet.dxf")
    return marked(ready.compare(read_hand_in(folder / "sheet.dxf")), Rubric())


def told(marks: Marks) -> list[tuple[str, str]]:
    return [(each.rule, each.mistake.text) for each in marks.deductions]


UNSIGNED = [("title-block", f"the {what} in the title block is left empty")
            for what in ("name", "date")]


@pytest.mark.parametrize(("name", "practice", "scale"),
                         some_of([*CASES, *SCALED], lambda case: case in OFTEN))
def test_a_finished_sheet_lacks_what_a_person_writes_and_nothing_else(
    name: str, practice: str, scale: str, tmp_path: Path
) -> None:
    ready = key_ready(name)
    drawing = replace(ready.part.drawing, practice=practice, sheet="auto", scale=scale)
    assert told(handed_in(ready, ready.part.having(drawing=drawing), tmp_path)) == UNSIGNED


@pytest.mark.parametrize(("rise", "missing"), [("25", []), ("30", ["30"])])
def test_one_dimension_holds_for_all_holes_in_line(rise: str, missing: list[str]) -> None:
    """Two holes at one height need it once, which is common practice; at two heights both."""
    plate = holed_plate(10.0)
    plate = plate.having(
        points={**plate.points, "k2": (20.0, float(rise))},
        curves={**plate.curves, "h2": CircleCurve("k2", 3.0)},
        bindings={**plate.bindings, "c1": Binding("diameter", ("h2",), "6"),
                  "c2": Binding("run", ("p1", "k2"), "20"),
                  "c3": Binding("rise", ("p1", "k2"), rise)})
    ready = KeyReady(solve_sketch(plate).part, Rubric())
    stated = [each for each in drawn_dimensions(ready.part)
              if not (each.measured == pytest.approx(float(rise)) and abs(each.turn) == 90.0)]
    if rise == "25":
        first = next(each for each in drawn_dimensions(ready.part) if each not in stated)
        stated.append(first)
    found = found_by("dimension-missing", ready.compare(
        HandIn("plate.dxf", edges_of(ready.part), "mm", dimensions=tuple(stated))))
    assert isinstance(found, tuple)
    assert [each.wanted for each in found] == missing
