"""The sheet as a DXF drawing: the part in its own unit at true size, everything else around it.

The view has layers and line types by line class, widths as line weights, true arcs, DIMENSION
entities whose pictures are the very strokes of the sheet and whose number is what they measure.
Frame, title block, notes and tables have layers of their own, so that hiding them leaves the part.
A fitted pattern is the layer's line type with a scale of its own (code 48), so that it begins and
ends with a long dash as well; an unbroken dash is a continuous line on the same layer. Details and
what lies beyond a break stand as on the sheet: their dimensions have a factor (DIMLFAC).
"""

from __future__ import annotations

import os
from math import cos, dist, radians, sin
from typing import Any

from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.line_classes import LineClass, line_classes
from sketcher.drafting.page import Page
from sketcher.drafting.paper_view import View
from sketcher.drafting.primitives import FAINT_INK, Fill, Item, Stroke, Text
from sketcher.errors import SketcherError
from sketcher.exchange.dxf_bytes import dxf_bytes, new_document
from sketcher.exchange.dxf_wording import dxf_text, spoken
from sketcher.geometry.curves import XY, Circle, Line
from sketcher.part.atomic import Put, write_bytes

STYLE, DIMENSION_STYLE = "LETTERING", "SHEET"
FONT = "SourceSansPro-Regular.ttf"
BLACK = 7
ALIGN = {"left": "LEFT", "center": "CENTER", "right": "RIGHT"}
LETTERING_LAYER = "LETTERING"
SHEET_LAYERS = {"sheet:frame": "FRAME", "sheet:title": "TITLE", "sheet:notes": "NOTES",
                "sheet:stamp": "STAMP"}
"""Layers of what is around the view, by source; what else a sheet has is on `TABLE_LAYER`."""

TABLE_LAYER = "TABLE"
SAME = 1e-9  # a factor nearer to 1 than this is 1


def write_dxf_sheet(
    page: Page, path: str | os.PathLike[str], put: Put = write_bytes
) -> None:
    """Write the drawing page as DXF (version R2010), in one step, or `put` its content.

    Raises
    ------
    FileError
        When the file cannot be written.
    """
    put(path, dxf_bytes(dxf_document(page)))


def dxf_document(page: Page) -> Any:
    """Return the drawing page as a document in memory.

    Raises
    ------
    SketcherError
        For a page without a view of the part.
    """
    if page.view is None:
        raise SketcherError("page", f"{page.name} shows no part", "write the drawing page")
    document = new_document("R2010", page.unit)
    document.header["$LTSCALE"] = 1.0
    document.header["$LWDISPLAY"] = 1
    flat = page.view.whole()
    size = 1.0 / flat.factor  # the part's unit for a millimetre on paper
    _extents(document, flat.back((0.0, 0.0)), flat.back(page.size))
    _tables(document, page, size)
    sheet = _Writer(document, flat, size, line_classes(page.practice))
    for item in page.items:
        sheet.draw(document.modelspace(), item)
    for drawn in page.dimensions:
        sheet.dimension(drawn, _grown(drawn, page))
    return document


def _grown(drawn: Drawn, page: Page) -> float:
    """Return what a dimension measures on the part by what it measures in the drawing."""
    view = page.view_of(drawn.id)
    if view is None or page.view is None or drawn.form == "angle":
        return 1.0
    turn = radians(drawn.angle)
    on_paper, on_part = (
        abs((b[0] - a[0]) * cos(turn) + (b[1] - a[1]) * sin(turn))
        if drawn.form == "linear" else dist(a, b)
        for a, b in (drawn.points[:2], tuple(map(view.back, drawn.points[:2]))))
    return on_part * page.view.factor / on_paper if on_paper else 1.0


def layer_of(line: str) -> str:
    """Return the layer of a line class."""
    return line.upper()


def _place_of(source: str, line: str) -> str:
    """Return the layer of an item: of its line class in the view, else of the block it is in."""
    if not source.startswith("sheet:"):
        return layer_of(line)
    return SHEET_LAYERS.get(source, TABLE_LAYER)


def _extents(document: Any, low: XY, high: XY) -> None:
    """Tell how far the drawing reaches, and open it with the whole sheet in view."""
    space = document.modelspace()
    space.reset_extents((*low, 0.0), (*high, 0.0))
    space.reset_limits(low, high)
    for name, corner in (("$EXTMIN", low), ("$EXTMAX", high)):
        document.header[name] = (*corner, 0.0)
    document.header["$LIMMIN"], document.header["$LIMMAX"] = low, high
    middle = (0.5 * (low[0] + high[0]), 0.5 * (low[1] + high[1]))
    document.set_modelspace_vport(1.05 * (high[1] - low[1]), middle)


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
    for name in (LETTERING_LAYER, *SHEET_LAYERS.values(), TABLE_LAYER):
        if name not in document.layers:
            document.layers.add(name, color=BLACK, lineweight=18)
    document.styles.add(STYLE, font=FONT)
    style = document.dimstyles.add(DIMENSION_STYLE)
    height = next((i.height for d in page.dimensions for i in d.items if isinstance(i, Text)), 3.5)
    style.dxf.dimtxsty = STYLE
    style.dxf.dimscale = size
    style.dxf.dimtxt = height
    style.dxf.dimdsep = ord(".")
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
        kind = self._classes[stroke.line]
        attributes: dict[str, Any] = {"layer": _place_of(stroke.source, stroke.line)}
        if attributes["layer"] != layer_of(stroke.line):
            attributes["lineweight"] = round(100 * kind.width)
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

        layer = _place_of(item.source, LETTERING_LAYER)
        text = layout.add_text(dxf_text(item.text), height=item.height * self._size,
                               rotation=item.angle, dxfattribs={"layer": layer, "style": STYLE})
        if item.faint:
            text.dxf.true_color = int(FAINT_INK[1:], 16)
        text.set_placement(self._view.back(item.at),
                           align=TextEntityAlignment[ALIGN[item.anchor]])

    def dimension(self, drawn: Drawn, grown: float = 1.0) -> None:
        """Add a DIMENSION entity and draw its picture from the sheet's own strokes.

        Parameters
        ----------
        drawn : Drawn
        grown : float
            What it measures on the part by what it measures here.
        """
        if drawn.form == "label":
            for item in drawn.items:
                self.draw(self._document.modelspace(), item)
            return
        added = self._entity(drawn)
        entity = added.dimension
        picture = self._document.blocks.new_anonymous_block(type_char="D")
        for item in drawn.items:
            self.draw(picture, item)
        entity.dxf.geometry = picture.name
        entity.dxf.text_midpoint = self._view.back(drawn.place)
        measures = grown * entity.get_measurement()
        said = spoken(drawn.text, drawn.form, measures)
        if abs(grown - 1.0) > SAME:
            entity.dxf.actual_measurement = measures
            added.update({"dimlfac": grown})
            added.commit()
        if said is None:
            entity.dxf.text = dxf_text(drawn.text)
        else:
            entity.dxf.text = said.text
            added.update(said.variables)
            added.commit()
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
        added.dimension.dxf.actual_measurement = added.dimension.get_measurement()
        return added


def _degrees(angle: float) -> float:
    from math import degrees

    return degrees(angle) % 360.0
