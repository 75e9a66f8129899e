"""Writes plates as DXF the way students do: any pose, unit, order, layers and version."""

from __future__ import annotations

import logging
from cmath import phase, rect
from dataclasses import dataclass, field, replace
from itertools import pairwise
from math import degrees, tan
from pathlib import Path
from random import Random
from typing import Any, Literal

import ezdxf
import numpy as np

from tests.hand_ins.dimensions_by_hand import (
    LAYER,
    SHEET_LAYER,
    Sheeting,
    write_dimensions,
)
from tests.hand_ins.strokes import Bow, Loop, Ring, Straight, Stroke, backward, moved

logging.getLogger("ezdxf").setLevel(logging.ERROR)  # warns of each R12 that it has no unit

CENTER_LAYERS = ("CENTER", "Center Lines", "MITTELLINIEN", "EJES", "AXES", "Mitte")
OUTLINE_LAYERS = ("OUTLINE", "0", "Kontur", "CONTORNO", "visible", "Profil", "Körperkanten", "1")
VERSIONS = ("R12", "R2000", "R2018")
LAYOUT_LAYER = "CONSTRUCTION"
DASHED, PATTERN = "CENTER", [2.0, 1.25, -0.25, 0.25, -0.25]
"""A line type by the reference of the format: length, then dashes and gaps. A line of 1.25 repeats
has one in its middle, so that its short dash makes the plus."""
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
    header : str
        What the header says where that is not true.
    scale : float
        2 where it is drawn twice as large.
    version : str
    layer, center_layer : str
        Of the outline, and of the center lines.
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
    header: Literal["mm", "in", ""] = ""
    scale: float = 1.0
    version: str = "R2000"
    layer: str = "OUTLINE"
    center_layer: str = "CENTER"
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
    """What is on the sheet, in the paper's unit."""

    loops: list[Loop]
    loose: list[Stroke] = field(default_factory=list)
    """Strokes of the outline that are in no closed loop."""
    centers: list[Stroke] = field(default_factory=list)
    dashed: list[Straight] = field(default_factory=list)
    """Center lines drawn as one line each, with a line type."""
    layout: list[Stroke] = field(default_factory=list)
    """Construction, on a layer of its own."""

    @property
    def strokes(self) -> list[Stroke]:
        """Those of its loops."""
        return [stroke for loop in self.loops for stroke in loop]


def write_dxf(
    path: Path, drawing: Drawing, unit: str, manner: Manner, random: Random,
    sheeting: Sheeting | None = None,
) -> None:
    """Write a drawing to a file, with the dimensions of its sheet where there are any."""
    doc = ezdxf.new(manner.version)
    if manner.version != "R12":  # its header has no unit
        doc.units = UNIT_CODES[manner.header or manner.unit] if manner.told else 0
    _layers(doc, drawing, manner, sheeting)
    space = doc.modelspace()
    pieces: list[tuple[Loop, str]] = []
    for loop in drawing.loops:
        whole = len(loop) > 1 and closed(loop)
        pieces += [(each, manner.layer) for each in (
            [loop] if whole and manner.polylines else [(stroke,) for stroke in loop])]
    pieces += [((stroke,), layer) for strokes, layer in (
        (drawing.loose, manner.layer), (drawing.centers, manner.center_layer),
        (drawing.layout, LAYOUT_LAYER)) for stroke in strokes]
    if manner.shuffled:
        random.shuffle(pieces)
    for piece, layer in pieces:
        placed = tuple(moved(stroke, lambda z: manner.at(z, unit), manner.mirrored)
                       for stroke in piece)
        if len(placed) > 1:
            _polyline(space, placed, manner)
            continue
        cut = _in_pieces(placed[0], manner, random) if layer == manner.layer else placed
        for stroke in cut:
            _entity(space, stroke, {"layer": layer})
    for line in drawing.dashed:
        placed_line = moved(line, lambda z: manner.at(z, unit), manner.mirrored)
        assert isinstance(placed_line, Straight)
        _entity(space, placed_line, {
            "layer": manner.center_layer, "linetype": DASHED,
            "ltscale": 0.8 * abs(placed_line.end - placed_line.start) / sum(map(abs, PATTERN[1:]))})
    if sheeting is not None:
        write_dimensions(doc, sheeting, lambda z: manner.at(z, unit), manner.turn)
    doc.saveas(path)


def _layers(doc: Any, drawing: Drawing, manner: Manner, sheeting: Sheeting | None) -> None:
    """The layers in use, with their widths where the version has any."""
    wide, thin = (50, 25) if sheeting is None else sheeting.widths
    used = [] if sheeting is None else [(LAYER, thin), (SHEET_LAYER, wide)]
    if drawing.centers or drawing.dashed:
        used.append((manner.center_layer, thin))
    used.append((manner.layer, wide))
    if drawing.layout:
        used.append((LAYOUT_LAYER, 18))
    if drawing.dashed:
        doc.linetypes.add(DASHED, PATTERN, description="Center ____ _ ____")
    for name, width in used:
        layer = doc.layers.get(name) if name in doc.layers else doc.layers.add(name)
        if manner.version != "R12":
            layer.dxf.lineweight = width


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
