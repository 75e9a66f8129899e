"""What is wrong with a curve of a hand-in, before it is put into words."""

from __future__ import annotations

from dataclasses import dataclass

from sketcher.geometry.curves import XY


@dataclass(frozen=True, slots=True)
class Slip:
    """One thing that is wrong in the outline.

    Parameters
    ----------
    rule : str
        Name of the rule that deducts for it.
    at : (x, y)
        Where to look, as the hand-in lies on the key.
    keys : tuple of int
        Features of what was to be drawn that it is about.
    hand : tuple of int
        Features of the hand-in that show it.
    curves : tuple of int
        Curves of the hand-in's outline that show it, where these are not whole features.
    amount : float
        How much: a length in the key's unit, or an angle in degrees.
    away : (x, y)
        How far it lies from its place.
    word : str
        Which sort of it, where a rule knows several.
    count : int
        Places that share it.
    """

    rule: str
    at: XY
    keys: tuple[int, ...] = ()
    hand: tuple[int, ...] = ()
    curves: tuple[int, ...] = ()
    amount: float = 0.0
    away: XY = (0.0, 0.0)
    word: str = ""
    count: int = 1
