"""Speeds and prices of a person's own, from a file of theirs: none are shipped, for none are facts.

A speed belongs to one machine, nozzle and gas; a table from somewhere else would be believed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, cast, get_args

from sketcher.errors import FileError
from sketcher.inspect.stock import Process
from sketcher.part.materials import plate_material
from sketcher.quantity.units import convert

SAME = 0.02
"""Share by which two thicknesses may differ and be one: a gauge is sold under two roundings."""

TEMPLATE = """\
# Rates of one machine. Put your own numbers in place of every 0; lengths in the unit below.
unit = "mm"            # or "in"
rapid = 0              # how far the torch moves in a minute between cuts
margin = 0             # kept free around the part on its blank
setup = 0              # minutes for each job
hour = 0               # price of an hour of the machine
currency = ""          # how prices are written

[[cut]]                # as often as needed
process = "plasma"     # or "laser"
material = "mild steel"
thickness = 3
speed = 0              # how far it cuts in a minute
pierce = 0             # seconds for each pierce
kilogram = 0           # price of a kilogram of this plate
"""
"""How the file is written; as it stands it is refused, for a speed of 0 cuts nothing."""

HOW = "an estimate that is made without --rates ends with how it is written"

MOST_NUMBER = 1e12
"""Beyond it no rate is meant; sums of such numbers stay far from what a float holds."""

_NUMBERS = ("rapid", "margin", "setup", "hour")
_OF_CUT = ("thickness", "speed", "pierce", "kilogram")
_ABOVE_ZERO = frozenset({"rapid", "thickness", "speed"})


@dataclass(frozen=True, slots=True)
class CutRate:
    """What holds for one process on one plate; `speed` and `thickness` in the file's unit.

    Parameters
    ----------
    process : "laser" or "plasma"
    material : str
    thickness : float
    speed : float
        Length in a minute.
    pierce : float
        Seconds.
    kilogram : float
        Price; 0 without one.
    """

    process: Process
    material: str
    thickness: float
    speed: float
    pierce: float
    kilogram: float


@dataclass(frozen=True, slots=True)
class RateTable:
    """A file of rates, as it stands there.

    Parameters
    ----------
    place : str
        The file.
    unit : "mm" or "in"
        Of all its lengths.
    rapid : float
        Length in a minute.
    margin : float
        Around the part on its blank.
    setup : float
        Minutes for each job.
    hour : float
        Price; 0 without one.
    currency : str
    cuts : tuple of CutRate
    """

    place: str
    unit: str
    rapid: float
    margin: float
    setup: float
    hour: float
    currency: str
    cuts: tuple[CutRate, ...]

    def fitting(
        self, material: str, thickness: float, unit: str, process: Process | None
    ) -> tuple[CutRate, ...]:
        """Return the rates for a plate: of one process, or without one each that there is.

        Nothing is read between two thicknesses: a speed does not fall in a straight line.

        Raises
        ------
        FileError
            Where there are none; it names what there is.
        """
        thick = convert(thickness, unit, self.unit)
        like = [one for one in self.cuts if process in (None, one.process)
                and _same_material(one.material, material)]
        found = tuple(one for one in like if abs(one.thickness - thick) <= SAME * thick)
        if not found:
            there = ", ".join(f"{one.process} {one.thickness:g} {self.unit}" for one in like)
            raise FileError(
                self.place,
                f"has no rate for {process or 'any process'} on {material or 'no material'}, "
                f"{thick:.6g} {self.unit}{f'; it has {there}' if there else ''}",
                "add a [[cut]] for it")
        return found


def read_rates(data: bytes, place: str) -> RateTable:
    """Return the rates that a file holds.

    Parameters
    ----------
    data : bytes
        The content, TOML as in `TEMPLATE`.
    place : str
        The file's name, for what is told.

    Raises
    ------
    FileError
        With the first thing that is wrong; it names the key.
    """
    import tomllib  # its patterns are compiled as it is loaded

    try:
        tree = tomllib.loads(data.decode("utf-8-sig"))
    except (UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise FileError(place, f"is no table of rates ({error})", HOW) from None
    except (ValueError, RecursionError):  # thousands of digits, or of brackets
        raise FileError(place, "is no table of rates (it holds what nobody writes)", HOW) from None
    _known(tree, ("unit", "currency", "cut", *_NUMBERS), place)
    if tree.get("unit") not in ("mm", "in"):
        raise FileError(f"{place}: unit", "is neither \"mm\" nor \"in\"", "write unit = \"mm\"")
    rows = tree.get("cut", [])
    if not isinstance(rows, list) or not rows or not all(isinstance(row, dict) for row in rows):
        raise FileError(f"{place}: cut", "there is no rate", "write at least one [[cut]]")
    rapid, margin, setup, hour = (_number(tree, key, f"{place}: {key}") for key in _NUMBERS)
    return RateTable(place, tree["unit"], rapid, margin, setup, hour,
                     _text(tree, "currency", place),
                     tuple(_cut(row, f"{place}: cut {n}") for n, row in enumerate(rows, 1)))


def _cut(row: Mapping[str, Any], place: str) -> CutRate:
    _known(row, ("process", "material", *_OF_CUT), place)
    if row.get("process") not in get_args(Process):
        raise FileError(f"{place}: process", "is none of laser and plasma",
                        "write process = \"plasma\"")
    material = _text(row, "material", place)
    if not material:
        raise FileError(f"{place}: material", "is not named", "write material = \"mild steel\"")
    thickness, speed, pierce, kilogram = (
        _number(row, key, f"{place}: {key}") for key in _OF_CUT)
    return CutRate(cast(Process, row["process"]), material, thickness, speed, pierce, kilogram)


def _known(tree: Mapping[str, Any], keys: tuple[str, ...], place: str) -> None:
    for key in tree:
        if key not in keys:
            raise FileError(f"{place}: {key}", "means nothing here", f"there are {', '.join(keys)}")


def _number(tree: Mapping[str, Any], key: str, place: str) -> float:
    value = tree.get(key, 0)
    if isinstance(value, bool) or not isinstance(value, int | float) or value != value:
        raise FileError(place, f"{value!r} is no number", f"write {key} = 1.5")
    if value > MOST_NUMBER:
        raise FileError(place, "is larger than any rate", f"write {key} = 1.5")
    if value < 0 or (value == 0 and key in _ABOVE_ZERO):
        raise FileError(place, f"{value:g} is not above zero" if key in _ABOVE_ZERO
                        else f"{value:g} is below zero", "put your own number there")
    return float(value)


def _text(tree: Mapping[str, Any], key: str, place: str) -> str:
    value = tree.get(key, "")
    if not isinstance(value, str) or not value.isprintable():
        raise FileError(f"{place}: {key}", f"{value!r} is no text", f"write {key} = \"...\"")
    return value.strip()


def _same_material(one: str, other: str) -> bool:
    """Tell whether two names mean the same plate: the same entry of the table, or the same word."""
    kind = plate_material(one)
    if kind is not None and plate_material(other) is kind:
        return True
    return one.strip().casefold() == other.strip().casefold()
