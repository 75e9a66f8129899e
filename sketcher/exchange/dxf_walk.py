"""Walk the model space of a DXF: every entity with the layer it is seen on, blocks resolved."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from sketcher.errors import FileError
from sketcher.interrupt import check

MAX_DEPTH = 32
"""Blocks inside blocks: far more than anyone nests."""
MAX_ENTITIES = 1_000_000
"""A block set out in rows may stand for any number of entities."""


@dataclass(frozen=True, slots=True)
class SeenEntity:
    """An entity of the library where it is seen.

    Parameters
    ----------
    entity : object
        Of the library, in world coordinates as far as its extrusion lets it.
    layer : str
        An entity on layer 0 of a block is seen on the layer of the block's reference (DXF
        reference, layer 0 in blocks).
    hidden : str
        Why it is not seen: its layer is ``off`` or ``frozen``, it is ``invisible`` itself, or
        something of it is so on the way through blocks; empty when it is seen.
    by : str
        The layer that hides it, or empty.
    holder : SeenEntity or None
        The reference of the block that it is in.
    """

    entity: Any
    layer: str
    hidden: str = ""
    by: str = ""
    holder: SeenEntity | None = None


class DxfWalk:
    """Knows the layers of a document.

    Parameters
    ----------
    document : object
        Of the library.
    place : str
        What errors name: the file.
    """

    def __init__(self, document: Any, place: str) -> None:
        self._place = place
        self._names: dict[str, str] = {}
        self._hides: dict[str, str] = {}
        for layer in document.layers:
            name = str(layer.dxf.name)
            self._names[name.lower()] = name
            self._hides[name] = ("frozen" if layer.is_frozen() else
                                 "off" if layer.is_off() else "")
        self._count = 0

    @property
    def layers(self) -> tuple[str, ...]:
        """Names of all layers of the table."""
        return tuple(self._names.values())

    def hidden(self, layer: str) -> str:
        """Return why a layer is not seen."""
        return self._hides.get(layer, "")

    def entities(self, space: Iterable[Any]) -> Iterator[SeenEntity]:
        """Yield all entities of a space in file order, those of blocks where they are set in.

        Raises
        ------
        FileError
            When a block holds itself, or blocks hold too much.
        """
        yield from self._within(space, SeenEntity(None, "0"), ())

    def _within(
        self, entities: Iterable[Any], outer: SeenEntity, blocks: tuple[str, ...]
    ) -> Iterator[SeenEntity]:
        for entity in entities:
            self._count += 1
            if self._count % 1000 == 0:
                check()
            if self._count > MAX_ENTITIES:
                raise FileError(self._place, f"holds more than {MAX_ENTITIES} entities, blocks "
                                "resolved", "split it")
            seen = self._seen(entity, outer, bool(blocks))
            if entity.dxftype() != "INSERT":
                yield seen
                continue
            name = str(entity.dxf.get("name", "")).lower()
            if name in blocks or len(blocks) >= MAX_DEPTH:
                raise FileError(f"{self._place}, block {entity.dxf.get('name', '')}",
                                "holds itself, so that it has no end",
                                "take the block out of itself and export the drawing again")
            # Attributes are words that stand beside the block, not in it.
            yield from (self._seen(word, outer, bool(blocks)) for word in entity.attribs)
            for single in entity.multi_insert() if entity.mcount > 1 else (entity,):
                yield from self._within(single.virtual_entities(), seen, (*blocks, name))

    def _seen(self, entity: Any, outer: SeenEntity, within: bool) -> SeenEntity:
        own = str(entity.dxf.get("layer", "0"))
        own = self._names.get(own.lower(), own)
        layer = outer.layer if within and own == "0" else own
        holder = outer if within else None
        if outer.hidden in ("frozen", "invisible"):  # what is off hides its own entities alone
            return SeenEntity(entity, layer, outer.hidden, outer.by, holder)
        if entity.dxf.get("invisible", 0):
            return SeenEntity(entity, layer, "invisible", "", holder)
        hidden = self.hidden(layer)
        return SeenEntity(entity, layer, hidden, layer if hidden else "", holder)
