"""Files of the parts that an intake makes: one by the name that was given, several by numbers."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from sketcher.intake.taken import Taken
from sketcher.part.store import SUFFIX


def part_files(taken: Taken, out: str | Path) -> tuple[Path, ...]:
    """Return where each part goes: ``NAME-1.profile.json`` and so on where there are several."""
    out = Path(out)
    if len(taken.parts) == 1:
        return (out,)
    stem = out.name.removesuffix(SUFFIX)
    return tuple(out.with_name(f"{stem}-{number}{SUFFIX}")
                 for number in range(1, len(taken.parts) + 1))


def put_parts(taken: Taken, files: tuple[Path, ...], put: Callable[[Path, bytes], object]) -> None:
    """Hand the content of each part to whoever writes it."""
    from sketcher.part.store import content

    for each, file in zip(taken.parts, files, strict=True):
        put(file, content(each.part, file))
