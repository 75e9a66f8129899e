"""Writes a spoiled drawing as a DXF, with ezdxf."""

from __future__ import annotations

from math import degrees, tan, tau
from pathlib import Path
from random import Random
from typing import Any

import ezdxf

from tests.damage.original import Original
from tests.damage.strokes import Bow, Loop, Ring, Spoiled, Straight, Stroke, carried
from tests.damage.ways import called, ways

CODES = {"mm": 4, "in": 1, None: 0}
"""$INSUNITS of the DXF reference: inches 1, millimetres 4, none 0."""


def spoiled(origin: Original, recipe: tuple[str, ...]) -> Spoiled:
    """Return a part's outline spoiled; the seed is made of the names of part and ways."""
    random = Random(f"{origin.name} {called(recipe)}")
    drawing = Spoiled(origin.loops, unit=origin.part.unit)
    for name in recipe:
        drawing = ways()[name].spoil(drawing, random)
    return drawing


def write(drawing: Spoiled, path: Path) -> None:
    """Write the file."""
    random = Random(f"numbers {path.name}")
    doc = ezdxf.new("R2010", units=CODES[drawing.unit])
    header = drawing.unit if drawing.header == "" else drawing.header
    doc.header["$INSUNITS"] = CODES[header]
    doc.header["$MEASUREMENT"] = 0 if header == "in" else 1
    target: Any = doc.modelspace()
    if drawing.scale != 1.0:
        inner, outer = doc.blocks.new("INNER"), doc.blocks.new("OUTER")
        outer.add_blockref("INNER", (0.0, 0.0), {"rotation": 90.0})
        target.add_blockref("OUTER", (0.0, 0.0), {
            "xscale": drawing.scale, "yscale": drawing.scale, "rotation": 270.0})
        target = inner
    pen = _Pen(target, drawing, random)
    for loop in drawing.loops:
        pen.loop(loop)
    for stroke in drawing.loose:
        pen.stroke(pen.placed(stroke), "0")
    for number, stroke in enumerate(drawing.rubbish):
        layer = doc.layers.add(f"HIDDEN{number}")
        if number % 2:
            layer.freeze()
        else:
            layer.off()
        pen.stroke(pen.placed(stroke), layer.dxf.name)
    doc.saveas(path)


class _Pen:
    """Draws strokes into a layout, with the errors that the drawing is to have."""

    def __init__(self, target: Any, drawing: Spoiled, random: Random) -> None:
        self.target = target
        self.drawing = drawing
        self.random = random

    def placed(self, stroke: Stroke) -> Stroke:
        d = self.drawing
        shift = (d.shift[0] / d.scale, d.shift[1] / d.scale)
        return carried(stroke, d.turn, shift, 1.0 / d.scale)

    def number(self, value: float, reach: float = 1.0) -> float:
        """A number with its error; `reach` is how far a unit of it moves the outline."""
        noise = self.drawing.noise / self.drawing.scale / reach
        value += self.random.uniform(-noise, noise) if noise else 0.0
        return value if self.drawing.decimals is None else round(value, self.drawing.decimals)

    def place(self, at: tuple[float, float]) -> tuple[float, float]:
        return self.number(at[0]), self.number(at[1])

    def loop(self, loop: Loop) -> None:
        if not self.drawing.joined or len(loop) == 1:
            for stroke in loop:
                self.stroke(self.placed(stroke), "0")
            return
        vertices = []
        for stroke in loop:
            bulge = 0.0
            if isinstance(stroke, Bow):
                bulge = tan(stroke.sweep / 4.0)
            put = self.placed(stroke)
            assert not isinstance(put, Ring)
            vertices.append((*self.place(put.a), bulge))
        self.target.add_lwpolyline(vertices, format="xyb", close=True)

    def stroke(self, stroke: Stroke, layer: str) -> None:
        how = {"layer": layer}
        if isinstance(stroke, Straight):
            self.target.add_line(self.place(stroke.a), self.place(stroke.b), how)
        elif isinstance(stroke, Ring):
            self.target.add_circle(self.place(stroke.center), self.number(stroke.radius), how)
        else:
            first, last = stroke.start, stroke.start + stroke.sweep
            if stroke.sweep < 0.0:  # an ARC of a DXF always runs counter-clockwise
                first, last = last, first
            reach = stroke.radius * tau / 360.0
            self.target.add_arc(self.place(stroke.center), self.number(stroke.radius),
                                self.number(degrees(first) % 360.0, reach),
                                self.number(degrees(last) % 360.0, reach), dxfattribs=how)
