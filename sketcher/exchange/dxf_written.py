"""What the text of a DXF tells before it is read: to how many decimals its numbers are written.

And what older writers leave out: entities without the marks of their classes, which readers look
for, get them.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

PLACES = frozenset({10, 11, 12, 13, 20, 21, 22, 23, 40})
"""Group codes of coordinates and radii (DXF reference)."""
FULL = 12
"""More decimals than anyone rounds to: the numbers are written as they were computed."""
NEARLY_ALL = 0.9
CLASSES = {"LWPOLYLINE": "AcDbPolyline", "SPLINE": "AcDbSpline", "ELLIPSE": "AcDbEllipse"}
"""Entities that are known by their class mark alone (DXF reference, subclass markers)."""
COMMON = frozenset({5, 6, 8, 48, 60, 62, 67, 102, 330, 360, 370, 410, 420, 440})
"""Group codes that all entities have, and which stand before the mark."""


def written_pairs(text: str) -> Iterator[tuple[int, str]]:
    """Yield group codes and values as they are written, until a code is no number."""
    lines = iter(text.splitlines())
    for code, value in zip(lines, lines, strict=False):
        try:
            yield int(code), value.strip()
        except ValueError:
            return


def written_decimals(text: str) -> int | None:
    """Return to how many decimals the coordinates of entities are written.

    Returns
    -------
    int or None
        None when they are written in full, or there are none. Zeros at the end count: 12.5000 has
        four. Where a writer strips them, the most that nearly all keep to is it.
    """
    found: Counter[int] = Counter()
    drawn = False
    for code, value in written_pairs(text):
        if code == 2 and value in ("ENTITIES", "BLOCKS", "HEADER", "OBJECTS", "TABLES"):
            drawn = value in ("ENTITIES", "BLOCKS")
        elif drawn and code in PLACES:
            number = value.lower()
            if "e" not in number:
                found[len(number.partition(".")[2])] += 1
    if not found:
        return None
    enough = NEARLY_ALL * found.total()
    count = 0
    for decimals in sorted(found):
        count += found[decimals]
        if count >= enough:
            return decimals if decimals < FULL else None
    return None


def with_class_marks(text: str) -> tuple[str, dict[str, int]]:
    """Return the text with the class marks that entities lack, and how many of each type did.

    A file that says it is older than its entities is said to be of the version that has them.
    """
    out: list[str] = []
    lacking: Counter[str] = Counter()
    entity: list[tuple[int, str]] = []

    def close() -> None:
        mark = CLASSES.get(entity[0][1]) if entity else None
        if mark and not any(code == 100 and value == mark for code, value in entity):
            lacking[entity[0][1]] += 1
            own = next((n for n, (code, _) in enumerate(entity[1:], 1)
                        if code not in COMMON and code != 100), len(entity))
            entity[1:own] = [*(p for p in entity[1:own] if p[0] != 100)]
            own = next((n for n, (code, _) in enumerate(entity[1:], 1) if code not in COMMON),
                       len(entity))
            entity[own:own] = [(100, "AcDbEntity"), (100, mark)]
        out.extend(f"{code}\n{value}" for code, value in entity)
        entity.clear()

    for code, value in written_pairs(text):
        if code == 0:
            close()
        entity.append((code, value))
    close()
    mended = "\n".join(out) + "\n"
    if lacking:
        mended = re.sub(r"(\$ACADVER\n1\n)AC10(?:06|09|12)\b", r"\1AC1015", mended)
    return mended, dict(lacking)
