"""The sheet as SVG: pure text, true size in mm, one element an item of the display list.

Lettering is drawn by the outlines of its letters, so that it looks the same without the font; the
words lie over them unseen, to be found, read out and copied.

Every element carries its line class and the id of what it belongs to (``data-class``,
``data-source``), so that a script or an instructor's viewer can tell a center line from an edge.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import pi
from xml.sax.saxutils import escape, quoteattr

from sketcher.drafting.lettering import FAMILY, em
from sketcher.drafting.line_classes import line_class
from sketcher.drafting.page import Page
from sketcher.drafting.primitives import BAND_INK, FAINT_INK, Fill, Stroke, Text
from sketcher.exchange.glyphs import laid, units_per_em
from sketcher.exchange.outputs import MADE_HERE
from sketcher.geometry.curves import XY, Arc, Circle, Line
from sketcher.geometry.evaluate import midpoint

INK = "#000000"
SOLID = ("visible", "frame")
ANCHORS = {"left": "start", "center": "middle", "right": "end"}


def svg_text(page: Page) -> str:
    """Return one page as an SVG document."""
    width, height = page.size
    size = f'width="{_n(width)}mm" height="{_n(height)}mm" viewBox="0 0 {_n(width)} {_n(height)}"'
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        f'version="1.1" {size}>',
        f"<title>{escape(page.title)}</title>",
        f"<metadata>{MADE_HERE}</metadata>",
        *_glyphs(page),
        f'<rect width="{_n(width)}" height="{_n(height)}" fill="#ffffff"/>',
    ]
    items = page.all_items()
    lines += _lettering([i for i in items if isinstance(i, Text) and i.faint], page, FAINT_INK)
    lines += _fills([i for i in items if isinstance(i, Fill) and i.faint], page, FAINT_INK)
    strokes = [item for item in items if isinstance(item, Stroke)]
    for ink, some in ((BAND_INK, [i for i in strokes if i.band]),
                      (INK, [i for i in strokes if not i.band])):
        if some or ink == INK:
            lines.append(f'<g fill="none" stroke="{ink}" stroke-linecap="butt" '
                         'stroke-linejoin="round">')
            lines += [_stroke(item, page) for item in some]
            lines.append("</g>")
    lines += _fills([i for i in items if isinstance(i, Fill) and not i.faint], page, INK)
    lines += _lettering([i for i in items if isinstance(i, Text) and not i.faint], page, INK)
    return "\n".join([*lines, "</svg>", ""])


def _lettering(texts: list[Text], page: Page, ink: str) -> Iterator[str]:
    if texts:
        yield (f'<g fill="{ink}" font-family="{FAMILY}, Source Sans 3, sans-serif" '
               'xml:space="preserve">')
        yield from (_text(item, page) for item in texts)
        yield "</g>"


def _n(value: float) -> str:
    text = f"{value:.5f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _at(point: XY, page: Page) -> str:
    return f"{_n(point[0])} {_n(page.size[1] - point[1])}"


def _fills(fills: list[Fill], page: Page, ink: str) -> Iterator[str]:
    if fills or ink == INK:
        yield f'<g fill="{ink}" stroke="none">'
        yield from (_fill(item, page) for item in fills)
        yield "</g>"


def _stroke(item: Stroke, page: Page) -> str:
    width = item.band or line_class(page.practice, item.line).width
    dash = ""
    if item.fit is not None and item.fit.count:
        dash = f' stroke-dasharray="{" ".join(_n(v) for v in (item.fit.long, *item.fit.rest))}"'
    cap = ' stroke-linecap="round"' if item.line in SOLID else ""
    return (f'<path d="{_path(item.curve, page)}" stroke-width="{_n(width)}"{dash}{cap} '
            f'data-class="{item.line}" data-source={quoteattr(item.source)}/>')


def _path(curve: Line | Arc | Circle, page: Page) -> str:
    if isinstance(curve, Line):
        return f"M {_at(curve.start, page)} L {_at(curve.end, page)}"
    if isinstance(curve, Circle) or curve.start == curve.end:
        cx, cy = curve.center
        reach, r = curve.radius, _n(curve.radius)
        return (f"M {_at((cx + reach, cy), page)} A {r} {r} 0 0 0 {_at((cx - reach, cy), page)} "
                f"A {r} {r} 0 0 0 {_at((cx + reach, cy), page)}")
    # An arc of nearly a full turn has ends too near each other for one element: two halves.
    large, sweep = int(abs(curve.sweep) > pi), int(not curve.ccw)
    r = _n(curve.radius)
    if abs(curve.sweep) > 1.9 * pi:
        middle = midpoint(curve)
        return (f"M {_at(curve.start, page)} A {r} {r} 0 0 {sweep} {_at(middle, page)} "
                f"A {r} {r} 0 0 {sweep} {_at(curve.end, page)}")
    return f"M {_at(curve.start, page)} A {r} {r} 0 {large} {sweep} {_at(curve.end, page)}"


def _fill(item: Fill, page: Page) -> str:
    points = " ".join(_at(p, page).replace(" ", ",") for p in item.points)
    return f'<polygon points="{points}" data-source={quoteattr(item.source)}/>'


def _glyphs(page: Page) -> Iterator[str]:
    """Give the outline of every letter on the page once."""
    found = {one.name: one.outline for item in page.all_items() if isinstance(item, Text)
             for one, _ in laid(item.text, item.bold) or ()}
    yield "<defs>"
    for name, outline in sorted(found.items()):
        yield f'<path id="{name}" d="{outline}"/>'
    yield "</defs>"


def _text(item: Text, page: Page) -> str:
    x, y = item.at[0], page.size[1] - item.at[1]
    turn = f" rotate({_n(-item.angle)})" if item.angle else ""
    letters = laid(item.text, item.bold)
    drawn, unseen = "", ""
    if letters:
        scale = em(item.height) / units_per_em(item.bold)
        wide = scale * (letters[-1][1] + letters[-1][0].advance)
        start = {"left": 0.0, "center": -0.5, "right": -1.0}[item.anchor] * wide
        uses = "".join(f'<use xlink:href="#{one.name}" x="{_n(at)}"/>' for one, at in letters)
        drawn = (f'<g transform="translate({_n(x)} {_n(y)}){turn} translate({_n(start)} 0) '
                 f'scale({scale:.7f} {-scale:.7f})" aria-hidden="true">{uses}</g>\n')
        unseen = ' fill-opacity="0"'
    turned = f' transform="rotate({_n(-item.angle)} {_n(x)} {_n(y)})"' if item.angle else ""
    weight = ' font-weight="600"' if item.bold else ""
    # textLength holds the width that the layout reckoned with, whatever font a viewer has.
    return (f'{drawn}<text x="{_n(x)}" y="{_n(y)}" font-size="{_n(em(item.height))}" '
            f'text-anchor="{ANCHORS[item.anchor]}" textLength="{_n(item.width)}" '
            f'lengthAdjust="spacingAndGlyphs"{weight}{turned}{unseen} '
            f"data-source={quoteattr(item.source)}>{escape(item.text)}</text>")
