"""Entries of a hand-in's title block: labels in several languages, and what is written there."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot

from sketcher.exchange.dxf_content import FileWords
from sketcher.geometry.curves import XY
from sketcher.marking.comparison import Comparison
from sketcher.marking.paper_millimetres import paper_mm

LABELS = {
    "title": r"title|name of part|part name|part|designation|subject|benennung|titel|bezeichnung|"
             r"titre|d[eé]signation|t[ií]tulo|pieza|titolo|denominazione",
    "name": r"name|drawn by|drawn|by|drafter|author|student|designer|created by|gez(?:eichnet)?\.?|"
            r"bearb(?:eitet)?\.?|ersteller|nom|dessin[eé](?: par)?|nombre|dibujado(?: por)?|autor|"
            r"nome|disegnato(?: da)?",
    "date": r"date|date of issue|dated|datum|fecha|data",
    "scale": r"scale|ma(?:ß|ss)stab|[eé]chelle|escala|scala",
}
REACH = 30.0
"""Millimetres on paper within which what is written belongs to a label (by trial, on title blocks
of common sheets)."""

_SCALE = re.compile(r"\d+(?:\.\d+)?\s*[:/=]\s*\d+(?:\.\d+)?|full(?: size)?|half(?: size)?|nts|"
                    r"not to scale", re.IGNORECASE)
_DATE = re.compile(r"\d{1,4}\s?[-./]\s?\d{1,2}\s?[-./]\s?\d{1,4}|(?:\d{1,2}\.? )?[a-z]{3,10}\.? "
                   r"(?:\d{1,2},? )?\d{4}", re.IGNORECASE)
_FORMS = {"scale": _SCALE, "date": _DATE}
_OTHER = re.compile(r"(?:sheet|page|drawing|part|dwg|drg)? ?(?:no|number|nr|num)\.?|material|"
                    r"revision|rev\.?|checked(?: by)?|approved(?: by)?|owner|size|sheet|finish|"
                    r"class|group|grade|weight|tolerances?|unit|werkstoff|blatt|gepr(?:üft)?\.?|"
                    r"projection|document type|thickness|dimensions", re.IGNORECASE)
_LABELLED = {name: re.compile(rf"(?:{form})\s*(?:[:.]\s*(?P<value>.*))?", re.IGNORECASE)
             for name, form in LABELS.items()}


@dataclass(frozen=True, slots=True)
class TitleEntry:
    """An entry: its name, where its label stands in the file's numbers, whether it is filled."""

    name: str
    label_at: XY | None
    is_given: bool


def has_sheet(comparison: Comparison) -> bool:
    """Tell whether a hand-in has a border or a title block."""
    return bool(comparison.hand_in.of_role("sheet")) or any(
        pattern.fullmatch(words.text.strip()) for words in _texts(comparison)
        for pattern in _LABELLED.values())


def title_entries(comparison: Comparison) -> tuple[TitleEntry, ...]:
    """Return the entries that a title block should have."""
    texts = _texts(comparison)
    labels = [(name, words, found) for words in texts for name, pattern in _LABELLED.items()
              if (found := pattern.fullmatch(" ".join(words.text.split())))]
    mine = [words for _, words, _ in labels]
    others = [words for words in texts if not any(words is label for label in mine)
              and _OTHER.fullmatch(words.text.strip().rstrip(":"))]
    values = [words for words in texts if len(words.text.strip()) > 1
              and not any(words is label for label in (*mine, *others))]
    taken = _values_of([*mine, *others], values,
                       REACH * paper_mm(comparison) / comparison.pose.scale)
    entries = []
    for name in LABELS:
        those = [(words, found) for each, words, found in labels if each == name]
        is_given = any((found["value"] or "").strip() or id(words) in taken
                       for words, found in those)
        if name in _FORMS:
            is_given = is_given or any(_FORMS[name].fullmatch(words.text.strip())
                                       for words in values)
        elif name == "title":
            wanted = comparison.key.part.name.casefold().strip()
            is_given = is_given or any(wanted in words.text.casefold() for words in values)
        entries.append(TitleEntry(name, those[0][0].at if those else None, is_given))
    return tuple(entries)


def _texts(comparison: Comparison) -> list[FileWords]:
    return [words for words in comparison.hand_in.words
            if words.kind == "text" and words.text.strip()]


def _values_of(labels: Sequence[FileWords], values: Sequence[FileWords], reach: float) -> set[int]:
    """Return the labels, by identity, beside or under which something is written.

    Each text goes to the nearest label that it stands to the right of, or below.
    """
    found = set()
    for words in values:
        near = []
        for label in labels:
            dx, dy = words.at[0] - label.at[0], words.at[1] - label.at[1]
            if dx >= -0.5 * reach and dy <= 0.2 * reach and hypot(dx, dy) <= reach:
                near.append((hypot(dx, 2.0 * dy), id(label)))
        if near:
            found.add(min(near)[1])
    return found
