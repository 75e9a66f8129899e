"""The hand moves of a construction make the part, with straightedge and compass alone.

All sound demo parts, practice problems and parts made elsewhere come first, then the same with
another value for one or two dimensions, random dimensioned plates, and random parts that are bound
one thing after the other. A program that knows nothing
but lines through two points, circles of the compass and their crossings makes the moves as they are
printed (`tests/straightedge.py`): every point has to come to lie where the solver has it, every
curve and every image has to be drawn. The sentences are judged with them (`tests/told_steps.py`).
"""

from __future__ import annotations

import json
import shutil
from functools import cache
from pathlib import Path

from sketcher.part import file_text
from tests.demo_parts import FOLDER, SOUND
from tests.hand_moves import KINDS, by_hand
from tests.paper_numbers import UnreadNumber, number_of
from tests.proof import dimensioned_plates
from tests.proof.bound_parts import bound_part
from tests.proof.command import command
from tests.proof.proof import Proof
from tests.proof.tally import Case
from tests.shared_files import shared
from tests.sheet_marks.dimensioned_plates import dimensioned_plate

LARGE = 150_000
"""Bytes of a part's file that is left to the proofs of time."""


@cache
def files() -> tuple[Path, ...]:
    """Every part that is at hand as a file."""
    others = [path for path in shared("cases", "*.profile.json") if path.stat().st_size < LARGE]
    return (*SOUND, *sorted((FOLDER / "practice").glob("*.profile.json")), *others)


def one_part(case: Case) -> None:
    path, number = case.folder / "part.profile.json", case.number
    known = files()
    if number < len(known):
        shutil.copy(known[number], path)
        how = known[number].name
    elif number % 4 == 0:
        source = case.random.choice(known)
        how = f"case {number}, {source.name}"
        if not varied(case, source, path):
            case.tally.count("variants that do not solve")
            return
    else:
        how = f"case {number}"
        path.write_text(made(case), encoding="utf-8")
    found = by_hand(path, case.folder)
    if not found.solved:
        case.tally.count("parts that do not solve")
        return
    case.tally.count("parts")
    for what, count in found.counts.items():
        case.tally.count(what, count)
    case.tally.worst("flatness of a crossing", 1.0 - found.flattest)
    for kind, words in found.faults:
        case.tally.fault(kind, f"{how}: {words}")


def made(case: Case) -> str:
    """The file of a random part, from one of three ways to make some."""
    match case.number % 4:
        case 1:
            return json.dumps(dimensioned_plate(case.random).tree(f"Plate {case.number}"))
        case 2:
            return file_text.write(dimensioned_plates.dimensioned_plate(case.random))
        case _:
            return json.dumps(bound_part(case.random).tree(f"Part {case.number}"))


def varied(case: Case, source: Path, path: Path) -> bool:
    """Write a part with another value for one or two dimensions; tell whether it solves."""
    part = json.loads(source.read_text(encoding="utf-8"))
    wanted = [name for name, binding in part["bindings"].items()
              if binding.get("drives", True) and "value" in binding]
    grain = 0.5 if part["unit"] == "mm" else 0.0625
    for name in case.random.sample(wanted, min(len(wanted), case.random.randint(1, 2))):
        try:
            value = float(number_of(part["bindings"][name]["value"], part))
        except UnreadNumber:
            return False
        steps = max(1, round(value * case.random.uniform(0.9, 1.12) / grain))
        part["bindings"][name]["value"] = f"{steps * grain:g}"
    path.write_text(json.dumps(part), encoding="utf-8")
    return command("inspect", path).status == 0


PROOF = Proof(
    "hand_moves", "the moves of a construction make the part with straightedge and compass alone, "
    "and its sentences say nothing that is not on the paper", "parts", KINDS,
    whole=400, short=2, case=one_part, limit=240.0, minutes=3.0,
)
