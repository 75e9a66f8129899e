"""What the key's own paper says: each dimension as its finished sheet writes it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from weakref import WeakKeyDictionary

from sketcher.drafting.measured import Measured, MeasuredLength, MeasuredRound, measured
from sketcher.drafting.paper_view import View
from sketcher.geometry.curves import XY, Arc, Circle
from sketcher.inspect.detached import without_detached
from sketcher.marking.file_wording import file_wording
from sketcher.marking.key_shape import KeyShape
from sketcher.part.whole import middle, whole


@dataclass(frozen=True, slots=True)
class PaperSaying:
    """One dimension of the key's paper.

    Parameters
    ----------
    id : str
    text : str
        The whole wording: ``4x R8``.
    at : (x, y)
        A place on what it measures, in the part.
    round : Arc or Circle or None
        For a radius or a diameter.
    count : int
        Places at which it holds.
    value : float or None
        The number it says, in the part's unit or degrees.
    decimals : int or None
        Of that number; None for a fraction.
    """

    id: str
    text: str
    at: XY
    round: Arc | Circle | None = None
    count: int = 1
    value: float | None = None
    decimals: int | None = None


_shown: WeakKeyDictionary[KeyShape, frozenset[str]] = WeakKeyDictionary()


def shown_pieces(key: KeyShape) -> frozenset[str]:
    """Return the ids of what the paper of a key shows: nothing that is off the plate."""
    if key not in _shown:
        _shown[key] = frozenset(piece.id for piece in without_detached(whole(key.part)))
    return _shown[key]


_known: WeakKeyDictionary[KeyShape, Mapping[str, PaperSaying]] = WeakKeyDictionary()


def paper_sayings(key: KeyShape) -> Mapping[str, PaperSaying]:
    """Return what the paper of a key says, by each binding that it stands for.

    Steps and spans of patterns go by the names of `KeyMotions.owners`.
    """
    if key not in _known:
        found: dict[str, PaperSaying] = {}
        for one in measured(key.part, View()):
            if isinstance(one, MeasuredRound) and one.label:
                continue
            saying = _saying(key, one)
            for name in dict.fromkeys((*one.stands_for, one.id)):
                found[_owner(name)] = saying
        _known[key] = found
    return _known[key]


def _owner(name: str) -> str:
    for k in (0, 1):
        if name.endswith(f".step{k + 1}"):
            return f"{name.removesuffix(f'.step{k + 1}')}.step.{k}"
    return name


def _saying(key: KeyShape, one: Measured) -> PaperSaying:
    text = one.wording.plain
    words = file_wording(text, key.part.unit)
    at, round_ = _place(one)
    if words is None:
        return PaperSaying(one.id, text, at, round_)
    return PaperSaying(one.id, text, at, round_, words.said.count, words.value, words.decimals)


def _place(one: Measured) -> tuple[XY, Arc | Circle | None]:
    if isinstance(one, MeasuredRound):
        curve = one.curve
        if isinstance(curve, Circle):
            return (curve.center[0] + curve.radius, curve.center[1]), curve
        return middle(curve), curve
    if isinstance(one, MeasuredLength):
        (ax, ay), (bx, by) = one.first[0], one.second[0]
        return (0.5 * (ax + bx), 0.5 * (ay + by)), None
    return one.options[0].vertex, None
