"""The marking of a class in its file, ``NAME.marking.json``: what is marked by what, and rulings.

UTF-8 JSON. Keys, in their order: ``format`` (``"class-marking"``) and ``version`` (1); ``key``,
``variants``, ``folder`` and ``roster``, paths from where the file lies (without a key and variants
the part is meant that is open; a roster may be left out); ``rubric``, as in a rubric's own file;
``rulings``, name of a hand-in's file to a list of what a person said: ``rule``, ``at`` and
``wanted`` of the deduction, ``verdict``, ``points`` where they were changed, and ``comment``;
``by hand``, name of a file to a list of ``points`` that a person gives beside the rules (below
zero: takes) and ``words``. The marks are not in it: they come from the hand-ins, as often as they
are marked.
"""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import cast, get_args

from sketcher.marking.hand_rulings import HandRuling, Verdict
from sketcher.marking.marks import PointsByHand
from sketcher.marking.rubric import Rubric
from sketcher.marking.rubric_file import not_below_zero, rubric_in, rubric_text
from sketcher.part.atomic import read_text_as, write_bytes
from sketcher.part.node import JsonNode, parsed
from sketcher.part.value import frozen

MARKING_SUFFIX = ".marking.json"
FORMAT, VERSION = "class-marking", 1
MOST_BYTES = 16_000_000
MOST_RULINGS = 10_000
PATHS = ("key", "variants", "folder", "roster")
KEYS = ("format", "version", *PATHS, "rubric", "rulings", "by hand")
BY_HAND_KEYS = ("points", "words")
RULING_KEYS = ("rule", "at", "wanted", "verdict", "points", "comment")

Rulings = Mapping[str, tuple[HandRuling, ...]]
"""What a person said, by name of the hand-in's file."""
ByHand = Mapping[str, tuple[PointsByHand, ...]]
"""What a person gave or took beside the rules, by name of the hand-in's file."""


@dataclass(frozen=True, slots=True)
class ClassMarking:
    """What a class is marked by, and what a person said of it.

    Parameters
    ----------
    key, folder, roster : Path or None
    rubric : Rubric
    rulings : mapping of str to tuple of HandRuling
    by_hand : mapping of str to tuple of PointsByHand
    variants : Path or None
        The table that gives each number a key of its own.
    """

    key: Path | None = None
    folder: Path | None = None
    roster: Path | None = None
    rubric: Rubric = Rubric()  # noqa: RUF009 - it is frozen
    rulings: Rulings = field(default_factory=frozen)
    by_hand: ByHand = field(default_factory=frozen)
    variants: Path | None = None


def save_marking(marking: ClassMarking, path: str | os.PathLike[str]) -> None:
    """Write a marking in one step.

    Raises
    ------
    FileError
        When the file cannot be written.
    """
    write_bytes(path, marking_text(marking, Path(path).parent).encode("utf-8"))


def load_marking(path: str | os.PathLike[str]) -> ClassMarking:
    """Read a marking.

    Raises
    ------
    FileError
        When it cannot be read or is none: one error that names the place.
    """
    return read_text_as(path, MOST_BYTES, partial(marking_of, home=Path(path).parent))


def marking_text(marking: ClassMarking, home: Path) -> str:
    """Return the content of a marking's file that lies in a folder."""
    tree: dict[str, object] = {"format": FORMAT, "version": VERSION}
    for name in PATHS:
        there = getattr(marking, name)
        if there is not None:
            tree[name] = _from_home(there, home)
    tree["rubric"] = json.loads(rubric_text(marking.rubric))
    tree["rulings"] = {file: [_written(each) for each in rulings]
                       for file, rulings in sorted(marking.rulings.items()) if rulings}
    if marking.by_hand:
        tree["by hand"] = {file: [{"points": each.points, "words": each.words} for each in given]
                           for file, given in sorted(marking.by_hand.items()) if given}
    return json.dumps(tree, ensure_ascii=False, indent=1) + "\n"


def marking_of(text: str, home: Path) -> ClassMarking:
    """Return the marking that a file's text describes.

    Raises
    ------
    FileError
        For anything that is none; the place is the path of keys.
    """
    found = parsed(text).fields(KEYS, ("format", "version"))
    found["format"].choice((FORMAT,))
    found["version"].whole(VERSION, VERSION)
    rulings = {file: tuple(_ruling(each) for each in node.items(MOST_RULINGS))
               for file, node in found["rulings"].entries()} if "rulings" in found else {}
    by_hand = {file: tuple(_by_hand(each) for each in node.items(MOST_RULINGS))
               for file, node in found["by hand"].entries()} if "by hand" in found else {}
    key, variants, folder, roster = (
        Path(os.path.normpath(home / found[name].text())) if name in found else None
        for name in PATHS)
    return ClassMarking(key, folder, roster,
                        rubric_in(found["rubric"]) if "rubric" in found else Rubric(),
                        frozen(rulings), frozen(by_hand), variants)


def _from_home(path: Path, home: Path) -> str:
    """Return a path from a folder; the whole path where there is none, as on another drive."""
    try:
        return Path(os.path.relpath(path, home)).as_posix()
    except ValueError:
        return path.as_posix()


def _written(ruling: HandRuling) -> dict[str, object]:
    out: dict[str, object] = {"rule": ruling.rule, "at": list(ruling.at), "wanted": ruling.wanted,
                              "verdict": ruling.verdict}
    if ruling.verdict == "changed":
        out["points"] = ruling.points
    if ruling.comment:
        out["comment"] = ruling.comment
    return out


def _by_hand(node: JsonNode) -> PointsByHand:
    found = node.fields(BY_HAND_KEYS, ("points",))
    return PointsByHand(found["points"].number(),
                        found["words"].text() if "words" in found else "")


def _ruling(node: JsonNode) -> HandRuling:
    found = node.fields(RULING_KEYS, ("rule", "at"))
    verdict = found["verdict"].choice(get_args(Verdict)) if "verdict" in found else "open"
    points = not_below_zero(found["points"]) if "points" in found else 0.0
    return HandRuling(
        found["rule"].text(), found["at"].point(),
        found["wanted"].text() if "wanted" in found else "", cast(Verdict, verdict), points,
        found["comment"].text() if "comment" in found else "")
