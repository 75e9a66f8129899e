"""A value that is typed beside held ones: what it says anew, what it replaces, what is so already.

A stage has as many freedoms as its place: two for a point, one for a size. A value more than that
either follows from the held ones, or contradicts them and then stands instead of one of them.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from sketcher.board.places.pending_bindings import Typed
from sketcher.board.readout.held_values import QUANTITIES, Stage, held_spot
from sketcher.board.readout.readout_content import stage_values
from sketcher.board.readout.row import LABELS
from sketcher.board.readout.typed_direction import is_direction, is_signed, to_level
from sketcher.geometry.curves import XY

SAME = 1e-9
"""Share of a value, and of a degree, within which two typed values say the same."""
SIZES = ("radius", "diameter", "width")
"""Rows that say the same thing of a round: the one typed last is what the paper says."""
RIVALS = (("x", "run"), ("y", "rise"), SIZES, ("length", "distance"))
"""Rows that say the same thing of a place: of several held values this one gives way."""


class Admitted(NamedTuple):
    """What is held after a value was typed.

    `follows` tells that the typed value follows from the held ones and is not held itself; `notice`
    is what the person is told, empty where nothing gave way.
    """

    held: dict[str, Typed]
    follows: bool = False
    notice: str = ""


def admit(
    stage: Stage, held: Mapping[str, Typed], name: str, typed: Typed, at: XY
) -> Admitted:
    """Return the held values with one more, typed while the pointer is at a place."""
    rest = {row: value for row, value in held.items() if row != name and row in stage.rows}
    wanted = {**rest, name: typed}
    rival = next((row for pair in RIVALS if name in pair for row in pair if row in rest), None)
    if len(rest) >= stage.freedoms:
        if follows_from(stage, rest, name, typed, at):
            if rival is None or not {name, rival} <= set(SIZES):
                return Admitted(rest, True, f"{said(name, typed)} follows from {listed(rest)}.")
            return _instead(rest, rival, name, typed, "which is the same")
        return _instead(rest, rival or next(iter(rest)), name, typed)
    if rival is not None and not _meets(stage, wanted, at):
        return _instead(rest, rival, name, typed)
    if rest and not _meets(stage, wanted, at):
        return _instead(rest, next(iter(rest)), name, typed, "with which it has no place")
    return Admitted(wanted)


def follows_from(
    stage: Stage, rest: Mapping[str, Typed], name: str, typed: Typed, at: XY
) -> bool:
    """Tell whether a typed value is what the held ones come to already."""
    spot = held_spot(stage, dict(rest), at)
    now = None if spot is None else stage_values(stage, spot.at).get(name)
    if now is None:
        return False
    wanted = typed.amount
    if QUANTITIES.get(name) == "angle":
        if not (stage.turns or is_direction(typed)):
            now = to_level(now)
        return abs((now - wanted + 180.0) % 360.0 - 180.0) <= SAME
    if name in ("run", "rise") and not is_signed(typed):
        now = abs(now)  # unsigned it is what the paper prints, on the side of the pointer
    return abs(now - wanted) <= SAME * max(1.0, abs(wanted))


def said(name: str, typed: Typed) -> str:
    """Return a held value in words."""
    return f"{LABELS.get(name, name.capitalize())} {typed.text}"


def listed(held: Mapping[str, Typed]) -> str:
    """Return held values in words, one after the other."""
    return " and ".join(said(name, typed) for name, typed in held.items())


def _meets(stage: Stage, held: dict[str, Typed], at: XY) -> bool:
    spot = held_spot(stage, held, at)
    return spot is None or not spot.word.startswith("no place")


def _instead(
    rest: dict[str, Typed], gone: str, name: str, typed: Typed, why: str = ""
) -> Admitted:
    kept = {row: value for row, value in rest.items() if row != gone}
    told = f"{said(name, typed)} stands instead of {said(gone, rest[gone])}"
    return Admitted({**kept, name: typed}, False, f"{told}{', ' + why if why else ''}.")
