"""Threads of holes: what is tapped, by the curve of the hole, and how it is written.

A thread stands behind the size of the hole that is drawn, ``Ø5 M6``: the drawing says what is
drilled, and that it is tapped. Forms by ISO 261 (``M6``, ``M6x0.75``), ASME B1.1 (``1/4-20 UNC``,
``10-32``), ISO 228 (``G1/4``) and ASME B1.20.1 (``1/8-27 NPT``), all from memory.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import replace

from sketcher.errors import EditError
from sketcher.part.value import ArcCurve, CircleCurve, Drawing, Part, frozen

PLACE = "drawing.threads"
MOST_LETTERS = 24
THREAD = re.compile(r"(?:M ?\d+(?:\.\d+)?(?: ?[x×] ?\d+(?:\.\d+)?)?"
                    r"|(?:G|Rp?|Rc|Tr) ?\d+(?:[ /x.]\d+)*"
                    r"|#?\d+(?:[ -]\d+)?(?:/\d+)?-\d+|\d*\.\d+-\d+)(?:[ -][\w./+ -]+)?")


def thread_words(part: Part) -> str:
    """Return the threads of a part as text: ``h1 M6; h3 1/4-20``."""
    return "; ".join(f"{name} {thread}" for name, thread in part.drawing.threads.items())


def read_thread_words(part: Part, text: str) -> Mapping[str, str]:
    """Return threads by curve from such a text.

    Raises
    ------
    EditError
        For what is no round of the part, is named twice, or is not written as a thread.
    """
    found: dict[str, str] = {}
    for entry in filter(None, (each.strip() for each in text.split(";"))):
        name, _, thread = entry.partition(" ")
        thread = " ".join(thread.split())
        if not isinstance(part.curves.get(name), CircleCurve | ArcCurve):
            raise EditError(PLACE, f"no hole named {name[:MOST_LETTERS]!r}",
                            "write the hole's curve and its thread: h1 M6; h3 1/4-20")
        if name in found:
            raise EditError(PLACE, f"{name} has two threads", "leave one of them")
        if len(thread) > MOST_LETTERS or not THREAD.fullmatch(thread):
            raise EditError(PLACE, f"{thread[:MOST_LETTERS]!r} of {name} is no thread",
                            "write M6, M6x0.75, 1/4-20 UNC or G1/4")
        found[name] = thread
    return frozen(found)


def with_threads_named(drawing: Drawing, renamed: Callable[[str], str]) -> Drawing:
    """Return the drawing with every id in its threads renamed."""
    if all(renamed(name) == name for name in drawing.threads):
        return drawing
    return replace(drawing, threads=frozen(
        {renamed(name): thread for name, thread in drawing.threads.items()}))


def without_threads_of(drawing: Drawing, is_gone: Callable[[str], bool]) -> Drawing:
    """Return the drawing without threads of holes that are gone: an id may be given again."""
    kept = {name: thread for name, thread in drawing.threads.items() if not is_gone(name)}
    return drawing if len(kept) == len(drawing.threads) else replace(drawing, threads=frozen(kept))
