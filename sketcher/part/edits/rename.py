"""Give a point, a curve, a binding or a pattern another id."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from sketcher.errors import EditError
from sketcher.part.center_rules import with_names
from sketcher.part.detail_rules import with_details_named
from sketcher.part.doubts import renamed
from sketcher.part.edited import Edited
from sketcher.part.node import ID
from sketcher.part.table_names import with_table_named
from sketcher.part.threads import with_threads_named
from sketcher.part.value import CircleCurve, Part, PartCurve, Pattern, PolarPattern, frozen


def rename(part: Part, old: str, new: str) -> Edited:
    """Rename one thing everywhere; the order of the tables stays.

    Raises
    ------
    EditError
        When nothing has the old id, or the new one is taken or cannot be an id.
    """
    tables = {"points": part.points, "curves": part.curves, "bindings": part.bindings,
              "patterns": part.patterns}
    if not any(old in table for table in tables.values()):
        raise EditError(old, "there is nothing with this id", "choose something else")
    if new == old:
        return Edited(part, f"{old} stays")
    if not ID.fullmatch(new):
        raise EditError(new[:64], "cannot be an id",
                        "use letters, digits, _ and -, a letter first, at most 64")
    if any(new in table for table in tables.values()):
        raise EditError(new, "the id is taken", "choose another")

    def name(key: str) -> str:
        return new if key == old else key

    changes: dict[str, Any] = {
        key: {name(k): v for k, v in table.items()} for key, table in tables.items() if old in table
    }
    if old in part.points or old in part.curves:
        changes |= _references(part, old, name, changes)
    drawing = with_details_named(with_names(part.drawing, name), name)
    drawing = with_threads_named(with_table_named(drawing, name), name)
    if old in drawing.placed:
        placed = {name(key): at for key, at in drawing.placed.items()}
        drawing = replace(drawing, placed=frozen(placed))
    if drawing is not part.drawing:
        changes["drawing"] = drawing
    if part.doubts:
        changes["doubts"] = tuple(renamed(doubt, name) for doubt in part.doubts)
    return Edited(part.having(**changes), f"{old} is now {new}", made=(new,))


def _references(part: Part, old: str, name: Any, changes: Mapping[str, Any]) -> dict[str, Any]:
    curves = {k: _curve(c, old, name) for k, c in changes.get("curves", part.curves).items()}
    bindings = {
        k: replace(b, of=tuple(map(name, b.of))) if old in b.of else b
        for k, b in part.bindings.items()
    }
    mirrors = tuple(
        replace(m, axis=name(m.axis),
                curves=m.curves if m.curves == "outline" else tuple(map(name, m.curves)))
        for m in part.mirrors
    )
    patterns = {k: _pattern(p, name) for k, p in part.patterns.items()}
    return {"curves": curves, "bindings": bindings, "mirrors": mirrors, "patterns": patterns}


def _curve(curve: PartCurve, old: str, name: Any) -> PartCurve:
    if old not in curve.points:
        return curve
    if isinstance(curve, CircleCurve):
        return replace(curve, center=name(curve.center))
    ends = (name(curve.ends[0]), name(curve.ends[1]))
    if curve.kind == "arc":
        return replace(curve, ends=ends, center=name(curve.points[2]))
    return replace(curve, ends=ends)


def _pattern(pattern: Pattern, name: Any) -> Pattern:
    curves = tuple(map(name, pattern.curves))
    if isinstance(pattern, PolarPattern):
        return replace(pattern, curves=curves, center=name(pattern.center))
    return replace(pattern, curves=curves)
