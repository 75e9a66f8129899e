"""Read a DXF: its curves and how they are drawn, layers, unit, dimensions and words.

Damaged files are mended as far as that goes, and what was mended is told (`dxf_open`). Drawings in
space are laid into their plane when they have one.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType
from typing import Any, Literal

from sketcher.drafting.paper_view import MM_PER
from sketcher.errors import EditError, FileError
from sketcher.exchange.dxf_content import (
    DxfContent,
    FileCurve,
    FileDimension,
    FileEntity,
    FileLayer,
    FileLeader,
    FileSpline,
    FileWords,
)
from sketcher.exchange.dxf_curves import Drawn, Tilted, Unreadable, curves_of, has_edges
from sketcher.exchange.dxf_dimensions import DIMENSIONS, LEADERS, DimensionReader, leader
from sketcher.exchange.dxf_looks import DxfLooks
from sketcher.exchange.dxf_open import not_dxf, open_dxf, quiet, unreadable
from sketcher.exchange.dxf_plane import level_plane
from sketcher.exchange.dxf_walk import DxfWalk, SeenEntity
from sketcher.exchange.dxf_words import words_of
from sketcher.geometry.spline import Spline
from sketcher.part.value import frozen

MAX_CURVES = 200_000

UNITS: Mapping[int, tuple[Literal["mm", "in"], float]] = MappingProxyType({
    1: ("in", 1.0), 2: ("in", 12.0), 4: ("mm", 1.0), 5: ("mm", 10.0), 6: ("mm", 1000.0),
    8: ("in", 1e-6), 9: ("in", 1e-3), 10: ("in", 36.0), 13: ("mm", 1e-3), 14: ("mm", 100.0),
})
"""$INSUNITS to the unit that the curves come out in, and the factor to it (DXF reference)."""

HINTS = ("$MEASUREMENT", "$LUNITS", "$DIMLUNIT", "$LUPREC")
"""Variables of the header that let guess the unit."""


@dataclass
class _Gathering:
    """What has been gathered so far."""

    curves: list[FileCurve] = field(default_factory=list)
    splines: list[FileSpline] = field(default_factory=list)
    words: list[FileWords] = field(default_factory=list)
    dimensions: list[FileDimension] = field(default_factory=list)
    leaders: list[FileLeader] = field(default_factory=list)
    entities: dict[int, FileEntity] = field(default_factory=dict)
    left_out: Counter[str] = field(default_factory=Counter)
    layers: dict[str, Counter[str]] = field(default_factory=dict)
    mended: Counter[str] = field(default_factory=Counter)

    def add(self, drawn: Sequence[Drawn], number: int, layer: str) -> None:
        """Keep the curves of an entity."""
        for curve in drawn:
            if isinstance(curve, Spline):
                self.splines.append(FileSpline(curve, number, layer))
            else:
                self.curves.append(FileCurve(curve, number, layer))


def read_dxf(path: str | Path, layers: Sequence[str] | None = None) -> DxfContent:
    """Return the curves of the model space, blocks resolved.

    Parameters
    ----------
    path : str or Path
    layers : sequence of str, optional
        Only the curves of these layers, hidden or not; without it those of all that are seen.

    Raises
    ------
    FileError
        When the file is missing, too large, or no DXF; when a block holds itself; when the
        drawing is not flat.
    EditError
        When there is no layer of such a name.
    """
    path = Path(path)
    with quiet():
        return _read(path, layers)


def _read(path: Path, layers: Sequence[str] | None) -> DxfContent:
    opened = open_dxf(path)
    document = opened.document
    unit, factor = UNITS.get(_whole(document, "$INSUNITS"), (None, 1.0))
    walk = DxfWalk(document, str(path))
    looks = DxfLooks(document, None if unit is None else factor * MM_PER[unit])
    said = DimensionReader(document)
    try:
        seen = list(walk.entities(document.modelspace()))
        wanted = _wanted(layers, walk, seen)
        try:
            found = _gathered(seen, wanted, path, looks, said)
        except Tilted as tilted:
            seen = level_plane(seen, str(path), str(tilted))
            found = _gathered(seen, wanted, path, looks, said)
            found.mended["the drawing lies tilted in space; it was laid into its plane"] += 1
        for paper in document.layouts.names_in_taborder():
            if paper != "Model" and (count := len(document.layouts.get(paper))):
                found.left_out["on paper"] += count
    except Tilted as tilted:
        raise FileError(f"{path}, {tilted}", "the drawing is not flat",
                        "export a flat view of the part") from None
    except unreadable() as error:
        raise not_dxf(path, error) from None
    found.left_out = +found.left_out
    mended = (what if count == 1 else f"{what} ({count} times)"
              for what, count in found.mended.items())
    return DxfContent(
        path.stem, tuple(found.curves), unit, factor,
        tuple(FileLayer(name, frozen(counts), walk.hidden(name))
              for name, counts in found.layers.items()),
        frozen(found.left_out), (*opened.mended, *mended), tuple(found.words),
        tuple(found.splines), opened.decimals,
        str(document.loaded_dxfversion or document.dxfversion),
        frozen({name: _whole(document, name) for name in HINTS if name in document.header}),
        frozen(found.entities), tuple(found.dimensions), tuple(found.leaders))


def _wanted(
    layers: Sequence[str] | None, walk: DxfWalk, seen: Sequence[SeenEntity]
) -> frozenset[str] | None:
    if layers is None:
        return None
    names = {name.lower(): name for name in (*walk.layers, *(each.layer for each in seen))}
    for layer in layers:
        if layer.lower() not in names:
            holding = dict.fromkeys(each.layer for each in seen)
            raise EditError(f"--layers {layer}", "the file has no such layer",
                            f"it has {', '.join(holding) or 'none'}")
    return frozenset(names[layer.lower()] for layer in layers)


def _gathered(
    seen: Sequence[SeenEntity], wanted: frozenset[str] | None, path: Path, looks: DxfLooks,
    reader: DimensionReader,
) -> _Gathering:
    found = _Gathering()
    for number, each in enumerate(seen, 1):
        kind = each.entity.dxftype()
        found.layers.setdefault(each.layer, Counter())[kind] += 1
        if not each.hidden and not has_edges(kind):
            _note(each, number, found, looks, reader)
        if wanted is not None:
            shown = each.layer in wanted and (not each.hidden or each.by in (*wanted, each.layer))
        else:
            shown = not each.hidden
        if not shown:
            if each.hidden and each.by != each.layer:  # the layer's own line does not tell it
                found.left_out[f"{kind} {_why(each)}"] += 1
            continue
        if not has_edges(kind):
            found.left_out[kind] += 1
            continue
        for told in _taken(each, number, found):
            found.mended[told] += 1
        found.entities[number] = looks.look(each, number)
        if len(found.curves) + len(found.splines) > MAX_CURVES:
            raise FileError(str(path), f"holds more than {MAX_CURVES} curves", "split it")
    return found


def _note(
    each: SeenEntity, number: int, found: _Gathering, looks: DxfLooks, reader: DimensionReader
) -> None:
    """Keep what an entity says: a text, a dimension, a leader."""
    entity, kind, layer = each.entity, each.entity.dxftype(), each.layer
    said = words_of(entity, number, layer)
    if said is not None:
        found.words.append(said)
    told = said is not None
    try:
        if kind in DIMENSIONS:
            measured = reader.dimension(entity, number, layer)
            if measured is not None:
                found.dimensions.append(measured)
            told = told or measured is not None
        elif kind in LEADERS:
            found.leaders += leader(entity, number, layer)
            told = True
    except unreadable() as error:
        found.mended[f"{kind} {number} on layer {layer} was left out: {error}"] += 1
    if told:
        found.entities[number] = looks.look(each, number)


def _taken(each: SeenEntity, number: int, found: _Gathering) -> Iterator[str]:
    """Keep what an entity draws; yield what was mended or dropped of it."""
    name = f"{each.entity.dxftype()} {number} on layer {each.layer}"
    told: Counter[str] = Counter()

    def tell(what: str) -> None:
        told[what] += 1

    try:
        found.add(curves_of(each.entity, tell), number, each.layer)
    except Unreadable as error:
        found.left_out[each.entity.dxftype()] += 1
        yield f"{name} was left out: {error}"
    except Tilted as error:
        raise Tilted(f"{name}: {error}") from None
    yield from (f"{name}: {what}" for what in told.elements())


def _why(each: SeenEntity) -> str:
    return f"in a block on {each.by} ({each.hidden})" if each.by else each.hidden


def _whole(document: Any, name: str) -> int:
    try:
        return int(document.header.get(name, 0))
    except (TypeError, ValueError):
        return 0
