"""The window's words: what is unclear to those who draw is nowhere left where a person reads it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from sketcher.board.action_table import all_actions
from sketcher.board.board import all_tools
from sketcher.board.files.drawing_settings import paper_table
from sketcher.board.readout.row import LABELS
from sketcher.board.settings import TABLE
from sketcher.part.kinds import KINDS
from tests.sources import source_of

PACKAGE = Path(__file__).resolve().parents[2] / "sketcher"
LEFT_BEHIND = (
    r"\b[Ss]aid twice\b", r"\b[Oo]pen to look\b", r"\boff-reference\b", r"\b[Dd]issolve\b",
    r"\b[Tt]ouch(ing)? (circle|line)\b", r"\b[Ss]lot path\b", r"\b[Ll]adder of offsets\b",
    r"\b[Cc]enter lines as computed\b", r"\b(a|no|two|other|of|the|Two) rounds?\b(?! (end|hole))",
    r"\b(Closer|Farther|Dissolve)\b", r"\b(Grid of|[Pp]olar) (holes|hole|pattern)",
    r"^(Is|Off|Binds|Keep|Practice|Ladder|Slope|Polar|Middle|On|Square|The part( \.\.\.)?|&Part)$",
    r"\bSave (the )?report\b", r"^Writes? (a|the|every|it|PDF|CSV)\b", r" (as )?written\.$",
)
"""Words that the window, the messages and the reports once had, and have better ones for now."""
FINE = {
    "square": "names the kind in files", "round": "names an operand type in the program",
}


@cache  # all words are sought in the same texts, and reading every file takes seconds
def texts() -> tuple[tuple[str, str], ...]:
    """Return where each text stands that a person may read, and the text."""
    return (*sentences(), *labels())


def sentences() -> Iterator[tuple[str, str]]:
    """Yield file with line, and each text that a person may read: no docstring, no bare name."""
    for path in sorted(PACKAGE.rglob("*.py")):
        for line, text, where in source_of(path).texts:
            if where != "bare" and text not in FINE:
                yield f"{path.relative_to(PACKAGE)}:{line}", text


def labels() -> Iterator[tuple[str, str]]:
    """Yield everything that has a name in a table of the board."""
    for name, action in all_actions().items():
        yield from ((name, action.label), (name, action.hint))
    for tool in all_tools().values():
        yield from ((tool.name, tool.label), (tool.name, tool.name.capitalize()))
    for name, kind in KINDS.items():
        yield from ((name, kind.label), (name, kind.hint))
    for setting in (*TABLE, *paper_table()):
        yield from ((setting.name, setting.label), (setting.name, setting.help))
    yield from LABELS.items()


@pytest.mark.parametrize("word", LEFT_BEHIND)
def test_no_unclear_word_is_left(word: str) -> None:
    said = re.compile(word)
    found = [f"{where}: {text!r}" for where, text in texts() if said.search(text)]
    assert not found, "\n".join(found)


def test_the_words_of_the_layout_trades_are_explained() -> None:
    for name, meant in (("level", "horizontal"), ("plumb", "vertical"), ("run", "horizontal"),
                        ("rise", "vertical"), ("square", "perpendicular")):
        assert meant in KINDS[name].hint.lower(), name
