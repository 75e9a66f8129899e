"""``python -m tests.hand_ins.class_of_forty FOLDER --mark``: a class whose every mistake is known.

Forty hand-ins of four papers, one folder a key, each with the mistakes planted that its line says,
and ``expected.csv`` beside: what is to be deducted, nothing else. The points are those of the
rules' own table, reckoned here. ``--mark`` marks them all and prints what comes out otherwise;
``--only 121 130`` these alone, with every deduction.
"""

from __future__ import annotations

import argparse
import csv
import json
import sys
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from sketcher.errors import SketcherError
from sketcher.marking.hand_in_file import read_hand_in
from sketcher.marking.marks import Marks, marked
from sketcher.marking.rubric import Rubric
from sketcher.marking.rules import marking_rules
from tests.hand_ins.center_plants import (
    line_twice,
    not_joined,
    on_outline,
    pathless,
    reaching,
    unbroken,
    unmarked,
    without_axis,
)
from tests.hand_ins.draft import Plant, drafted
from tests.hand_ins.drawer import CENTER_LAYERS, OUTLINE_LAYERS, VERSIONS, Manner
from tests.hand_ins.outline_plants import (
    broken_mirror,
    chords,
    gap,
    loose,
    missing,
    overrun,
    parameter,
    resized,
    scaled,
    secant,
    shifted,
    tilted,
    turned,
    twice,
    value,
    wrong_header,
)
from tests.hand_ins.papers import PAPERS
from tests.hand_ins.part_plants import by_numbers, computed, part_value, unbound
from tests.hand_ins.sheet_plants import (
    again,
    altered,
    as_radius,
    in_wrong_rows,
    one_width,
    snapped_beside,
    styled,
    undimensioned,
    without_sharp,
    written,
)
from tests.hand_ins.strokes import Ring, Straight
from tests.hand_ins.written_paper import Paper
from tests.ready_keys import key_ready

COSTS: dict[str, tuple[float, float]] = {
    "wrong-value": (4, 16), "open-gap": (5, 10), "stray": (2, 6), "doubled": (2, 6),
    "missing-feature": (5, 25), "extra-feature": (3, 9), "misplaced": (3, 15),
    "wrong-size": (3, 15), "not-tangent": (3, 9), "wrong-angle": (3, 9), "chords-for-arc": (3, 3),
    "not-mirrored": (4, 4), "construction-left": (2, 4), "wrong-unit": (5, 5), "overrun": (1, 5),
    "turned-or-mirrored": (3, 3), "wrong-branch": (4, 8), "center-mark-missing": (2, 6),
    "center-line-layer": (2, 2), "plus-covered": (1, 4), "overhang": (1, 3),
    "center-line-doubled": (2, 4), "pattern-not-joined": (2, 2), "arc-center-line": (2, 4),
    "center-line-short": (1, 3), "axis-missing": (2, 2), "dimension-missing": (2, 10),
    "dimension-twice": (2, 6), "dimension-value": (3, 9), "typed-over": (5, 5),
    "radius-for-diameter": (2, 4), "count-missing": (1, 3), "text-on-line": (1, 4),
    "dimension-crossing": (1, 4), "extension-gap": (1, 2), "leader-angle": (1, 2),
    "decimals": (1, 2), "sharp-not-shown": (2, 4), "title-block": (1, 4), "scale": (2, 2),
    "lettering": (1, 2), "line-widths": (2, 2), "loose": (3, 9), "copied-decimals": (2, 6),
    "tangency-unbound": (2, 6)}
"""Points for each mistake, and at most (the rules' table; common practice, no source)."""


@dataclass(frozen=True)
class Sheet:
    """One hand-in of the class."""

    key: str
    plants: tuple[Plant, ...] = ()
    dashed: tuple[str, ...] = ()
    manner: dict[str, object] = field(default_factory=dict)
    """What is not left to chance."""
    dimensioned: bool = False
    part: bool = False
    """Whether a part file is handed in."""

    @property
    def expected(self) -> Counter[str]:
        """How many mistakes of each rule."""
        found: Counter[str] = Counter()
        for plant in self.plants:
            found[plant.rule] += plant.mistakes
        return found

    @property
    def points(self) -> float:
        """What it is given."""
        return 100.0 - sum(min(count * COSTS[rule][0], COSTS[rule][1])
                           for rule, count in self.expected.items())

    @property
    def paper(self) -> Paper:
        return next(paper for paper in PAPERS if paper.key == self.key)


STRAP, FLANGE, BRACKET, ARM = "gate-strap", "pump-flange", "shelf-bracket", "shift-arm"
STRAY = Straight("stray", complex(-13.0, 76.0), complex(-8.0, 87.0))
BUILT = Straight("built", 100j, complex(46.0, 12.0))
"""From the eye's center to the foot hole's."""
ON_SHEET = {"unit": "mm", "version": "R2018", "layer": "OUTLINE", "center_layer": "CENTER"}
TANGENT_BY_LENGTH = by_numbers("b8", "run", ("p1", "p2"), "52")

CLASS: tuple[Sheet, ...] = (
    # Nothing wrong, however it is drawn.
    Sheet(STRAP, manner={"split": 0.0, "polylines": False, "unit": "mm"}),
    Sheet(STRAP, manner={"unit": "in", "shift": 40 - 3j, "version": "R2018", "polylines": True}),
    Sheet(FLANGE, dashed=("ear hole up", "ear hole' up"), manner={"version": "R2000"}),
    Sheet(BRACKET, manner={"unit": "mm", "flipped": 0.5}),
    Sheet(BRACKET, (turned(90.0),)),
    Sheet(BRACKET, (turned(180.0, mirrored=True),), manner={"unit": "mm", "shift": 77 + 13j}),
    Sheet(STRAP, dimensioned=True, manner={**ON_SHEET}),
    Sheet(STRAP, part=True),
    # Wrong values, with all that hangs on each of them.
    Sheet(STRAP, (value(b22=15.0),)),
    Sheet(STRAP, (parameter("wall", 10.0),), manner={"unit": "in"}),
    Sheet(STRAP, (value(b19=95.0), value(b34=18.0), value(b7=10.0))),
    Sheet(FLANGE, (parameter("bolt_circle", 64.0),)),
    Sheet(BRACKET, (value(b11=1.75), value(n1_step_0=1.375), value(b23=0.5))),
    Sheet(ARM, (value(b22=70.0), unbroken("bore up"), loose("extra-feature", Ring(
        "extra", 80 + 20j, 3.0)))),
    # Mistakes in the outline.
    Sheet(STRAP, (gap("side", 0.6), loose("stray", STRAY), twice("slope'"))),
    Sheet(STRAP, (missing("foot hole'"), tilted("sill", "jamb", 1.2j))),
    Sheet(FLANGE, (missing("bolt 2"), resized("ear hole'", 1.2))),
    Sheet(STRAP, (secant("neck", "eye rim", 12.0),)),
    Sheet(STRAP, (chords("arch", 24), unmarked("foot hole across", "foot hole up"))),
    Sheet(STRAP, (broken_mirror(("base", "sill", "arch", "eye rim"), -0.8 + 0j),),
          manner={"polylines": False, "split": 0.0}),
    Sheet(STRAP, (shifted("foot hole", 1.7 - 1.2j), loose("construction-left", BUILT))),
    Sheet(BRACKET, (overrun("end", 2.0), line_twice("wall hole up"))),
    Sheet(STRAP, (wrong_header(),)),
    Sheet(BRACKET, (value("wrong-branch", b19=-45.0),)),
    # In the center lines.
    Sheet(FLANGE, (on_outline(),)),
    Sheet(STRAP, (unbroken("eye across"), reaching(
        "overhang", "foot hole up", "foot hole", 9.0))),
    Sheet(FLANGE, (not_joined("pitch circle"),)),
    Sheet(BRACKET, (not_joined("row 0", "row 1", "column 0", "column 1"),)),
    Sheet(ARM, (pathless(),)),
    Sheet(STRAP, (without_axis(), reaching(
        "center-line-short", "foot hole' across", "foot hole'", -1.5))),
    # Of several sorts together.
    Sheet(BRACKET, (gap("back", 0.8), unmarked("wall hole up"), turned(270.0))),
    Sheet(FLANGE, (parameter("span", 130.0), loose("stray", Straight(
        "stray", 40 + 3j, 48 + 9j)), line_twice("ear hole up"))),
    # In the dimensions and on the sheet.
    Sheet(STRAP, (undimensioned("62"), as_radius("O20"), written("title-block", "2026-01-15", "")),
          dimensioned=True, manner={**ON_SHEET}),
    Sheet(STRAP, (again("O9", points=(46 + 12j, 50.5 + 12j), at=31 + 5.5j),
                  altered("typed-over", "100", text="98"),
                  altered("leader-angle", "R22", at=46 + 104j)),
          dimensioned=True, manner={**ON_SHEET}),
    Sheet(STRAP, (snapped_beside("100", 0.6 - 0.7j), altered("count-missing", "R12", text="<>"),
                  without_sharp()), dimensioned=True, manner={**ON_SHEET}),
    Sheet(STRAP, (altered("text-on-line", "R36", at=9.5 + 60.9j), in_wrong_rows("24", "62"),
                  styled("extension-gap", dimexo=0.0)), dimensioned=True, manner={**ON_SHEET}),
    Sheet(STRAP, (styled("decimals", dimzin=0), styled("lettering", dimtxt=1.8), one_width()),
          dimensioned=True, manner={**ON_SHEET}),
    Sheet(STRAP, (value(b22=15.0), scaled(2.0)), manner={"unit": "mm", "version": "R2018"}),
    # In part files.
    Sheet(STRAP, (unbound("b23", "k1", (46.0, 12.0)), part_value("b28", "66")), part=True),
    Sheet(STRAP, (computed("b11", "rise", ("p1", "q1"), "37.8564"), TANGENT_BY_LENGTH), part=True),
)


def manner_of(number: int, sheet: Sheet) -> Manner:
    """How a hand-in is drawn: by its number, but for what its sheet says."""
    random = Random(f"class of forty {number}")
    chosen: dict[str, object] = {
        "shift": complex(random.uniform(-200, 200), random.uniform(-200, 200)),
        "unit": sheet.paper.unit, "version": random.choice(VERSIONS),
        "layer": random.choice(OUTLINE_LAYERS), "center_layer": random.choice(CENTER_LAYERS),
        "polylines": random.random() < 0.3, "split": random.choice((0.0, 0.25)),
        "flipped": random.choice((0.0, 0.5)), "shuffled": random.random() < 0.6}
    return Manner(**{**chosen, **sheet.manner})  # type: ignore[arg-type]


def file_name(number: int) -> str:
    """The roster number, and nothing that tells what is wrong."""
    return f"{101 + number}{'.profile.json' if CLASS[number].part else '.dxf'}"


def write_hand_in(path: Path, number: int) -> None:
    """Write one of them."""
    sheet = CLASS[number]
    if not sheet.part:
        draft = drafted(sheet.paper, manner_of(number, sheet), list(sheet.plants), sheet.dashed,
                        sheet.dimensioned)
        draft.write(path, Random(f"written {number}"))
        return
    tree = json.loads(sheet.paper.path.read_text(encoding="utf-8"))
    for plant in sheet.plants:
        plant.make(tree)
    path.write_text(json.dumps(tree, indent=1), encoding="utf-8")


def write_class(folder: Path) -> dict[str, Sheet]:
    """Write the hand-ins, a folder a key, and what is expected; return the sheets by file."""
    written_ = {}
    for number, sheet in enumerate(CLASS):
        path = folder / sheet.key / file_name(number)
        path.parent.mkdir(parents=True, exist_ok=True)
        write_hand_in(path, number)
        written_[path.relative_to(folder).as_posix()] = sheet
    with (folder / "expected.csv").open("w", newline="", encoding="utf-8") as file:
        table = csv.writer(file)
        table.writerow(["file", "points", "rule", "mistakes"])
        for name, sheet in written_.items():
            for rule, mistakes in sheet.expected.items() or [("", 0)]:
                table.writerow([name, f"{sheet.points:g}", rule, mistakes])
    return written_


def marks_of(path: Path, sheet: Sheet) -> Marks:
    """What the program gives a hand-in."""
    return marked(key_ready(sheet.key).compare(read_hand_in(path)), Rubric())


def lines_of(marks: Marks) -> list[str]:
    """Its deductions in words."""
    return [f"{each.rule}: {each.mistake.text} at {each.mistake.at[0]:.2f}, "
            f"{each.mistake.at[1]:.2f}" for each in marks.deductions]


def main(argv: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.hand_ins.class_of_forty",
                                     description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--mark", action="store_true")
    parser.add_argument("--only", nargs="*", default=(), help="roster numbers")
    args = parser.parse_args(argv)
    wrong = 0
    for name, sheet in write_class(args.folder).items():
        chosen = any(number in name for number in args.only)
        if not chosen and (args.only or not args.mark):
            continue
        expected = Counter({rule: n for rule, n in sheet.expected.items()
                            if rule in marking_rules()})
        try:
            marks = marks_of(args.folder / name, sheet)
        except SketcherError as problem:
            wrong += 1
            print(f"{name}: {problem}; expected {dict(expected)}")
            continue
        found = Counter(each.rule for each in marks.deductions)
        if found != expected or chosen:
            wrong += found != expected
            print(f"{name}: found {dict(found)}, expected {dict(expected)}",
                  *lines_of(marks)[:None if chosen else 6], sep="\n    ")
    print(f"{wrong} otherwise than expected; {len(marking_rules())} rules are there")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
