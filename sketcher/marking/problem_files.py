"""The files of a part set as a problem: its handout, its key, and how that is constructed."""

from __future__ import annotations

import os
import re
from dataclasses import dataclass
from pathlib import Path

from sketcher.drafting.sheet import pages_alone
from sketcher.exchange.outputs import DRAWING, PART, Outputs, made_folder
from sketcher.marking.handout import handout_of, sound_problem
from sketcher.part.store import SUFFIX, content
from sketcher.solve.solve_report import Solution

CONSTRUCTION = "construction order"
UNSAFE = re.compile(r"[^\w.-]+")


@dataclass(frozen=True, slots=True)
class ProblemFiles:
    """Where the files of a problem go."""

    handout: Path
    key: Path
    key_sheet: Path


def put_problem(
    solution: Solution, place: str, outputs: Outputs, option: str, folder: str | os.PathLike[str]
) -> ProblemFiles:
    """Make handout and key of a part, and keep them for writing.

    Parameters
    ----------
    solution : Solution
        Of the part.
    place : str
        Its file, or a word for where it came from, for errors.
    outputs : Outputs
        Takes the files.
    option : str
        Where the folder is named, for errors.
    folder : path-like
        Is made where it is not there.

    Raises
    ------
    FileError
        When the part is no problem to set, or a file must not be replaced.
    SketcherError
        When it fits on no sheet, or cannot be constructed.
    """
    from sketcher.exchange.pdf import pdf_bytes

    handout = handout_of(sound_problem(solution, place), place)
    part = solution.part
    files = _planned(outputs, option, made_folder(option, folder), _stem(place, part.name))
    outputs.put(files.handout, pdf_bytes([handout.page]))
    outputs.put(files.key, content(part, files.key))
    outputs.put(files.key_sheet, pdf_bytes(pages_alone(CONSTRUCTION, part)))
    return files


def _planned(outputs: Outputs, option: str, folder: Path, stem: str) -> ProblemFiles:
    return ProblemFiles(outputs.add(option, folder / f"{stem}-handout.pdf", DRAWING),
                        outputs.add(option, folder / f"{stem}-key{SUFFIX}", PART),
                        outputs.add(option, folder / f"{stem}-key.pdf", DRAWING))


def _stem(place: str, name: str) -> str:
    """Return a name for the files: that of the part's file, else the part's own."""
    file = os.path.basename(place)
    if file.endswith(SUFFIX):
        return file.removesuffix(SUFFIX)
    return UNSAFE.sub("-", name.lower()).strip("-.") or "part"
