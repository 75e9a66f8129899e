"""Reads written sheets back: ink and lettering from SVG, PDF and DXF, in mm on paper, y up.

Nothing here knows the display list: SVG is read as XML, PDF by pdfplumber, DXF by ezdxf, each with
its dash patterns laid out as a viewer lays them out.
"""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass, field, replace
from pathlib import Path

import numpy as np

SVG = "{http://www.w3.org/2000/svg}"
MM = 25.4 / 72.0


@dataclass(frozen=True)
class Dash:
    """One inked piece: straight, or round about a center with angles in radians, ccw."""

    kind: str  # line class, or in a PDF "wide" and "narrow"
    start: tuple[float, float]
    end: tuple[float, float]
    center: tuple[float, float] | None = None
    radius: float = 0.0
    low: float = 0.0
    high: float = 0.0
    source: str = ""

    @property
    def length(self) -> float:
        if self.center is not None:
            return self.radius * (self.high - self.low)
        return math.dist(self.start, self.end)

    def points(self, step: float = 0.1) -> np.ndarray:
        """Places along the piece, shape (n, 2)."""
        count = max(2, math.ceil(self.length / step) + 1)
        t = np.linspace(0.0, 1.0, count)[:, None]
        if self.center is None:
            return np.array(self.start) + t * (np.array(self.end) - np.array(self.start))
        angle = self.low + t * (self.high - self.low)
        return np.array(self.center) + self.radius * np.hstack([np.cos(angle), np.sin(angle)])

    def distance(self, at: tuple[float, float]) -> float:
        """Distance of a place from the piece."""
        if self.center is None:
            a, d = np.array(self.start), np.array(self.end) - np.array(self.start)
            t = np.clip(np.dot(np.array(at) - a, d) / max(np.dot(d, d), 1e-30), 0.0, 1.0)
            return float(np.linalg.norm(a + t * d - np.array(at)))
        x, y = at[0] - self.center[0], at[1] - self.center[1]
        turn = (math.atan2(y, x) - self.low) % math.tau
        if turn <= self.high - self.low:
            return abs(math.hypot(x, y) - self.radius)
        return min(math.dist(at, self.start), math.dist(at, self.end))


@dataclass(frozen=True)
class Lettering:
    """A text and the four corners of its capitals' box."""

    text: str
    corners: tuple[tuple[float, float], ...]
    source: str = ""


@dataclass
class Ink:
    """Everything read from one page."""

    dashes: list[Dash] = field(default_factory=list)
    lettering: list[Lettering] = field(default_factory=list)
    heads: list[tuple[tuple[float, float], ...]] = field(default_factory=list)
    size: tuple[float, float] = (0.0, 0.0)

    def of(self, *kinds: str) -> list[Dash]:
        return [d for d in self.dashes if d.kind in kinds]


def arc(kind: str, center: tuple[float, float], radius: float, low: float, high: float) -> Dash:
    cx, cy = center
    ends = [(cx + radius * math.cos(a), cy + radius * math.sin(a)) for a in (low, high)]
    return Dash(kind, ends[0], ends[1], center, radius, low, high)


def cut(whole: Dash, pattern: list[float]) -> list[Dash]:
    """Lay dashes and gaps along a piece from its start, the way an SVG viewer does."""
    if not pattern:
        return [whole]
    found, at, number, length = [], 0.0, 0, whole.length
    while at < length - 1e-9:
        size = min(pattern[number % len(pattern)], length - at)
        if number % 2 == 0 and size > 1e-6:
            found.append(part_of(whole, at / length, (at + size) / length))
        at += size
        number += 1
    return found


def part_of(whole: Dash, a: float, b: float) -> Dash:
    if whole.center is not None:
        spread = whole.high - whole.low
        return arc(whole.kind, whole.center, whole.radius, whole.low + a * spread,
                   whole.low + b * spread)
    s, e = np.array(whole.start), np.array(whole.end)
    return Dash(whole.kind, tuple(s + a * (e - s)), tuple(s + b * (e - s)))


# SVG

def read_svg(path: Path) -> Ink:
    root = ET.parse(path).getroot()
    width, height = (float(root.get(k).removesuffix("mm")) for k in ("width", "height"))
    ink = Ink(size=(width, height))
    for element in root.iter(f"{SVG}path"):
        if element.get("data-class") is None:
            continue  # a letter's outline
        pattern = [float(v) for v in (element.get("stroke-dasharray") or "").split()]
        for piece in svg_pieces(element.get("d"), element.get("data-class"), height):
            source = element.get("data-source")
            ink.dashes += [replace(d, source=source) for d in cut(piece, pattern)]
    for element in root.iter(f"{SVG}text"):
        ink.lettering.append(svg_lettering(element, height))
    for element in root.iter(f"{SVG}polygon"):
        pairs = [p.split(",") for p in element.get("points").split()]
        ink.heads.append(tuple((float(x), height - float(y)) for x, y in pairs))
    return ink


def svg_pieces(d: str, kind: str, height: float) -> list[Dash]:
    words = d.split()
    found, at, k = [], (0.0, 0.0), 0
    while k < len(words):
        if words[k] == "M":
            at = (float(words[k + 1]), height - float(words[k + 2]))
            k += 3
        elif words[k] == "L":
            to = (float(words[k + 1]), height - float(words[k + 2]))
            found.append(Dash(kind, at, to))
            at, k = to, k + 3
        else:
            assert words[k] == "A"
            r, large, sweep = float(words[k + 1]), words[k + 4] == "1", words[k + 5] == "1"
            to = (float(words[k + 6]), height - float(words[k + 7]))
            found.append(svg_arc(kind, at, to, r, large, not sweep))
            at, k = to, k + 8
    return found


def svg_arc(kind, a, b, r, large, ccw) -> Dash:
    mx, my = 0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])
    chord = math.dist(a, b)
    h = math.sqrt(max(r * r - 0.25 * chord * chord, 0.0))
    if h * h < 4e-5 * r:
        h = 0.0  # half a circle: ends written to 1e-5 mm say no more of its center
    ux, uy = (b[0] - a[0]) / chord, (b[1] - a[1]) / chord
    sign = 1.0 if ccw != large else -1.0
    center = (mx - sign * h * uy, my + sign * h * ux)
    first, last = (a, b) if ccw else (b, a)
    low = math.atan2(first[1] - center[1], first[0] - center[0])
    turn = (math.atan2(last[1] - center[1], last[0] - center[0]) - low) % math.tau
    return arc(kind, center, r, low, low + turn)


def svg_lettering(element: ET.Element, height: float) -> Lettering:
    x, y = float(element.get("x")), height - float(element.get("y"))
    size, width = float(element.get("font-size")), float(element.get("textLength"))
    anchor = {"start": 0.0, "middle": -0.5, "end": -1.0}[element.get("text-anchor")] * width
    found = re.match(r"rotate\(([-\d.]+)", element.get("transform") or "")
    turn = -math.radians(float(found[1])) if found else 0.0
    return Lettering("".join(element.itertext()), box((x, y), turn, anchor, width, 0.66 * size),
                     element.get("data-source"))


def box(at, turn, start, width, tall):
    c, s = math.cos(turn), math.sin(turn)
    corners = ((start, 0.0), (start + width, 0.0), (start + width, tall), (start, tall))
    return tuple((at[0] + c * u - s * v, at[1] + s * u + c * v) for u, v in corners)


# PDF

def read_pdf(path: Path, page: int = 0, wide: float = 0.45) -> Ink:
    """Widths tell the lines apart: the outline is wide, center and dimension lines are narrow."""
    import pdfplumber

    with pdfplumber.open(path) as document:
        sheet = document.pages[page]
        ink = Ink(size=(float(sheet.width) * MM, float(sheet.height) * MM))
        for item in sheet.lines:
            kind = "wide" if item["linewidth"] * MM > wide else "narrow"
            (x0, y0), (x1, y1) = item["pts"]
            ink.dashes.append(Dash(kind, (x0 * MM, ink.size[1] - y0 * MM),
                                   (x1 * MM, ink.size[1] - y1 * MM)))
        for item in sheet.curves:
            points = [(x * MM, ink.size[1] - y * MM) for x, y in item["pts"]]
            if item["fill"] and not item["stroke"]:
                ink.heads.append(tuple(points))
            else:
                kind = "wide" if item["linewidth"] * MM > wide else "narrow"
                ink.dashes.append(arc_through(kind, points))
        for char in sheet.chars:
            ink.lettering.append(pdf_letter(char))
    return ink


def arc_through(kind: str, points: list[tuple[float, float]]) -> Dash:
    """The arc whose ends of cubics are given; the center by least squares."""
    at = np.array(points)
    system = np.column_stack([2.0 * at, np.ones(len(at))])
    (cx, cy, c), *_ = np.linalg.lstsq(system, (at**2).sum(axis=1), rcond=None)
    radius = math.sqrt(c + cx * cx + cy * cy)
    angles = np.unwrap(np.arctan2(at[:, 1] - cy, at[:, 0] - cx))
    low, high = sorted((float(angles[0]), float(angles[-1])))
    return arc(kind, (float(cx), float(cy)), radius, low, high)


def pdf_letter(char: dict) -> Lettering:
    a, b, _, _, x, y = char["matrix"]
    turn = math.atan2(b, a)
    size = char["size"] * MM
    long = math.hypot(char["x1"] - char["x0"], 0.0) * MM
    if abs(math.sin(turn)) > 0.7:
        long = (char["bottom"] - char["top"]) * MM
    if abs(math.sin(2 * turn)) > 0.05:
        long = 0.3 * size  # a box around an oblique letter says little about its width
    return Lettering(char["text"], box((x * MM, y * MM), turn, 0.0, long, 0.66 * size))


# DXF

def read_dxf(path: Path, factor: float) -> Ink:
    """`factor` is mm on paper for one unit of the file; the origin stays the part's own."""
    import ezdxf

    document = ezdxf.readfile(path)
    ink = Ink()
    for entity in document.modelspace():
        if entity.dxftype() == "DIMENSION":
            for inner in document.blocks.get(entity.dxf.geometry):
                dxf_entity(document, inner, ink, factor)
        else:
            dxf_entity(document, entity, ink, factor)
    return ink


def dxf_entity(document, entity, ink: Ink, factor: float) -> None:
    kind = entity.dxf.layer.lower()
    if entity.dxftype() == "LINE":
        ends = [(factor * p.x, factor * p.y) for p in (entity.dxf.start, entity.dxf.end)]
        whole = Dash(kind, *ends)
    elif entity.dxftype() in ("ARC", "CIRCLE"):
        center = (factor * entity.dxf.center.x, factor * entity.dxf.center.y)
        low, high = (0.0, math.tau)
        if entity.dxftype() == "ARC":
            low = math.radians(entity.dxf.start_angle)
            high = low + (math.radians(entity.dxf.end_angle) - low) % math.tau
        whole = arc(kind, center, factor * entity.dxf.radius, low, high)
    elif entity.dxftype() == "TEXT":
        at = entity.dxf.align_point if entity.dxf.halign else entity.dxf.insert
        ink.lettering.append(Lettering(entity.plain_text(), ((at.x * factor, at.y * factor),)))
        return
    else:
        return
    name = entity.dxf.linetype
    if name == "BYLAYER":
        name = document.layers.get(entity.dxf.layer).dxf.linetype
    ink.dashes += aligned(whole, linetype(document, name),
                          factor * entity.dxf.ltscale * document.header["$LTSCALE"])


def linetype(document, name: str) -> list[float]:
    if name.upper() in ("CONTINUOUS", "BYBLOCK"):
        return []
    tags = document.linetypes.get(name).pattern_tags.tags
    return [tag.value for tag in tags if tag.code == 49]


def aligned(whole: Dash, pattern: list[float], scale: float) -> list[Dash]:
    """The DXF rule of alignment A: whole patterns inside, and two equal dashes at the ends."""
    if not pattern:
        return [whole]
    elements = [abs(v) * scale for v in pattern]
    period = sum(elements)
    count = int((whole.length - elements[0]) / period + 1e-6)
    if count < 1:
        return [whole]
    end = 0.5 * (whole.length - count * period + elements[0])
    laid = [end]
    for k in range(count):
        laid += elements[1:]
        laid.append(elements[0] if k < count - 1 else end)
    return cut(whole, laid)
