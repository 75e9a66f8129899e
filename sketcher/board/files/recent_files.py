"""Recently opened files: a short list, those that are pinned first, then newest first."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from sketcher.board.settings import MAX_BYTES, write_whole


@dataclass(frozen=True, slots=True)
class Recent:
    """Paths of files, newest first, each once; and those of them that stay at the top."""

    paths: tuple[str, ...] = ()
    pinned: tuple[str, ...] = ()

    def opened(self, path: str | Path, most: int = 8) -> Recent:
        """Return the list with `path` in front; `most` counts those that are not pinned."""
        name = str(Path(path).absolute())
        paths = (name, *(p for p in self.paths if p != name))
        loose = [p for p in paths if p not in self.pinned][:most]
        return replace(self, paths=tuple(p for p in paths if p in self.pinned or p in loose))

    def without(self, path: str | Path) -> Recent:
        """Return the list without a path that is gone."""
        name = str(Path(path).absolute())
        return Recent(tuple(p for p in self.paths if p != name),
                      tuple(p for p in self.pinned if p != name))

    def with_pin(self, path: str, pinned: bool) -> Recent:
        """Return the list with one path kept at the top, or let go from there."""
        others = tuple(p for p in self.pinned if p != path)
        return replace(self, pinned=(*others, path) if pinned and path in self.paths else others)

    def there(self) -> tuple[str, ...]:
        """Return those whose file still exists, the pinned ones first."""
        paths = (*self.pinned, *(p for p in self.paths if p not in self.pinned))
        return tuple(path for path in paths if Path(path).is_file())


def load_recent(path: Path) -> Recent:
    """Read the list; a missing or damaged file gives an empty one.

    A bare list of paths, as it was written before files could be pinned, is read as well.
    """
    try:
        raw = path.read_bytes()[:MAX_BYTES]
        found = json.loads(raw)
    except (OSError, ValueError, RecursionError):
        return Recent()
    table = found if isinstance(found, dict) else {"paths": found}
    paths = _names(table.get("paths"))
    return Recent(paths, tuple(p for p in _names(table.get("pinned")) if p in paths))


def _names(found: object) -> tuple[str, ...]:
    names: Iterable[object] = found if isinstance(found, list) else ()
    return tuple(dict.fromkeys(name for name in names if isinstance(name, str)))


def save_recent(recent: Recent, path: Path) -> None:
    """Write the list."""
    table = {"paths": list(recent.paths), "pinned": list(recent.pinned)}
    write_whole(path, json.dumps(table, indent=1) + "\n")
