"""Writes plates as DXF the way students do: any pose, unit, order, layers and version."""

from __future__ import annotations

from cmath import phase, rect
from dataclasses import dataclass, field, replace
from itertools import pairwise
from math import degrees, tan
from pathlib import Path
from random import Random
from typing import Any

import ezdxf
import numpy as np

from tests.hand_ins.strokes import Bow, Loop, Ring, Stroke, backward, moved

OUTLINE_LAYERS = ("OUTLINE", "0", "Kontur", "CONTORNO", "visible", "Profil", "Körperkanten", "1")
VERSIONS = ("R12", "R2000", "R2018")
UNIT_CODES = {"mm": 4, "in": 1}
PER_INCH = 25.4


@dataclass(frozen=True)
class Manner:
    """How a student draws: what changes the file and not the part.

    Parameters
    ----------
    turn : float
        Degrees.
    mirrored : bool
    shift : complex
        In the file's numbers.
    unit : str
        Of the file's numbers.
    told : bool
        Whether the header says the unit; R12 cannot.
    scale : float
        2 where it is drawn twice as large.
    version : str
    layer : str
        Of the outline.
    polylines : bool
        Closed loops as one polyline.
    split, flipped : float
        Share of the strokes drawn in pieces, and from their other end.
    shuffled : bool
    """

    turn: float = 0.0
    mirrored: bool = False
    shift: complex = 0j
    unit: str = "mm"
    told: bool = True
    scale: float = 1.0
    version: str = "R2000"
    layer: str = "OUTLINE"
    polylines: bool = False
    split: float = 0.0
    flipped: float = 0.0
    shuffled: bool = False

    def at(self, z: complex, unit: str) -> complex:
        """Where a place of the paper comes to lie in the file."""
        z = -z.conjugate() if self.mirrored else z
        factor = {("in", "mm"): PER_INCH, ("mm", "in"): 1.0 / PER_INCH}.get((unit, self.unit), 1.0)
        return z * rect(factor * self.scale, np.radians(self.turn)) + self.shift


def some_manner(random: Random, unit: str) -> Manner:
    """A manner of drawing by chance; every third draws in the plainest way."""
    if random.random() < 0.2:
        return Manner(unit=unit)
    return Manner(
        turn=random.uniform(1.0, 359.0) if random.random() < 0.12 else random.choice(
            (0.0, 0.0, 0.0, 90.0, 180.0, 270.0)),
        mirrored=random.random() < 0.2,
        shift=complex(random.uniform(-300.0, 300.0), random.uniform(-300.0, 300.0)),
        unit=unit if random.random() < 0.8 else "in" if unit == "mm" else "mm",
        told=random.random() < 0.8, scale=random.choice((1.0, 1.0, 1.0, 1.0, 2.0, 0.5)),
        version=random.choice(VERSIONS), layer=random.choice(OUTLINE_LAYERS),
        polylines=random.random() < 0.3, split=random.choice((0.0, 0.0, 0.2)),
        flipped=random.choice((0.0, 0.5)), shuffled=random.random() < 0.7)


@dataclass
class Drawing:
    """What is on the sheet: loops and loose strokes of the outline, in the paper's unit."""

    loops: list[Loop]
    loose: list[Stroke] = field(default_factory=list)


def write_dxf(path: Path, drawing: Drawing, unit: str, manner: Manner, random: Random) -> None:
    """Write a drawing to a file."""
    doc = ezdxf.new(manner.version)
    told = manner.told and manner.version != "R12"  # its header has no unit
    doc.units = UNIT_CODES[manner.unit] if told else 0
    if manner.layer != "0":
        doc.layers.add(manner.layer)
    space = doc.modelspace()
    pieces: list[Loop] = []
    for loop in drawing.loops:
        whole = len(loop) > 1 and closed(loop)
        pieces += [loop] if whole and manner.polylines else [(stroke,) for stroke in loop]
    pieces += [(stroke,) for stroke in drawing.loose]
    if manner.shuffled:
        random.shuffle(pieces)
    for piece in pieces:
        placed = tuple(moved(stroke, lambda z: manner.at(z, unit), manner.mirrored)
                       for stroke in piece)
        if len(placed) > 1:
            _polyline(space, placed, manner)
            continue
        for stroke in _in_pieces(placed[0], manner, random):
            _entity(space, stroke, {"layer": manner.layer})
    doc.saveas(path)


def closed(loop: Loop) -> bool:
    """Whether the strokes of a loop meet end to end."""
    if len(loop) == 1:
        return isinstance(loop[0], Ring)
    size = max(abs(stroke.start) + abs(stroke.end) for stroke in loop)
    return all(abs(a.end - b.start) <= 1e-9 * size for a, b in pairwise((*loop, loop[0])))


def _in_pieces(stroke: Stroke, manner: Manner, random: Random) -> list[Stroke]:
    if isinstance(stroke, Ring):
        return [stroke]
    out: list[Stroke] = [stroke]
    if random.random() < manner.split:
        middle = stroke.at(random.uniform(0.2, 0.8))
        out = [replace(stroke, end=middle), replace(stroke, start=middle)]
    return [backward(each) if random.random() < manner.flipped else each for each in out]


def _entity(space: Any, stroke: Stroke, attribs: dict[str, Any]) -> Any:
    def xy(z: complex) -> tuple[float, float]:
        return z.real, z.imag

    if isinstance(stroke, Ring):
        return space.add_circle(xy(stroke.center), stroke.radius, attribs)
    if isinstance(stroke, Bow):
        ends = [degrees(phase(z - stroke.center)) for z in (stroke.start, stroke.end)]
        return space.add_arc(xy(stroke.center), stroke.radius, *ends[::1 if stroke.ccw else -1],
                             dxfattribs=attribs)
    return space.add_line(xy(stroke.start), xy(stroke.end), attribs)


def _polyline(space: Any, loop: Loop, manner: Manner) -> None:
    points = [(stroke.start.real, stroke.start.imag,
               tan(stroke.sweep / 4.0) if isinstance(stroke, Bow) else 0.0) for stroke in loop]
    add = space.add_polyline2d if manner.version == "R12" else space.add_lwpolyline
    add(points, format="xyb", close=True, dxfattribs={"layer": manner.layer})
