"""Writes the full-size template as a PDF."""

from __future__ import annotations

import os
from dataclasses import dataclass

from sketcher.drafting.template.template_pages import template
from sketcher.exchange.outputs import TEMPLATE_MADE_HERE
from sketcher.exchange.pdf import write_pdf
from sketcher.inspect.words import plural
from sketcher.part.atomic import Put, write_bytes
from sketcher.part.value import Part


@dataclass(frozen=True, slots=True)
class WrittenTemplate:
    """What was written: how many sheets of which paper, and for how many holes without a letter."""

    sheets: int
    paper: str
    unlettered: int

    @property
    def told(self) -> str:
        """Sheets and paper in words."""
        return f"{plural(self.sheets, 'sheet')} of {self.paper}"

    @property
    def lacking(self) -> str:
        """What the holes without a letter say, after a comma; empty where all have theirs."""
        holes = plural(self.unlettered, "hole")
        return f", {holes} without room for a letter" if self.unlettered else ""


CAUTION = "Print at 100 % and measure the bars; a template is as true as its paper is flat and dry"


def write_template(
    part: Part, path: str | os.PathLike[str], paper: str = "auto", mirrored: bool = False,
    put: Put = write_bytes,
) -> WrittenTemplate:
    """Write the template of a solved part, see `template_pages.template`.

    Raises
    ------
    SketcherError
        For unknown paper, a part without outline, or one that takes too many sheets.
    FileError
        For a file that cannot be written.
    """
    made = template(part, paper, mirrored)
    write_pdf(made.pages, path, put, TEMPLATE_MADE_HERE)
    return WrittenTemplate(len(made.pages), made.tiling.paper, made.unlettered)
