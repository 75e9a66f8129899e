"""Recently opened files: a short list, newest first."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from sketcher.board.settings import MAX_BYTES, write_whole


@dataclass(frozen=True, slots=True)
class Recent:
    """Paths of files, newest first, each once."""

    paths: tuple[str, ...] = ()

    def opened(self, path: str | Path, most: int = 8) -> Recent:
        """Return the list with `path` in front and at most `most` entries."""
        name = str(Path(path).absolute())
        return Recent((name, *(p for p in self.paths if p != name))[:most])

    def without(self, path: str | Path) -> Recent:
        """Return the list without a path that is gone."""
        name = str(Path(path).absolute())
        return Recent(tuple(p for p in self.paths if p != name))

    def there(self) -> tuple[str, ...]:
        """Return those whose file still exists."""
        return tuple(path for path in self.paths if Path(path).is_file())


def load_recent(path: Path) -> Recent:
    """Read the list; a missing or damaged file gives an empty one."""
    try:
        raw = path.read_bytes()[:MAX_BYTES]
        found = json.loads(raw)
    except (OSError, ValueError, RecursionError):
        return Recent()
    names: Iterable[object] = found if isinstance(found, list) else ()
    return Recent(tuple(name for name in names if isinstance(name, str)))


def save_recent(recent: Recent, path: Path) -> None:
    """Write the list."""
    write_whole(path, json.dumps(list(recent.paths), indent=1) + "\n")
