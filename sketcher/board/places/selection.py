"""What is selected: ids of points, curves and bindings in the order in which they were picked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from sketcher.part.image_id import read_image_id
from sketcher.part.value import Part


def source_of(name: str) -> str:
    """Return the drawn curve that an image belongs to: ``h1`` for ``h1#3'``."""
    return read_image_id(name).source


@dataclass(frozen=True, slots=True)
class Selection:
    """An ordered set of ids; a value, so that listeners compare by identity."""

    ids: tuple[str, ...] = ()

    def __iter__(self) -> Iterator[str]:
        return iter(self.ids)

    def __len__(self) -> int:
        return len(self.ids)

    def __contains__(self, name: object) -> bool:
        return name in self.ids

    def only(self, names: Iterable[str]) -> Selection:
        """Return a selection of these alone, each once; images stand for their sources."""
        return Selection(tuple(dict.fromkeys(source_of(name) for name in names)))

    def plus(self, names: Iterable[str]) -> Selection:
        """Return this selection with more behind it."""
        return self.only((*self.ids, *names))

    def minus(self, names: Iterable[str]) -> Selection:
        """Return this selection without some."""
        gone = {source_of(name) for name in names}
        return Selection(tuple(name for name in self.ids if name not in gone))

    def toggled(self, names: Iterable[str]) -> Selection:
        """Return this selection with each name added where it was missing, else taken out."""
        result = self
        for name in names:
            name = source_of(name)
            result = result.minus((name,)) if name in result else result.plus((name,))
        return result

    def living(self, part: Part) -> Selection:
        """Return what of it the part still holds; the very same value when all of it is there."""
        left = tuple(n for n in self.ids if n in part.points or n in part.curves
                     or n in part.bindings)
        return self if left == self.ids else Selection(left)

    def points(self, part: Part) -> tuple[str, ...]:
        """Return the selected points."""
        return tuple(name for name in self.ids if name in part.points)

    def curves(self, part: Part) -> tuple[str, ...]:
        """Return the selected curves."""
        return tuple(name for name in self.ids if name in part.curves)

    def bindings(self, part: Part) -> tuple[str, ...]:
        """Return the selected bindings."""
        return tuple(name for name in self.ids if name in part.bindings)

    def geometry(self, part: Part) -> tuple[str, ...]:
        """Return the selected points and curves in the order of picking."""
        return tuple(name for name in self.ids if name in part.points or name in part.curves)
