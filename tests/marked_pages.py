"""Written pages of marking read back by pdfplumber: strokes, arrows, words, numbers in rings."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from io import BytesIO

import pdfplumber

from sketcher.drafting.page import Page
from sketcher.exchange.pdf import pdf_bytes
from tests.marked_views import WIDE
from tests.sheet_reader import MM, Dash, arc_through

INK = 0.5  # of black: what is darker is drawn, what is lighter is the key


@dataclass
class Sheet:
    """What is read from a page: dark strokes, arrowheads, words with their boxes, in mm, y up."""

    frame: tuple[float, float, float, float]
    wide: list[Dash]
    narrow: list[Dash]
    heads: list[list[tuple[float, float]]]
    words: list[tuple[str, tuple[float, float, float, float]]]

    def rings(self) -> list[tuple[str, Dash]]:
        """Whole circles with nothing but a number in them, and the number."""
        found = []
        for ring in self.narrow:
            if ring.center is None or abs(ring.high - ring.low - math.tau) > 0.01:
                continue
            inside = [text for text, (x0, y0, x1, y1) in self.words if text.isdigit() and math.dist(
                ring.center, (0.5 * (x0 + x1), 0.5 * (y0 + y1))) < 0.4 * ring.radius]
            if inside:
                found.append((inside[0], ring))
        return found

    def on_paper(self, at: tuple[float, float]) -> tuple[float, float]:
        """A place of the plate, by where its lowest edge was printed."""
        edge = max((d for d in self.wide if d.center is None and d.start[1] == d.end[1]
                    and self.frame[0] < min(d.start[0], d.end[0])), key=lambda d: d.length)
        scale = edge.length / WIDE
        return (min(edge.start[0], edge.end[0]) + scale * at[0], edge.start[1] + scale * at[1])


def read(pages: tuple[Page, ...]) -> list[Sheet]:
    with pdfplumber.open(BytesIO(pdf_bytes(pages))) as document:
        return [read_page(page) for page in document.pages]


def read_page(page) -> Sheet:
    height = float(page.height) * MM
    sheet = Sheet((0.0, 0.0, 0.0, 0.0), [], [], [], [])
    for item in (*page.lines, *page.curves):
        points = [(x * MM, height - y * MM) for x, y in item["pts"]]
        color = item["stroking_color"] if item["stroke"] else item["non_stroking_color"]
        if max(color or (0.0,)) > INK:
            continue
        if item["fill"] and not item["stroke"]:
            sheet.heads.append(points)
            continue
        dash = (Dash("", *points) if len(points) == 2 else arc_through("", points))
        (sheet.wide if item["linewidth"] * MM > 0.4 else sheet.narrow).append(dash)
    xs, ys = zip(*(p for d in sheet.wide if d.length > 150.0 for p in (d.start, d.end)),
                 strict=True)
    sheet.frame = (min(xs), min(ys), max(xs), max(ys))
    for word in page.extract_words(x_tolerance=1.0):
        sheet.words.append((word["text"], (word["x0"] * MM, height - word["bottom"] * MM,
                                           word["x1"] * MM, height - word["top"] * MM)))
    return sheet


def text_of(sheets: list[Sheet]) -> str:
    return " ".join(text for sheet in sheets for text, _ in sheet.words)


def assert_tidy(sheet: Sheet) -> None:
    """All within the frame; no word and no ring on another."""
    left, low, right, high = sheet.frame
    boxes = [box for _, box in sheet.words]
    for x0, y0, x1, y1 in boxes:
        assert left < x0
        assert x1 < right
        assert low < y0
        assert y1 < high
    for k, (a, b, c, d) in enumerate(boxes):
        for x0, y0, x1, y1 in boxes[:k]:
            over = min(c, x1) - max(a, x0), min(d, y1) - max(b, y0)
            # a word's box has room above capitals and below the line: not all of it is ink
            assert over[0] <= 0.0 or over[1] <= 0.35 * (d - b), (k, sheet.words[k])
    rings = [ring for _, ring in sheet.rings()]
    for k, one in enumerate(rings):
        for other in rings[:k]:
            assert math.dist(one.center, other.center) > one.radius + other.radius


def leaders(sheet: Sheet) -> list[tuple[str, Dash, tuple[float, float]]]:
    """Number, ring and tip of each arrow whose leader begins on a ring."""
    found = []
    for number, ring in sheet.rings():
        for leader in (d for d in sheet.narrow if d.center is None):
            for near, far in ((leader.start, leader.end), (leader.end, leader.start)):
                if abs(math.dist(near, ring.center) - ring.radius) < 0.05:
                    found += [(number, ring, head[0]) for head in sheet.heads
                              if any(math.dist(far, p) < 0.6 for p in head[1:])]
    return found


def pointed_at(sheet: Sheet) -> dict[str, list[tuple[float, float]]]:
    """Where each number points."""
    tips: dict[str, list[tuple[float, float]]] = defaultdict(list)
    for number, _, tip in leaders(sheet):
        tips[number].append(tip)
    return tips
