"""A part whose sizes are offset for a kerf already: a note of its own says so.

Such a part comes of a cutting file that was offset: its layers carry the kerf
(`sketcher.shop.cut_layers`). The note goes on the sheet, whose sizes are those of the torch's way
and not of the part; while it stands, nothing is offset a second time.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from sketcher.errors import ExportError
from sketcher.inspect.words import length
from sketcher.part.value import Part
from sketcher.quantity.format import exact
from sketcher.quantity.units import convert
from sketcher.shop.cut_layers import MOST_DIGITS, kerf_of_layer
from sketcher.shop.cut_plan import CutSettings

NOTE = re.compile(
    r"\bsizes are offset for a kerf of ([0-9]{1,9}(?:\.[0-9]+)?|\.[0-9]+) (mm|in)\b", re.IGNORECASE)


def noted(part: Part, layers: Iterable[str]) -> Part:
    """Return a part with the note, where a layer that it was read from carries a kerf."""
    kerf = max((kerf_of_layer(layer, part.unit) for layer in layers), default=0.0)
    if not kerf:
        return part
    said = f"{exact(round(kerf, MOST_DIGITS))} {part.unit}"
    note = f"All sizes are offset for a kerf of {said}: not the finished part."
    return part.having(notes=(*part.notes, note))


def noted_kerf(part: Part) -> float:
    """Return the kerf for which a part is offset by its notes, in its unit; 0 for a nominal one."""
    for note in part.notes:
        found = NOTE.search(note)
        if found:
            return convert(float(found[1]), found[2].lower(), part.unit)
    return 0.0


def with_carried_kerf(part: Part, settings: CutSettings) -> CutSettings:
    """Return the settings with the kerf that a part carries, which is not to be applied.

    Raises
    ------
    ExportError
        When a kerf is asked for beside it.
    """
    carried = noted_kerf(part)
    if carried and settings.kerf:
        raise ExportError(
            part.name, f"is offset for a kerf of {length(carried, part.unit)} already, as its note "
            "says, and must not be offset again",
            "leave the kerf out; or give it its nominal sizes and take the note away")
    return replace(settings, kerf=carried) if carried else settings
