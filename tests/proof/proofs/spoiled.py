"""A drawing that was spoiled in one way or three comes back as the part that it was.

Parts with known dimensions are written as bad drawings (`tests/damage`): chords, gaps, doubles,
seams, noise, blocks, hidden layers, another unit, another place; the command takes them in, and
only what it wrote is judged. Each rule is a kind of fault.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from tests.damage.judge_import import judged
from tests.damage.original import original, originals
from tests.damage.ways import PLAIN, called, recipes
from tests.proof.proof import Proof
from tests.proof.tally import Case

AT_WORK = frozenset({
    "axis", "pattern", "chosen", "round", "rounds lost", "exit", "unsound", "parts", "area",
    "place", "wrong value", "contours",
})
"""Rules that imports do not keep everywhere yet: counted, not a fault."""
HELD = ("traceback", "unit", "freedoms", "doubled", "move", "open", "area told", "wrong axis")
SHORT_WAYS = (PLAIN, "gaps-0.01", "unit-wrong", "twice")


@cache
def files() -> list[tuple[Path, tuple[str, ...]]]:
    """Each part with each way; the first ones are quick, and of different parts."""
    parts, ways = originals(), recipes()
    every = [(part, way) for way in ways for part in parts]
    quick = [(parts[(k + 1) % len(parts)], way) for k, way in enumerate(
        way for way in ways if called(way) in SHORT_WAYS)]
    return quick + [each for each in every if each not in quick]


def one_file(case: Case) -> None:
    """Spoil one part in one way, take it in and judge what was written."""
    if case.number >= len(files()):
        return  # fewer parts are there than the whole run was made for
    path, recipe = files()[case.number]
    found = judged(original(path), recipe, case.folder)
    case.tally.count("files")
    case.tally.count("files with nothing to mark", int(not found.faults))
    case.tally.count("values", found.round[1])
    case.tally.count("round values", found.round[0])
    for text in found.faults:
        rule = text.partition(":")[0]
        if rule in AT_WORK:
            case.tally.count(f"{rule} (at work)")
        else:
            case.tally.fault(rule, f"{found.name}: {text}")


PROOF = Proof(
    "spoiled", "196 drawings spoiled in 28 ways come back bound, with their radii and values",
    "files", HELD, whole=196, short=1, case=one_file, limit=180.0, minutes=10.0,
)
