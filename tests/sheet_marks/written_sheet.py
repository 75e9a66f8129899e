"""One page of a written sheet: strokes, arrowheads and lettering, each with what it belongs to."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass, field, replace
from functools import cached_property
from pathlib import Path

import numpy as np

from tests.sheet_reader import SVG, Dash, cut, svg_lettering, svg_pieces

CENTER = ("center", "phantom")
ON_DIMENSION = ("dimension", "extension", "leader")
CAPITALS = 0.66  # of the size of the letters: height of the capitals of the font that travels along


@dataclass(frozen=True)
class Inked:
    """One stroke as written, its dashes not yet laid: kind, source, width in mm."""

    kind: str
    source: str
    width: float
    whole: Dash
    dashes: tuple[Dash, ...]

    @property
    def owner(self) -> str:
        """The dimension that it belongs to, or nothing."""
        head, _, name = self.source.partition(":")
        return name if head == "dimension" else ""

    @property
    def straight(self) -> bool:
        return self.whole.center is None

    @cached_property
    def at(self) -> np.ndarray:
        """Places along it, arcs in steps of at most 2 degrees; shape (n, 2)."""
        return path_of(self.whole)

    @property
    def way(self) -> np.ndarray:
        """Unit vector from start to end of a straight stroke."""
        d = np.subtract(self.whole.end, self.whole.start)
        return d / max(float(np.hypot(*d)), 1e-12)


@dataclass(frozen=True)
class Arrow:
    """An arrowhead: its tip, where it points, its length."""

    tip: np.ndarray
    way: np.ndarray
    length: float
    source: str
    corners: np.ndarray

    @property
    def owner(self) -> str:
        head, _, name = self.source.partition(":")
        return name if head == "dimension" else ""


@dataclass(frozen=True)
class Written:
    """One line of lettering: box of its capitals (4, 2), their height, what it belongs to."""

    text: str
    box: np.ndarray
    height: float
    source: str

    @property
    def owner(self) -> str:
        head, _, name = self.source.partition(":")
        return name if head == "dimension" else ""

    @property
    def middle(self) -> np.ndarray:
        return self.box.mean(axis=0)


@dataclass
class WrittenSheet:
    """Everything on one page, in mm from its lower left corner."""

    size: tuple[float, float]
    strokes: list[Inked] = field(default_factory=list)
    arrows: list[Arrow] = field(default_factory=list)
    texts: list[Written] = field(default_factory=list)

    def of(self, *kinds: str) -> list[Inked]:
        """Strokes of the kinds."""
        return [s for s in self.strokes if s.kind in kinds]

    @cached_property
    def outline(self) -> list[Inked]:
        """Edges of the part."""
        return [s for s in self.strokes if s.kind == "visible" and s.source.startswith("curve:")]

    @cached_property
    def centers(self) -> list[Inked]:
        """Center lines, axes and pitch circles."""
        return self.of(*CENTER)

    @cached_property
    def on_dimensions(self) -> list[Inked]:
        return [s for s in self.strokes if s.kind in ON_DIMENSION and s.owner]

    @cached_property
    def owners(self) -> list[str]:
        """Names of the dimensions, in the order of their lettering."""
        return list(dict.fromkeys(t.owner for t in self.texts if t.owner))

    def said(self, owner: str) -> str:
        """All words of a dimension."""
        return " ".join(t.text for t in self.texts if t.owner == owner)

    def place(self, owner: str) -> np.ndarray:
        """Middle of a dimension's first line of lettering."""
        return next(t.middle for t in self.texts if t.owner == owner)

    @cached_property
    def everything(self) -> np.ndarray:
        """Box around view and dimensions: low x, low y, high x, high y."""
        places = [s.at for s in self.strokes if not s.source.startswith("sheet")]
        places += [t.box for t in self.texts if not t.source.startswith("sheet")]
        points = np.concatenate(places)
        return np.hstack([points.min(axis=0), points.max(axis=0)])

    @cached_property
    def scale(self) -> tuple[str, float]:
        """The scale that the title block tells: its text, paper by part."""
        for text in self.texts:
            found = re.fullmatch(r"(?:SCALE:? ?)?(\d+(?:\.\d+)?) ?: ?(\d+(?:\.\d+)?)", text.text,
                                 re.IGNORECASE)
            if found and text.source.startswith("sheet"):
                return text.text, float(found[1]) / float(found[2])
        return "", math.nan


def path_of(dash: Dash) -> np.ndarray:
    """Places along a piece."""
    if dash.center is None:
        return np.array([dash.start, dash.end], float)
    return dash.points(max(0.05, math.radians(2.0) * dash.radius))


def read_page(path: Path) -> WrittenSheet:
    """Read one page that was written as SVG."""
    root = ET.parse(path).getroot()
    width, height = (float(root.get(k).removesuffix("mm")) for k in ("width", "height"))
    sheet = WrittenSheet((width, height))
    for element in root.iter(f"{SVG}path"):
        kind, source = element.get("data-class"), element.get("data-source") or ""
        if kind is None or element.get("stroke-width") is None:
            continue
        pattern = [float(v) for v in (element.get("stroke-dasharray") or "").split()]
        for piece in joined(svg_pieces(element.get("d"), kind, height)):
            sheet.strokes.append(Inked(kind, source, float(element.get("stroke-width")), piece,
                                       tuple(cut(piece, pattern))))
    for element in root.iter(f"{SVG}polygon"):
        pairs = [p.split(",") for p in element.get("points").split()]
        at = np.array([(float(x), height - float(y)) for x, y in pairs])
        back = at[0] - at[1:].mean(axis=0)
        length = float(np.hypot(*back))
        sheet.arrows.append(Arrow(at[0], back / length, length, element.get("data-source") or "",
                                  at))
    for element in root.iter(f"{SVG}text"):
        read = svg_lettering(element, height)
        if read.text.strip():
            tall = CAPITALS * float(element.get("font-size"))
            sheet.texts.append(Written(read.text, np.array(read.corners), tall, read.source or ""))
    return sheet


def joined(pieces: list[Dash]) -> list[Dash]:
    """Halves of one arc as one piece again: a circle is written as two."""
    found: list[Dash] = []
    for piece in pieces:
        last = found[-1] if found else None
        if (last and last.center and piece.center and math.dist(last.center, piece.center) < 1e-3
                and abs(last.radius - piece.radius) < 1e-3):
            if same_turn(last.high, piece.low):
                found[-1] = replace(last, end=piece.end,
                                    high=last.high + piece.high - piece.low)
                continue
            if same_turn(piece.high, last.low):
                found[-1] = replace(last, start=piece.start,
                                    low=last.low - piece.high + piece.low)
                continue
        found.append(piece)
    return found


def same_turn(one: float, other: float) -> bool:
    """Whether two angles point the same way."""
    return abs((one - other + math.pi) % math.tau - math.pi) < 1e-3
