"""The sheets of both standards: their sizes, margins and lettering."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from sketcher.drafting.line_classes import Practice
from sketcher.errors import SketcherError
from sketcher.geometry.bounds import Box
from sketcher.shipped import shipped

LETTERING: Mapping[Practice, float] = {"ISO": 3.5, "ASME": 3.0}
"""Height in mm: the least of the series of ISO 3098-1 that is at least 3 mm; ASME Y14.2 Table 1,
.12 in (both from memory)."""
LEAST_LETTERING, MOST_LETTERING = 3.0, 10.0
"""What may be set in its place, in mm: ASME Y14.2 Table 1 (from memory); a larger one fits no title
block."""
LARGE: Mapping[Practice, float] = {"ISO": 5.0 / 3.5, "ASME": 2.0}
"""Lettering of titles and numbers by the rest: one height up the series of ISO 3098-1; .24 in
beside .12 in of ASME Y14.2 Table 1 (both from memory)."""
BLOCK = (180.0, 46.0)


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet of paper with its frame, in mm.

    Parameters
    ----------
    name : str
        As a drawing's settings say it; "A4 lying" is an A4 on its side.
    practice : {"ISO", "ASME"}
    size : tuple of float
        Width and height.
    margins : tuple of float
        Between edge and frame: left, bottom, right, top.
    zones : tuple of int
        Columns and rows that the frame is divided into; none by ISO, which goes by 50 mm.
    height : float
        Of the lettering.
    block_size : tuple of float
        Width and height of the title block.
    """

    name: str
    practice: Practice
    size: tuple[float, float]
    margins: tuple[float, float, float, float]
    zones: tuple[int, int]
    height: float
    block_size: tuple[float, float] = BLOCK

    @property
    def format(self) -> str:
        """Name of the paper however it lies, as the title block says it."""
        return self.name.partition(" ")[0]

    @property
    def large(self) -> float:
        """Height of the lettering of titles."""
        return self.height * LARGE[self.practice]

    @property
    def capitals(self) -> bool:
        """Whether all lettering is in capitals (ASME Y14.2, from memory)."""
        return self.practice == "ASME"

    @property
    def inner(self) -> Box:
        """Frame: left, bottom, right, top."""
        left, bottom, right, top = self.margins
        return (left, bottom, self.size[0] - right, self.size[1] - top)

    @property
    def block(self) -> Box:
        """Box of the title block, in the lower right corner."""
        _, bottom, right, _ = self.inner
        wide, tall = self.block_size
        return (max(self.inner[0], right - wide), bottom, right, bottom + tall)


@cache
def sheets() -> Mapping[str, Sheet]:
    """Return all sheets by name, smallest first."""
    text = shipped("resources", "frames/sheets.toml").read_text(encoding="utf-8")
    return MappingProxyType({
        name: Sheet(name, entry["practice"], tuple(entry["size"]), tuple(entry["margins"]),
                    tuple(entry.get("zones", (0, 0))), LETTERING[entry["practice"]])
        for name, entry in tomllib.loads(text).items()
    })


def sheet_names(practice: str) -> tuple[str, ...]:
    """Return the names of a standard's sheets, smallest first."""
    return tuple(name for name, sheet in sheets().items() if sheet.practice == practice)


def sheet_named(
    name: str, practice: str | None = None, place: str = "drawing.sheet"
) -> Sheet:
    """Return a sheet by its name, however that is capitalized.

    Raises
    ------
    SketcherError
        For a name that there is not, or not in the standard that is given.
    """
    known = sheet_names(practice) if practice else tuple(sheets())
    found = next((one for one in known if one.lower() == name.strip().lower()), None)
    if found is None:
        of = f" in {practice}" if practice else ""
        raise SketcherError(place, f"there is no sheet {name!r}{of}",
                            f"choose auto or one of {', '.join(known)}")
    return sheets()[found]


def checked_lettering(height: float, place: str = "drawing.lettering") -> float:
    """Return a height of lettering in mm.

    Raises
    ------
    SketcherError
        For one that cannot be read on a print, or fits no title block.
    """
    # Hundredths of a millimetre: .12 in is 3.048 mm, and 3 mm in inches is .1181.
    if not LEAST_LETTERING - 0.01 <= height <= MOST_LETTERING + 0.01:
        raise SketcherError(place, f"lettering of {height:g} mm is not drawn",
                            f"take {LEAST_LETTERING:g} to {MOST_LETTERING:g} mm")
    return height
