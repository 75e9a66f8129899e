"""Dimensions of the gate strap as somebody lays them by hand, and the sheet about them.

Nothing crosses: shorter dimensions stand nearer, leaders slant, the sharp corner that is measured
to is drawn thin (ISO 129-1 and ASME Y14.5 in outline, from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from math import degrees
from typing import Any, Literal

import numpy as np

from tests.hand_ins.strokes import Bow, Plate, Ring, Straight, named
from tests.hand_ins.trigonometry import meeting

LAYER, SHEET_LAYER = "DIMENSIONS", "TITLE BLOCK"
STYLE: Mapping[str, float] = {
    "dimtxt": 3.5, "dimasz": 3.5, "dimexo": 1.5, "dimexe": 2.0, "dimgap": 1.0, "dimtad": 1,
    "dimdec": 2, "dimzin": 8, "dimadec": 1, "dimazin": 2, "dimtih": 0, "dimtoh": 0}
"""Of the dimension style: lengths in mm on paper, no zeros at the end."""


@dataclass(frozen=True)
class Measured:
    """One dimension.

    Parameters
    ----------
    name : str
    kind : str
    points : tuple of complex
        Both feet; center and a place on it; vertex and a place on each ray.
    at : complex
        A place on the dimension line; where the text of a round is.
    plumb : bool
        A length along y.
    text : str
        ``<>`` stands for what is measured.
    """

    name: str
    kind: Literal["linear", "radius", "diameter", "angle"]
    points: tuple[complex, ...]
    at: complex
    plumb: bool = False
    text: str = "<>"


@dataclass(frozen=True)
class Lettered:
    """A text on the sheet."""

    text: str
    at: complex
    height: float = 3.5


@dataclass
class Sheeting:
    """What a finished sheet has besides the part."""

    measured: list[Measured] = field(default_factory=list)
    thin: list[Straight] = field(default_factory=list)
    """Lines on the layer of the dimensions."""
    frame: list[Straight] = field(default_factory=list)
    words: list[Lettered] = field(default_factory=list)
    style: dict[str, float] = field(default_factory=lambda: dict(STYLE))
    widths: tuple[int, int] = (50, 25)
    """Of edges and of thin lines, in hundredths of a millimetre."""

    def swap(self, name: str, *others: Measured) -> None:
        """Draw others in place of a dimension."""
        self.measured = [new for each in self.measured
                         for new in (others if each.name == name else (each,))]

    def named(self, name: str) -> Measured:
        return next(each for each in self.measured if each.name == name)

    def say(self, old: str, new: str) -> None:
        """Write something else on the sheet; nothing where `new` is empty."""
        self.words = [replace(each, text=new) if each.text == old else each
                      for each in self.words if each.text != old or new]


def gate_strap_sheet(plate: Plate) -> Sheeting:
    """The whole sheet of the gate strap, by the strokes of its plate."""
    side, base, sill, slope, neck = (
        named(plate.strokes, name, Straight) for name in ("side", "base", "sill", "slope", "neck"))
    knee, foot, arch, rim, small = (named(plate.strokes, name, Bow) for name in (
        "knee'", "foot", "arch", "eye rim", "window corner"))
    eye, hole, left_hole = (
        named(plate.strokes, name, Ring) for name in ("eye", "foot hole", "foot hole'"))
    right, left = side.end, side.start.real * -1.0
    sharp = meeting(slope.start, slope.end - slope.start, neck.start, neck.end - neck.start)
    level = Measured

    def round_(name: str, kind: Literal["radius", "diameter"], bow: Bow | Ring, at: complex,
               text: str = "<>") -> Measured:
        way = (at - bow.center) / abs(at - bow.center)
        return Measured(name, kind, (bow.center, bow.center + way * bow.radius), at, text=text)

    measured = [
        level("120", "linear", (complex(left, side.start.imag), side.start), -20j),
        level("40", "linear", (sill.start, sill.end), -10j),
        level("hole 14", "linear", (hole.center, side.start), -10j),
        level("run 24", "linear", (sharp, right), 50j),
        level("24", "linear", (base.start, complex(left, right.imag)), complex(-70), plumb=True),
        level("62", "linear", (base.start, arch.at(0.5)), complex(-80), plumb=True),
        level("12", "linear", (base.end, hole.center), complex(70), plumb=True),
        level("100", "linear", (base.end, eye.center), complex(80), plumb=True),
        level("14", "linear", (complex(10.0), complex(10.0, sill.start.imag)), complex(10),
              plumb=True),
        level("30", "angle", (right, slope.end, complex(right.real - 24.0, right.imag)),
              right + 22.0 * np.exp(1j * np.radians(165.0))),
        round_("R8", "radius", small, 46 + 85j, "4x <>"),
        round_("R12", "radius", knee, knee.center + 26.0 * np.exp(-1j * np.radians(70.0)),
               "2x <>"),
        round_("O20", "diameter", eye, -34 + 118j, "<> ±0.1"),
        round_("R22", "radius", rim, 28 + 128j),
        round_("O9", "diameter", left_hole, -30 + 5.2j, "2x <>"),
        round_("R36", "radius", arch, 16 + 80j),
    ]
    assert foot.radius == small.radius
    thin = [Straight("sharp", knee_end, sharp + 1.5 * (sharp - knee_end) / abs(sharp - knee_end))
            for knee_end in (slope.end, neck.start)]
    return Sheeting(measured, thin, *_sheet("Gate strap"))


def _sheet(title: str) -> tuple[list[Straight], list[Lettered]]:
    """A border, and a title block in its lower right corner."""
    def box(low: complex, high: complex) -> list[Straight]:
        corners = [low, complex(high.real, low.imag), high, complex(low.real, high.imag)]
        return [Straight("frame", a, b) for a, b in zip(
            corners, [*corners[1:], corners[0]], strict=True)]

    low = 5 - 75j
    frame = box(-105 - 75j, 105 + 150j)
    words = []
    for n, (label, entry) in enumerate((("TITLE", title), ("NAME", "Number 17"),
                                        ("DATE", "2026-01-15"), ("SCALE", "1:1"))):
        cell = low + complex(50.0 * (n % 2), 17.0 * (1 - n // 2))
        frame += box(cell, cell + 50 + 17j)
        words += [Lettered(label, cell + 2 + 12.5j, 2.5), Lettered(entry, cell + 4 + 4j)]
    return frame, words


def write_dimensions(
    doc: Any, sheeting: Sheeting, at: Callable[[complex], complex], turn: float
) -> None:
    """Write the dimensions of a sheet; `at` takes a place to the file, `turn` is in degrees."""
    def xy(z: complex) -> tuple[float, float]:
        placed = at(z)
        return placed.real, placed.imag

    doc.dimstyles.new("CLASS", dxfattribs=dict(sheeting.style))
    space, layer = doc.modelspace(), {"layer": LAYER}
    for each in sheeting.measured:
        more = {"dimstyle": "CLASS", "dxfattribs": layer, "text": each.text}
        if each.kind == "linear":
            drawn = space.add_linear_dim(xy(each.at), *map(xy, each.points),
                                         angle=turn + (90.0 if each.plumb else 0.0), **more)
        elif each.kind == "angle":
            drawn = space.add_angular_dim_3p(xy(each.at), *map(xy, each.points), **more)
        else:
            center, place = each.points
            add = space.add_radius_dim if each.kind == "radius" else space.add_diameter_dim
            angle = degrees(np.angle(at(place) - at(center)))
            drawn = add(xy(center), radius=abs(at(place) - at(center)), angle=angle,
                        location=xy(each.at), **more)
        drawn.render()
    for line in sheeting.thin:
        space.add_line(xy(line.start), xy(line.end), layer)
    for line in sheeting.frame:
        space.add_line(xy(line.start), xy(line.end), {"layer": SHEET_LAYER})
    for words in sheeting.words:
        space.add_text(words.text, height=words.height, rotation=turn,
                       dxfattribs={"layer": SHEET_LAYER, "insert": xy(words.at)})
