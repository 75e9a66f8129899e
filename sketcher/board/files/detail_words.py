"""What is set about detail views as one line of text: ``h1 10:1 left; b12 off``."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sketcher.drafting.paper_scale import scale_value
from sketcher.drafting.views.detail_rings import SIDES
from sketcher.errors import QuantityError
from sketcher.part.value import Part, frozen

PLACE = "drawing.details"


def detail_words(part: Part) -> str:
    """Return the settings of a part's details as text."""
    return "; ".join(" ".join((name, *_words(entry)))
                     for name, entry in part.drawing.details.items())


def _words(entry: Mapping[str, Any]) -> list[str]:
    return [*(["off"] if entry.get("off") else []),
            *(str(entry[key]) for key in ("scale", "side") if key in entry)]


def read_detail_words(part: Part, text: str) -> Mapping[str, Mapping[str, Any]]:
    """Return the settings that a text tells.

    Raises
    ------
    SketcherError
        When it names what the part has not, or says what is neither scale, side nor off.
    """
    found = {}
    for each in filter(None, map(str.strip, text.split(";"))):
        name, *words = each.split()
        if name not in part.curves and name not in part.bindings:
            raise QuantityError(PLACE, f"there is no curve or dimension {name!r}",
                                "begin with an id, as in h1 10:1 left")
        entry: dict[str, Any] = {}
        for word in words:
            if word == "off":
                entry["off"] = True
            elif word in SIDES:
                entry["side"] = word
            else:
                scale_value(word, PLACE)
                entry["scale"] = word
        if not entry:
            raise QuantityError(PLACE, f"nothing is said of {name}",
                                f"add a scale as 10:1, one of {', '.join(SIDES)}, or off")
        found[name] = frozen(entry)
    return frozen(found)
