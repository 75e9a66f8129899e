"""Edits, one a file; the registry is the folder.

Each file holds a function of its own name that takes a part and returns `Edited`. It never
solves, and raises an `EditError` where the part does not allow it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from importlib import import_module
from pkgutil import iter_modules

from sketcher.part.edited import Edited

NAMES = tuple(module.name for module in iter_modules(__path__) if module.name != "draft")


class _Edits(Mapping[str, Callable[..., Edited]]):
    """Name to edit; a file is imported when its edit is first asked for."""

    def __getitem__(self, name: str) -> Callable[..., Edited]:
        if name not in NAMES:
            raise KeyError(name)
        function: Callable[..., Edited] = getattr(import_module(f"{__name__}.{name}"), name)
        return function

    def __iter__(self) -> Iterator[str]:
        return iter(NAMES)

    def __len__(self) -> int:
        return len(NAMES)


EDITS: Mapping[str, Callable[..., Edited]] = _Edits()

__all__ = ["EDITS", "NAMES", "Edited"]
