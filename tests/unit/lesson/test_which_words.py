"""A sentence says behind each point which of two crossings it is, if there are two."""

from __future__ import annotations

import pytest

from sketcher.lesson.strokes import Crossed, Which
from sketcher.lesson.which_words import with_which


@pytest.mark.parametrize(("name", "which", "text", "said"), [
    ("2B", Which("left"), "about p1 cut e1 at 2B; 2B-12B is kept.",
     "about p1 cut e1 at 2B (left); 2B-12B is kept."),
    ("p3'", Which("nearer", "p1"), "p3 and p3', as far.", "p3 and p3' (nearer to p1), as far."),
    ("p3", Which("farther", "2A"), "p3' and p3.", "p3' and p3 (farther from 2A)."),
    ("p3", Which(), "Both cross at p3.", "Both cross at p3."),
    ("p3", Which("upper"), "Beyond e1, or beyond e2, they cross at p3.",
     "Beyond e1, or beyond e2, they cross at p3."),
])
def test_the_word_stands_behind_the_point(name: str, which: Which, text: str, said: str) -> None:
    assert with_which(text, (Crossed(name, ("e1", "2a"), which, (0.0, 0.0)),)) == said
