"""Writes the sheet of a part in all three forms, as the command does, and reads it back."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

from sketcher.drafting.sheet import pages
from sketcher.errors import SketcherError
from sketcher.exchange.sheet_file import WRITERS
from sketcher.inspect.inspection import inspect_part
from sketcher.inspect.release import release_sheet
from sketcher.part.atomic import write_bytes
from sketcher.part.value import Part
from sketcher.terminal import solved
from tests.sheet_marks import (
    judge_centers,
    judge_frame,
    judge_lettering,
    judge_strokes,
    judge_values,
    judge_writers,
    part_on_paper,
)
from tests.sheet_marks.deductions import Fault, mark
from tests.sheet_marks.sheet_views import views_of
from tests.sheet_marks.written_sheet import read_page


@dataclass
class Marked:
    """A part's sheet by one practice: what was found, or why there is no sheet."""

    part: str
    practice: str
    faults: list[Fault] = field(default_factory=list)
    refused: str = ""
    about: str = ""

    @property
    def points(self) -> int:
        return mark(self.faults)


def marked(path: Path, practice: str, folder: Path, **drawing: object) -> Marked:
    """Export one part and mark its files."""
    name = path.name.removesuffix(".profile.json")
    try:
        solution = solved(str(path))
        part = solution.part
        part = part.having(drawing=replace(part.drawing, practice=practice, sheet="auto",
                                           **drawing))
        release_sheet(inspect_part(part, solution.report), ())
        return marked_part(part, name, practice, folder)
    except SketcherError as error:
        return Marked(name, practice, refused=" ".join(str(error).split()))


def marked_part(part: Part, name: str, practice: str, folder: Path) -> Marked:
    """Write the sheet of a solved part and mark it."""
    drawn = pages(part)
    stem = f"{name}-{practice}"
    files = {suffix: folder / f"{stem}{suffix}" for suffix in (".svg", ".pdf", ".dxf")}
    for suffix, file in files.items():
        WRITERS[suffix](drawn, file, write_bytes)
    found = Marked(name, practice, list(faults(files, part, practice)))
    sheet = read_page(files[".svg"])
    found.about = f"{sheet.size[0]:.0f} x {sheet.size[1]:.0f}, {sheet.scale[0]}"
    return found


def faults(files: dict[str, Path], part: Part, practice: str) -> Iterator[Fault]:
    """Everything wrong with the written files of one sheet."""
    sheet = read_page(files[".svg"])
    mm = part_on_paper.MM[part.unit]
    factor = part_on_paper.factor_of(sheet, part)
    true = part_on_paper.corners(part) * mm
    size = tuple(true.max(axis=0) - true.min(axis=0))
    views = views_of(sheet, factor / mm, size)
    yield from part_on_paper.judge(views[0], part, factor)
    for view in views:
        yield from part_on_paper.too_small(view)
        yield from judge_centers.judge(view)
    yield from judge_strokes.judge(sheet)
    yield from judge_values.judge(views, part.unit, part_on_paper.rounds_of(part, factor))
    yield from judge_lettering.judge(sheet, practice)
    yield from judge_frame.judge(sheet, practice, factor / mm, size)
    yield from judge_writers.judge_pdf(sheet, files[".pdf"])
    yield from judge_writers.judge_dxf(sheet, files[".dxf"])
