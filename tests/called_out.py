"""Plates to be dimensioned, and what their written sheets say."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path

from sketcher.drafting.sheet import pages
from sketcher.exchange.svg import svg_text
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from tests.sheet_reader import read_svg


def callouts(part: Part, folder: Path, practice: str = "ISO") -> Counter[str]:
    """Return how often each dimension's text stands on the written sheet of a part."""
    part = part.having(drawing=replace(part.drawing, practice=practice))
    (folder / "sheet.svg").write_text(svg_text(pages(part)[0]), encoding="utf-8")
    said: dict[str, str] = {}
    for text in read_svg(folder / "sheet.svg").lettering:
        kind, _, name = (text.source or "").partition(":")
        if kind == "dimension":
            said[name] = f"{said[name]} {text.text}" if name in said else text.text
    return Counter(said.values())


def board(width: float = 120.0, height: float = 80.0, unit: str = "mm") -> Draft:
    """Return a plate p1 to p4, e1 to e4, with nothing bound, to be drawn on."""
    draft = Draft(Part(unit=unit))
    corners = [draft.point(at) for at in ((0, 0), (width, 0), (width, height), (0, height))]
    for one, other in zip(corners, (*corners[1:], corners[0]), strict=True):
        draft.line(one, other)
    return draft


def slot(draft: Draft, one: tuple[float, float], other: tuple[float, float], r: float) -> list[str]:
    """Draw a straight slot about two centers; the ids of its round ends."""
    (ax, ay), (bx, by) = one, other
    length = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
    nx, ny = r * (ay - by) / length, r * (bx - ax) / length
    corners = [draft.point(at) for at in ((ax + nx, ay + ny), (ax - nx, ay - ny),
                                          (bx - nx, by - ny), (bx + nx, by + ny))]
    first = draft.arc(corners[0], corners[1], one)
    draft.line(corners[1], corners[2])
    second = draft.arc(corners[2], corners[3], other)
    draft.line(corners[3], corners[0])
    return [first, second]
