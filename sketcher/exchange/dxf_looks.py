"""How entities of a DXF are drawn: line type, dashes and width, with what they inherit.

An entity says them itself, or leaves them to its layer (BYLAYER), or to the reference of the block
that it is in (BYBLOCK); outside any block that is an unbroken line of the viewer's width (DXF
reference, group codes 6 and 370).
"""

from __future__ import annotations

from typing import Any

from sketcher.exchange.dxf_content import FileEntity
from sketcher.exchange.dxf_walk import SeenEntity

UNBROKEN = "CONTINUOUS"
BY_LAYER, BY_BLOCK, BY_VIEWER = -1, -2, -3
"""Line weights that are none (DXF reference, group code 370)."""


class DxfLooks:
    """Knows line types and layers of a document.

    Parameters
    ----------
    document : object
        Of the library.
    to_mm : float or None
        From the file's numbers to millimetres; None when the file does not say.
    """

    def __init__(self, document: Any, to_mm: float | None) -> None:
        self._to_mm = to_mm
        self._scale = _positive(document.header.get("$LTSCALE", 1.0))
        self._patterns: dict[str, tuple[float, ...]] = {
            str(each.dxf.name).upper(): _pattern(each) for each in document.linetypes}
        self._layers: dict[str, tuple[str, int]] = {
            str(each.dxf.name).lower(): (str(each.dxf.get("linetype", UNBROKEN)).upper(),
                                         int(each.dxf.get("lineweight", BY_VIEWER)))
            for each in document.layers}
        self._dashes: dict[tuple[str, float], tuple[float, ...]] = {}

    def look(self, seen: SeenEntity, number: int) -> FileEntity:
        """Return how an entity is drawn; `number` is its own in file order."""
        entity = seen.entity
        kind = entity.dxftype()
        source = entity if entity.dxf.get("handle") else entity.origin_of_copy
        weight = self._weight(seen)
        width = weight / 100.0 if weight >= 0 else None
        own = _own_width(entity, kind)
        if own > 0.0 and self._to_mm is not None:
            width = own * self._to_mm
        scale = self._scale * _positive(entity.dxf.get("ltscale", 1.0))
        handle = source.dxf.get("handle") if source is not None else None
        return FileEntity(number, kind, seen.layer, self._dashed(self._line_type(seen), scale),
                          width, str(handle or ""))

    def _dashed(self, line_type: str, scale: float) -> tuple[float, ...]:
        key = (line_type, scale)
        if key not in self._dashes:
            self._dashes[key] = tuple(
                scale * each for each in self._patterns.get(line_type, ()))
        return self._dashes[key]

    def _line_type(self, seen: SeenEntity) -> str:
        name = str(seen.entity.dxf.get("linetype", "BYLAYER")).upper()
        if name == "BYBLOCK":
            return self._line_type(seen.holder) if seen.holder is not None else UNBROKEN
        if name == "BYLAYER":
            return self._layers.get(seen.layer.lower(), (UNBROKEN, 0))[0]
        return name

    def _weight(self, seen: SeenEntity) -> int:
        weight = int(seen.entity.dxf.get("lineweight", BY_LAYER))
        if weight == BY_BLOCK:
            return self._weight(seen.holder) if seen.holder is not None else BY_VIEWER
        if weight == BY_LAYER:
            return self._layers.get(seen.layer.lower(), (UNBROKEN, BY_VIEWER))[1]
        return weight


def _own_width(entity: Any, kind: str) -> float:
    if kind == "LWPOLYLINE":
        return float(entity.dxf.get("const_width", 0.0))
    if kind == "POLYLINE":
        return float(entity.dxf.get("default_start_width", 0.0))
    return 0.0


def _pattern(line_type: Any) -> tuple[float, ...]:
    """Return dashes, gaps and points of a line type; none for one that is unbroken."""
    found = tuple(float(tag.value) for tag in line_type.pattern_tags.tags if tag.code == 49)
    return found if len(found) > 1 and any(each < 0.0 for each in found) else ()


def _positive(value: Any) -> float:
    return float(value) if float(value) > 0.0 else 1.0
