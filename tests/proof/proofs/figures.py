"""The figures of a construction can be read: nothing stands on them, and every step is found there.

Demo parts, practice problems, random dimensioned plates and random parts that are bound one thing
after the other are written as PDF, with and without hand moves, and read back by pdfplumber alone.
A step's words come from ``--json``, its parts' names from the file.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from itertools import pairwise
from pathlib import Path
from typing import Any

import pdfplumber
import shapely

from sketcher.part import file_text
from tests.demo_parts import FOLDER, SOUND
from tests.proof import dimensioned_plates
from tests.proof.bound_parts import bound_part
from tests.proof.command import command
from tests.proof.proof import Proof
from tests.proof.tally import Case
from tests.template_reader import TileSheet, read_template

KNOWN = (*SOUND, *sorted((FOLDER / "practice").glob("*.profile.json")))
COVERED = 0.25
"""Share of a letter that another may cover: boxes of letters side by side overlap by less."""
SHORT = 0.01
"""Scale of the cases in the default tests: without moves, of which there are pages."""
WORD = re.compile(r"\w+")


def one_construction(case: Case) -> None:
    path, number = case.folder / "part.profile.json", case.number
    if number < len(KNOWN):
        path.write_bytes(KNOWN[number].read_bytes())
        how = KNOWN[number].name
    else:
        how = f"case {number}"
        path.write_text(file_text.write(dimensioned_plates.dimensioned_plate(case.random))
                        if number % 2 else
                        json.dumps(bound_part(case.random).tree(f"Part {number}")), "utf-8")
    told = command("order", path, "--json")
    if told.status:
        case.tally.count("parts that have no construction")
        return
    steps = json.loads(told.out)["steps"]
    for words in ((),) if case.scale <= SHORT else ((), ("--moves",)):
        out = case.folder / f"figure{len(words)}.pdf"
        said = command("order", path, "--figure", out, *words)
        if said.status:
            case.tally.fault("not written", f"{how}: {said.err}")
            continue
        case.tally.count("constructions")
        for sheet in read_template(out):
            case.tally.count("pages")
            looked_at(case, f"{how} {' '.join(words)}", sheet)
        found(case, f"{how} {' '.join(words)}", out, json.loads(path.read_text("utf-8")), steps)


def looked_at(case: Case, how: str, sheet: TileSheet) -> None:
    """Look whether anything stands on a letter of a page, or a letter off it."""
    if sheet.covered():
        case.tally.fault("struck through", f"{how}: {sheet.covered()}")
    letters = [one for one in sheet.letters if one.text.strip()]
    boxes = [shapely.Polygon(one.corners) for one in letters]
    tree = shapely.STRtree(boxes)
    for a, b in zip(*tree.query(boxes, "intersects"), strict=True):
        if a < b and boxes[a].intersection(boxes[b]).area > COVERED * min(
                boxes[a].area, boxes[b].area):
            case.tally.fault("overlapping", f"{how}: {letters[a].text} on {letters[b].text}")
    page = shapely.box(0.0, 0.0, *sheet.size)
    if any(not page.contains(box) for box in boxes):
        case.tally.fault("off the page", how)


def found(
    case: Case, how: str, out: Path, tree: dict[str, Any], steps: list[dict[str, Any]]
) -> None:
    """Look for each name of the steps, and for their numbers, besides the words of the steps."""
    with pdfplumber.open(out) as document:
        pages = [page.extract_words(x_tolerance=1.0) for page in document.pages]
    words = [word["text"].lower() for page in pages for word in page]
    seen = Counter(word for text in words for word in WORD.findall(text))
    said = Counter(word.lower() for step in steps for text in (step["text"], *step["substeps"])
                   for word in WORD.findall(text))
    ids = {*tree["points"], *tree["curves"]}
    named = {word for step in steps for text in (step["text"], *step["substeps"])
             for word in WORD.findall(text)} & ids
    case.tally.count("names", len(named))
    for name in named:
        if seen[name.lower()] <= said[name.lower()]:
            case.tally.fault("not named", f"{how}: {name}")
    # In the steps a full stop follows; what a figure has no room for it tells with the step.
    alone = {word for word in words if word.isdigit()}
    alone |= {number for before, word in pairwise(words) if before == "(step"
              for number in re.findall(r"\d+", word)}
    for step in steps:
        if (step["curves"] or step["points"]) and str(step["number"]) not in alone:
            case.tally.fault("no number", f"{how}: step {step['number']}")
    case.tally.count("figures that leave names out",
                     sum(pair == ("no", "room") for pair in pairwise(words)))


PROOF = Proof(
    "figures", "in the figures of a construction nothing stands on a name, and each step is there",
    "constructions", ("not written", "struck through", "overlapping", "off the page", "not named",
                      "no number"),
    whole=100, short=2, case=one_construction, limit=180.0, short_scale=SHORT, minutes=6.0,
)
