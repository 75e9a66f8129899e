"""The sheet as a DXF drawing: the part in its own unit at true size, everything else around it.

Layers and line types by line class, widths as line weights, true arcs, DIMENSION entities whose
pictures are the very strokes of the sheet. A fitted pattern is the layer's line type with a
scale of its own (code 48), so that it begins and ends with a long dash as well; an unbroken dash
is a continuous line on the same layer.
"""

from __future__ import annotations

import io
import os
from typing import Any

from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.line_classes import LineClass, line_classes
from sketcher.drafting.page import Page
from sketcher.drafting.paper_view import View
from sketcher.drafting.primitives import Fill, Item, Stroke, Text
from sketcher.errors import SketcherError
from sketcher.geometry.curves import XY, Circle, Line
from sketcher.part.atomic import Put, write_bytes

STYLE, DIMENSION_STYLE = "LETTERING", "SHEET"
FONT = "SourceSansPro-Regular.ttf"
BLACK = 7
ALIGN = {"left": "LEFT", "center": "CENTER", "right": "RIGHT"}
LETTERING_LAYER = "LETTERING"


def write_dxf_sheet(
    page: Page, path: str | os.PathLike[str], put: Put = write_bytes
) -> None:
    """Write the drawing page as DXF (version R2010), in one step, or `put` its content.

    Raises
    ------
    FileError
        When the file cannot be written.
    """
    document = dxf_document(page)
    stream = io.StringIO()
    document.write(stream)
    put(path, stream.getvalue().encode(document.output_encoding, "dxfreplace"))


def dxf_document(page: Page) -> Any:
    """Return the drawing page as a document in memory.

    Raises
    ------
    SketcherError
        For a page without a view of the part.
    """
    import ezdxf
    from ezdxf import units

    if page.view is None:
        raise SketcherError("page", f"{page.name} shows no part", "write the drawing page")
    document = ezdxf.new("R2010", units=units.MM if page.unit == "mm" else units.IN)
    document.header["$LTSCALE"] = 1.0
    document.header["$LWDISPLAY"] = 1
    size = 1.0 / page.view.factor  # the part's unit for a millimetre on paper
    _tables(document, page, size)
    sheet = _Writer(document, page.view, size, line_classes(page.practice))
    for item in page.items:
        sheet.draw(document.modelspace(), item)
    for drawn in page.dimensions:
        sheet.dimension(drawn)
    return document


def layer_of(line: str) -> str:
    """Return the layer of a line class."""
    return line.upper()


def _tables(document: Any, page: Page, size: float) -> None:
    """Layers, line types, lettering and dimension style."""
    for name, kind in line_classes(page.practice).items():
        linetype = "CONTINUOUS"
        if kind.elements:
            linetype = layer_of(name)
            pattern = [size * e * (-1) ** k for k, e in enumerate(kind.elements)]
            document.linetypes.add(linetype, [size * sum(kind.elements), *pattern],
                                   description=kind.title)
        layer = document.layers.add(layer_of(name), color=BLACK, linetype=linetype,
                                    lineweight=round(100 * kind.width))
        layer.description = kind.title
    document.layers.add(LETTERING_LAYER, color=BLACK, lineweight=18)
    document.styles.add(STYLE, font=FONT)
    style = document.dimstyles.add(DIMENSION_STYLE)
    height = next((i.height for d in page.dimensions for i in d.items if isinstance(i, Text)), 3.5)
    style.dxf.dimtxsty = STYLE
    style.dxf.dimscale = size
    style.dxf.dimtxt = height
    style.dxf.dimasz = height
    style.dxf.dimexo, style.dxf.dimexe = 1.5, 2.0
    style.dxf.dimtad = 1 if page.practice == "ISO" else 0
    style.dxf.dimtih = style.dxf.dimtoh = 0 if page.practice == "ISO" else 1


class _Writer:
    """Puts items of the display list into a layout, moved back into the part's coordinates."""

    def __init__(
        self, document: Any, view: View, size: float, classes: Any
    ) -> None:
        self._document, self._view, self._size = document, view, size
        self._classes: dict[str, LineClass] = dict(classes)

    def draw(self, layout: Any, item: Item) -> None:
        """Draw one item."""
        if isinstance(item, Stroke):
            self._stroke(layout, item)
        elif isinstance(item, Fill):
            corners = [self._view.back(p) for p in item.points]
            layout.add_solid(corners, dxfattribs={"layer": layer_of("dimension")})
        else:
            self._text(layout, item)

    def _stroke(self, layout: Any, stroke: Stroke) -> None:
        attributes: dict[str, Any] = {"layer": layer_of(stroke.line)}
        kind = self._classes[stroke.line]
        if kind.elements:
            if stroke.fit is not None and stroke.fit.count:
                nominal = stroke.fit.count * sum(kind.elements) + kind.elements[0]
                attributes["ltscale"] = stroke.fit.length / nominal
            else:
                attributes["linetype"] = "CONTINUOUS"
        curve, back = stroke.curve, self._view.back
        if isinstance(curve, Line):
            layout.add_line(back(curve.start), back(curve.end), dxfattribs=attributes)
        elif isinstance(curve, Circle) or curve.start == curve.end:
            layout.add_circle(back(curve.center), curve.radius * self._size,
                              dxfattribs=attributes)
        else:
            start, end = curve.start_angle, curve.start_angle + curve.sweep
            low, high = (start, end) if curve.sweep > 0 else (end, start)
            layout.add_arc(back(curve.center), curve.radius * self._size,
                           _degrees(low), _degrees(high), dxfattribs=attributes)

    def _text(self, layout: Any, item: Text) -> None:
        from ezdxf.enums import TextEntityAlignment

        text = layout.add_text(item.text, height=item.height * self._size, rotation=item.angle,
                               dxfattribs={"layer": LETTERING_LAYER, "style": STYLE})
        text.set_placement(self._view.back(item.at),
                           align=TextEntityAlignment[ALIGN[item.anchor]])

    def dimension(self, drawn: Drawn) -> None:
        """Add a DIMENSION entity and draw its picture from the sheet's own strokes."""
        entity = self._entity(drawn)
        picture = self._document.blocks.new_anonymous_block(type_char="D")
        for item in drawn.items:
            self.draw(picture, item)
        entity.dxf.geometry = picture.name
        entity.dxf.text_midpoint = self._view.back(drawn.place)
        entity.dxf.text = drawn.text
        entity.dxf.dimtype |= 128  # the lettering stands where it was put
        entity.dxf.layer = layer_of("dimension")

    def _entity(self, drawn: Drawn) -> Any:
        model = self._document.modelspace()
        points: list[XY] = [self._view.back(p) for p in drawn.points]
        if drawn.form in ("linear", "aligned"):
            first, second, base = points
            added = model.add_linear_dim(base=base, p1=first, p2=second, angle=drawn.angle,
                                         dimstyle=DIMENSION_STYLE)
        elif drawn.form == "radius":
            added = model.add_radius_dim(center=points[0], mpoint=points[1],
                                         dimstyle=DIMENSION_STYLE)
        elif drawn.form == "diameter":
            added = model.add_diameter_dim(center=points[0], mpoint=points[1],
                                           dimstyle=DIMENSION_STYLE)
        else:
            vertex, one, other, base = points
            added = model.add_angular_dim_3p(base=base, center=vertex, p1=one, p2=other,
                                             dimstyle=DIMENSION_STYLE)
        entity = added.dimension
        entity.dxf.actual_measurement = entity.get_measurement()
        return entity


def _degrees(angle: float) -> float:
    from math import degrees

    return degrees(angle) % 360.0
