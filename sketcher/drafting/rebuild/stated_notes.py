"""What the notes of a sheet say of curves that leaders with letters point at.

``Edge A parallel to slot B.``: the words of a binding kind with a noun and a letter for each of its
operands, as `unsaid` writes them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from itertools import product

from sketcher.drafting.page import Page
from sketcher.drafting.primitives import Text
from sketcher.drafting.rebuild.on_paper import OnPaper
from sketcher.drafting.rebuild.shown_dimension import ShownDimension
from sketcher.geometry.curves import XY, Line
from sketcher.geometry.project import distance
from sketcher.part.curve_questions import center_of
from sketcher.part.kinds import KINDS

NAMED = r"(?:center of )?(?P<noun{0}>edge|slot|arc|hole|point|center line) (?P<letter{0}>[a-z])"


def bind_notes(paper: OnPaper, page: Page, letters: Iterable[ShownDimension]) -> None:
    """Bind what the notes say; a letter is the text of a dimension of the form ``label``."""
    at = {dim.text.lower(): dim.points[1] for dim in letters}
    text = " ".join(i.text for i in page.items if isinstance(i, Text)
                    and i.source == "sheet:notes").lower()
    for kind, operands in _conditions(text, at):
        choices = [tuple(_meant(paper, noun, place)) for noun, place in operands]
        part = paper.redrawn.part()
        for of in product(*choices):
            if len(set(of)) == len(of) and KINDS[kind].arrange(part, of) == of:
                paper.redrawn.bind(kind, *of)
                break


def _conditions(text: str, at: Mapping[str, XY]) -> Iterator[tuple[str, list[tuple[str, XY]]]]:
    """Give each condition of the notes: its kind, and the nouns and places of its operands."""
    for name, kind in KINDS.items():
        for phrase in kind.phrases if kind.quantity is None else ():
            count = phrase.count("{")
            pattern = re.escape(phrase.lower()).replace(r"\{", "{").replace(r"\}", "}").format(
                *(NAMED.format(k) for k in range(count)))
            for found in re.finditer(rf"\b{pattern}\.", text):
                letters = [found[f"letter{k}"] for k in range(count)]
                if all(letter in at for letter in letters):
                    yield name, [(found[f"noun{k}"], at[letter])
                                 for k, letter in enumerate(letters)]


def _meant(paper: OnPaper, noun: str, at: XY) -> Iterator[str]:
    """Give what a noun can mean at a place: the curve there, its center, a side of a slot."""
    near = sorted((distance(drawn.curve, at), k) for k, drawn in enumerate(paper.outline.curves))
    if noun == "point":
        for number, corner in enumerate(paper.outline.corners):
            if abs(corner[0] - at[0]) + abs(corner[1] - at[1]) < 2.0 * paper.tol:
                yield paper.corners[number]
        return
    for off, number in near:
        drawn, name = paper.outline.curves[number], paper.curves[number]
        if off > 2.0 * paper.tol:
            return
        if (noun == "edge") != isinstance(drawn.curve, Line):
            continue
        if noun == "slot":
            ends = set(drawn.ends or ())
            yield from (other for one, other in zip(paper.outline.curves, paper.curves, strict=True)
                        if isinstance(one.curve, Line) and ends & set(one.ends or ()))
            continue
        yield name
        center = center_of(paper.redrawn.curves[name])
        if center is not None:
            yield center
