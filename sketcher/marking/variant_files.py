"""The files of the variants of a class: a key and a handout for each number, and their table."""

from __future__ import annotations

import csv
import io
import os
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from sketcher.exchange.outputs import DRAWING, Form, Outputs, has_titles, made_folder
from sketcher.marking.variants import ClassVariants
from sketcher.part.store import SUFFIX, content
from sketcher.quantity.table_cell import safe_cell

TABLE_FILE, KEYS, HANDOUTS = "variants.csv", "keys", "handouts"
COLUMNS = ("number", "variant", "key", "handout")
VARIANTS = Form("the variants of a class", (".csv",), lambda data: has_titles(data, COLUMNS))
KEY = Form("a key", (SUFFIX,), lambda data: False)
"""One that is there may have been mended by hand, so each is asked for, before the work."""
UNSAFE = re.compile(r"[^\w.-]+")


@dataclass(frozen=True, slots=True)
class VariantFiles:
    """Where everything goes: the table, and key and handout by number."""

    table: Path
    keys: dict[str, Path]
    handouts: dict[str, Path]


def planned_variants(
    outputs: Outputs, folder: str | os.PathLike[str], numbers: Sequence[str]
) -> VariantFiles:
    """Make the folders and plan their files, which are named by number alone.

    Raises
    ------
    FileError
        When one of them could not be written, or must not be replaced.
    """
    place = made_folder("--out", folder)
    for name in (KEYS, HANDOUTS):
        made_folder("--out", place / name)
    stems = _stems(numbers)
    return VariantFiles(
        outputs.add("--out", place / TABLE_FILE, VARIANTS),
        {number: outputs.add("--out", place / KEYS / f"{stem}{SUFFIX}", KEY)
         for number, stem in stems.items()},
        {number: outputs.add("--out", place / HANDOUTS / f"{stem}.pdf", DRAWING)
         for number, stem in stems.items()})


def _stems(numbers: Sequence[str]) -> dict[str, str]:
    """Return a name for a file for each number; no two are alike, capital or small."""
    stems: dict[str, str] = {}
    taken: set[str] = set()
    for number in numbers:
        plain = UNSAFE.sub("_", number).strip(".") or "_"
        stem, again = plain, 1
        while stem.lower() in taken:
            again += 1
            stem = f"{plain}-{again}"
        taken.add(stem.lower())
        stems[number] = stem
    return stems


def put_variants(outputs: Outputs, files: VariantFiles, made: ClassVariants) -> None:
    """Keep keys, handouts and table for writing."""
    for each in made.students:
        path = files.keys[each.number]
        outputs.put(path, content(each.key, path))
        outputs.put(files.handouts[each.number], each.handout)
    outputs.put(files.table, variants_table(files, made))


def variants_table(files: VariantFiles, made: ClassVariants) -> bytes:
    """Return ``variants.csv``; a value that is named like a column is ``NAME value`` there."""
    names = list(made.students[0].draw)
    titles = [f"{name} value" if name.lower() in COLUMNS else name for name in names]
    text = io.StringIO(newline="")
    table = csv.writer(text)
    table.writerow((*COLUMNS, *titles))
    for each in made.students:
        table.writerow((
            each.number, each.code, f"{KEYS}/{files.keys[each.number].name}",
            f"{HANDOUTS}/{files.handouts[each.number].name}",
            *(_cell(each.draw[name], each.key.unit) for name in names)))
    return text.getvalue().encode("utf-8-sig")


def _cell(text: str, unit: str) -> str:
    """Return an expression as a cell: a spreadsheet would take 5/8 for a day."""
    return safe_cell(f'{text}"' if unit == "in" and "/" in text else text)
