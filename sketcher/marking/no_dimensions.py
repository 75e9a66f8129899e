"""What is told of hand-ins without dimensions or without a sheet: not asked for, never deducted."""

from __future__ import annotations

from sketcher.marking.marking_rule import Undecided

NO_DIMENSIONS = Undecided("has no dimensions")
NO_SHEET = Undecided("has no border and no title block")
NO_PART_FILE = Undecided("is no part file")
NO_HEIGHTS = Undecided("does not say how tall its lettering is")
