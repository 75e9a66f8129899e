"""Line classes of ISO 128 and ASME Y14.2, and patterns fitted to a length.

One class is one entry of ``resources/standards/lines.toml``, where its source stands beside it.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import ceil, floor, log
from types import MappingProxyType
from typing import Any, Literal, TypeAlias

from sketcher.errors import SketcherError
from sketcher.shipped import shipped

Practice: TypeAlias = Literal["ISO", "ASME"]
Dash: TypeAlias = tuple[float, float]

MOST_REPEATS = 2_000
"""Repeats of a pattern on one line, some 15 m of it; past that the long dashes grow with the line.

A line of a part that is drawn by mistake a thousand kilometres long would otherwise take all the
memory there is for dashes that nobody can tell apart.
"""


@dataclass(frozen=True, slots=True)
class LineClass:
    """One kind of line on the sheet.

    Parameters
    ----------
    name : str
        ``visible``, ``center``, ...
    width : float
        In mm.
    elements : tuple of float
        Long dash, gap, short dash, gap, ... in mm; empty for a continuous line.
    least, most : float
        Bounds of the long dash when the pattern is fitted, in mm.
    title : str
        What the standard calls it.
    """

    name: str
    width: float
    elements: tuple[float, ...]
    least: float
    most: float
    title: str


@dataclass(frozen=True, slots=True)
class Fit:
    """A pattern fitted to a length: `count` times (long, *rest), and one long dash more, in mm."""

    long: float
    rest: tuple[float, ...]
    count: int

    @property
    def length(self) -> float:
        """Length that the pattern covers."""
        return self.count * (self.long + sum(self.rest)) + self.long

    @property
    def dashes(self) -> tuple[Dash, ...]:
        """Start and end of every dash along the line, long ones first and last."""
        found = [(0.0, self.long)]
        at = self.long
        for _ in range(self.count):
            for number, size in enumerate((*self.rest, self.long)):
                if number % 2:  # rest begins with a gap
                    found.append((at, at + size))
                at += size
        return tuple(found)

    def longs(self) -> tuple[Dash, ...]:
        """Return start and end of the long dashes."""
        step = self.long + sum(self.rest)
        return tuple((k * step, k * step + self.long) for k in range(self.count + 1))


@cache
def line_classes(practice: Practice) -> Mapping[str, LineClass]:
    """Return the line classes of a practice by name.

    Raises
    ------
    SketcherError
        For a practice that the table does not have.
    """
    text = shipped("resources", "standards/lines.toml").read_text(encoding="utf-8")
    table = tomllib.loads(text).get(practice)
    if table is None:
        raise SketcherError("drawing.practice", f"no line classes for {practice!r}",
                            "choose ISO or ASME")
    return MappingProxyType({
        name: _line_class(name, entry, table)
        for name, entry in table.items() if isinstance(entry, dict)
    })


def line_class(practice: Practice, name: str) -> LineClass:
    """Return one line class.

    Raises
    ------
    SketcherError
        For an unknown name.
    """
    classes = line_classes(practice)
    if name not in classes:
        raise SketcherError("line class", f"there is no {name!r}",
                            f"use one of {', '.join(classes)}")
    return classes[name]


def fit(length: float, line: LineClass, more: int = 0) -> Fit:
    """Fit a line's pattern to a length so that it begins and ends with a long dash.

    The long dash is stretched or shortened to fill the length, the other elements stay. Of the
    possible numbers of repeats the one counts whose long dash is nearest the nominal one (by
    ratio); `more` asks for so many repeats more or, below zero, fewer. At most `MOST_REPEATS`.
    """
    if not line.elements:
        return Fit(length, (), 0)
    nominal, rest = line.elements[0], line.elements[1:]
    period = sum(rest)
    ideal = min((length - nominal) / (nominal + period), MOST_REPEATS)
    options = [n for n in {1, max(1, floor(ideal)), max(1, ceil(ideal))}
               if _long(length, n, period) >= line.least]
    # Only a line too short for two long dashes stays unbroken.
    count = min(options, key=lambda n: abs(log(_long(length, n, period) / nominal)), default=0)
    if more:
        wanted = max(0, count + more)
        long = _long(length, wanted, period)
        if line.least <= long and (long <= line.most or not wanted):
            count = wanted
    return Fit(_long(length, count, period), rest if count else (), count)


def _long(length: float, count: int, period: float) -> float:
    return (length - count * period) / (count + 1)


def _line_class(name: str, entry: Mapping[str, Any], table: Mapping[str, Any]) -> LineClass:
    width = table[entry["width"]] if isinstance(entry["width"], str) else entry["width"]
    unit = width if table["unit"] == "d" else 1.0
    elements = tuple(unit * size for size in entry.get("elements", ()))
    return LineClass(name, width, elements, unit * entry.get("least", 0.0),
                     unit * entry.get("most", 0.0), entry["title"])
