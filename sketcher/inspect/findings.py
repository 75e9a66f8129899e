"""What stands between a part and the word "sound": one value a finding, with a stable code."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from sketcher.geometry.curves import XY

CODES: Mapping[str, str] = MappingProxyType({
    "empty": "the part has no outline",
    "clash": "these bindings cannot all hold at once",
    "unsolved": "no geometry was found that satisfies every binding",
    "doubtful": "the sketch could as well mean another side; nobody has confirmed this one",
    "loose": "something can still move, so the drawing does not say everything",
    "off-dimension": "a driving dimension does not have its value",
    "off-limits": "a dimension lies outside its limits",
    "off-reference": "a printed reference value does not agree with the part",
    "off-binding": "a binding without a value does not hold",
    "off-tangent": "a joint or a touch is bound tangent and is not",
    "near-tangent": "a joint is nearly tangent, but nothing binds it tangent",
    "fold": "the edge folds straight back, which makes a spike without width",
    "gap": "two ends nearly meet",
    "overrun": "a curve runs past the one that it should end on",
    "open": "the outline has an open end, so it encloses nothing there",
    "stray": "an outline curve belongs to no closed loop",
    "speck": "an outline curve has no length",
    "overlap": "two outline curves cover the same place, so it would be cut twice",
    "crossing": "outline curves cross each other away from their ends",
    "detached": "an outline lies off the plate or inside a hole, and one part is one piece",
    "axis-crossing": "a curve crosses the symmetry axis, so it crosses its own reflection",
})
"""Every code with its meaning. Each of them makes the exit status of an inspection 1."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that must be mended before the part is sound.

    Parameters
    ----------
    code : str
        A key of `CODES`; it never changes between versions.
    where : str
        The place in words: ids of curves or bindings, or coordinates.
    found, wanted : str
        What is there and what should be, with unit.
    ids : tuple of str
        Curves, points and bindings concerned.
    at : (x, y) or None
        A place to look at, in the part's unit.
    text : str
        One sentence for a person.
    """

    code: str
    where: str
    found: str
    wanted: str
    ids: tuple[str, ...]
    at: XY | None
    text: str

    def __post_init__(self) -> None:
        if self.code not in CODES:
            raise KeyError(self.code)
