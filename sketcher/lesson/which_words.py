"""Which of two crossings is meant, said behind its name in the sentence of a move."""

from __future__ import annotations

import re
from collections.abc import Sequence

from sketcher.lesson.strokes import Crossed, Stroke, Which


def with_which(text: str, strokes: Sequence[Stroke]) -> str:
    """Return the sentence of a move with a word behind each point that is one of two crossings.

    ``cut e1 at 7A (left)``; where the sentence says "beyond" it has told already.

    Parameters
    ----------
    text : str
    strokes : sequence of Stroke
        Of the move.
    """
    if re.search(r"\bbeyond\b", text):
        return text
    for stroke in strokes:
        if isinstance(stroke, Crossed) and stroke.which.word != "only":
            name = rf"(?<![\w#'-]){re.escape(stroke.name)}(?![\w#'-])"
            text = re.sub(name, f"{stroke.name} ({_word(stroke.which)})", text, count=1)
    return text


def _word(which: Which) -> str:
    if not which.of:
        return which.word
    return f"{which.word} {'to' if which.word == 'nearer' else 'from'} {which.of}"
