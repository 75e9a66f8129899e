"""The sheet itself: scale, paper, widths of lines, title block, white space.

Fields: ISO 7200 (identification, title, approval, creator, date, sheet number; from memory).
Scales: ISO 5455:1979; inch practice has the quarter and eighth besides (common practice, no
source). Sizes: ISO 216 and ASME Y14.1 (8.5 x 11 in doubled, from memory).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import numpy as np

from tests.sheet_marks.deductions import Fault, fault
from tests.sheet_marks.written_sheet import WrittenSheet

STEPS = {"ISO": (1, 2, 5), "ASME": (1, 2, 4, 5, 8)}
PAPERS = {
    "ISO": [(210.0, 297.0), (297.0, 210.0), (420.0, 297.0), (594.0, 420.0), (841.0, 594.0),
            (1189.0, 841.0)],
    "ASME": [(215.9, 279.4), (279.4, 215.9), (431.8, 279.4), (558.8, 431.8), (863.6, 558.8),
             (1117.6, 863.6)],
}
FIELDS = {
    "title": r"^(part|title|name)\b", "number": r"number|\bno\b|no\.",
    "page": r"^(page|sheet)\b", "date": r"\bdate\b", "drawn by": r"drawn|creator|^by\b",
    "approved by": r"appr", "scale": r"^scale\b", "material": r"material",
    "thickness": r"thick", "owner": r"owner|school|company|cage",
}
UNITS = re.compile(r"\b(mm|in|kg|g)\b")  # symbols of units are never capitals
FULL = 0.82  # share of the free area either way beyond which no larger scale is asked for
LARGEST = 150.0  # mm up to which a small part is enlarged


def judge(sheet: WrittenSheet, practice: str, factor: float, size: tuple[float, float]
          ) -> Iterator[Fault]:
    """Everything about the sheet; `factor` is paper by part, `size` the part's in mm."""
    yield from scale(sheet, practice, factor)
    yield from widths(sheet)
    yield from title_block(sheet, practice)
    yield from white_space(sheet, practice, factor, size)


def scale(sheet: WrittenSheet, practice: str, factor: float) -> Iterator[Fault]:
    text, told = sheet.scale
    at = (sheet.size[0] - 20.0, 15.0)
    if not text:
        yield fault("scale", at, "no scale is told")
    elif abs(told / factor - 1.0) > 1e-4:
        yield fault("scale", at, f"{text} is told, drawn is {factor:.5g}")
    elif not standard(told, practice):
        yield fault("scale", at, f"{text} is no standard scale of {practice}")


def standard(factor: float, practice: str) -> bool:
    """Whether a scale is in the series of the practice."""
    ratio = factor if factor >= 1.0 else 1.0 / factor
    return any(abs(ratio - step * 10**power) < 1e-6 * ratio
               for step in STEPS[practice] for power in range(4))


def widths(sheet: WrittenSheet) -> Iterator[Fault]:
    """Edges wide, all else of the drawing narrow, two to one (ISO 128-24; ASME Y14.2-2014, 4.1)."""
    wide = {round(s.width, 3) for s in sheet.outline}
    narrow = {round(s.width, 3) for s in (*sheet.centers, *sheet.on_dimensions)}
    if len(wide) != 1 or len(narrow) != 1:
        yield fault("line-widths", (20, 20), f"edges are {sorted(wide)} wide, other lines "
                                             f"{sorted(narrow)}")
    elif abs(next(iter(wide)) / next(iter(narrow)) - 2.0) > 0.1:
        yield fault("line-widths", (20, 20), f"{wide} to {narrow} is not two to one")


def title_block(sheet: WrittenSheet, practice: str) -> Iterator[Fault]:
    words = [t.text for t in sheet.texts if t.source.startswith("sheet")]
    at = (sheet.size[0] - 20.0, 15.0)
    for name, pattern in FIELDS.items():
        if not any(re.search(pattern, word, re.IGNORECASE) for word in words):
            yield fault("title-block", at, f"no field for {name}")
    text = " ".join(words)
    if practice == "ASME":
        if not re.search(r"Y14\.5", text):
            yield fault("title-block", at, "Y14.5 is not named")
        if re.search(r"ISO 2768", text):
            yield fault("title-block", at, "ISO 2768 on an ASME sheet")
        low = [t for t in sheet.texts if re.search(r"[a-z]", UNITS.sub("", t.text))]
        if low:
            yield fault("title-block", low[0].middle, f"{len(low)} texts are not in capitals, such "
                                                      f"as '{low[0].text}'")
    elif re.search(r"ISO 2768", text) and re.search(r"in inches", text):
        yield fault("title-block", at, "ISO 2768, whose steps are in millimetres, with inches")
    elif re.search(r"Y14\.5", text):
        yield fault("title-block", at, "Y14.5 on an ISO sheet")
    if not re.search(r"millimet|inch|\bmm\b", text, re.IGNORECASE):
        yield fault("title-block", at, "the unit is not told")
    if not re.search(r"toleranc", text, re.IGNORECASE):
        yield fault("title-block", at, "no general tolerance")


def white_space(
    sheet: WrittenSheet, practice: str, factor: float, size: tuple[float, float]
) -> Iterator[Fault]:
    """A larger scale on this paper, or a smaller paper, would hold the view with its dimensions."""
    free = free_size(sheet)
    x0, y0, x1, y1 = sheet.everything
    wide, high = x1 - x0, y1 - y0
    edges = np.concatenate([s.at for s in sheet.outline])
    part = edges.max(axis=0) - edges.min(axis=0)
    around = (wide - part[0], high - part[1])
    at = (0.5 * (x0 + x1), y1)
    used = wide * high / (free[0] * free[1])
    for step in larger(factor, practice)[:1]:
        if max(size) * step > LARGEST and step > 1.0:
            continue
        need = [part[k] * step / factor + around[k] for k in range(2)]
        if need[0] < FULL * free[0] and need[1] < FULL * free[1]:
            yield fault("white-space", at, f"view takes {100 * used:.0f} % of the free area; "
                                           f"{step:g} to 1 would hold it on this paper")
            return
    margin = (sheet.size[0] - free[0], sheet.size[1] - free[1])
    area = sheet.size[0] * sheet.size[1]
    for w, h in PAPERS[practice]:
        if w * h < 0.9 * area and wide < FULL * (w - margin[0]) and high < FULL * (h - margin[1]):
            yield fault("white-space", at, f"view takes {100 * used:.0f} % of the free area; "
                                           f"{w:g} x {h:g} would hold it")
            return


def free_size(sheet: WrittenSheet) -> tuple[float, float]:
    """Width and height that frame, title block and notes leave to the view."""
    frame = sheet.of("frame")
    points = np.concatenate([s.at for s in frame]) if frame else np.array([[0, 0], sheet.size])
    x0, y0 = (float(np.quantile(points[:, k], 0.2)) for k in range(2))
    x1, y1 = (float(np.quantile(points[:, k], 0.8)) for k in range(2))
    blocks = [s.at for s in sheet.strokes if s.source in ("sheet:title", "sheet:notes")]
    blocks += [t.box for t in sheet.texts if t.source in ("sheet:title", "sheet:notes")]
    low = max((float(b[:, 1].max()) for b in blocks), default=y0)
    return x1 - x0 - 12.0, y1 - max(low, y0) - 12.0


def larger(factor: float, practice: str) -> list[float]:
    """Standard scales above one, the next one first."""
    every = sorted({step * 10.0**power for step in STEPS[practice] for power in range(3)}
                   | {1.0 / (step * 10.0**power) for step in STEPS[practice] for power in range(3)})
    return [s for s in every if s > factor * 1.001 and s <= 10.0]
