"""Drawings that other programs wrote, handed in: read and marked, or refused in one line."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from sketcher.errors import SketcherError
from sketcher.marking.hand_in import HandIn
from sketcher.marking.hand_in_file import read_hand_in
from sketcher.marking.marks import marked
from sketcher.marking.rubric import Rubric
from tests.demo_parts import FOLDER
from tests.ready_keys import key_ready
from tests.seldom import some_of
from tests.shared_files import shared

FILES = [*shared("dxf", "*.dxf"), *sorted(FOLDER.glob("*.dxf"))]
QUICK = ("loose-circle",)
"""Files that are soon laid on a key; with the others it tries long."""


@cache
def taken(path: Path) -> HandIn | str:
    """What a file holds, or why it cannot be read."""
    try:
        return read_hand_in(path)
    except SketcherError as error:
        return str(error)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_foreign_drawing_is_read(path: Path) -> None:
    found = taken(path)
    assert isinstance(found, HandIn), found
    assert found.content is not None
    numbers = {each.entity for each in found.curves}
    drawn = {each.entity for each in (*found.content.curves, *found.content.splines)}
    assert numbers == drawn
    assert numbers <= set(found.entities)
    assert found.of_role("outline")


@pytest.mark.parametrize("key", ["gate-strap", "shelf-bracket"])
@pytest.mark.parametrize("path", some_of(FILES, lambda path: path.stem in QUICK),
                         ids=lambda path: path.stem)
def test_a_foreign_drawing_is_marked_or_refused_in_a_line(path: Path, key: str) -> None:
    hand_in = taken(path)
    assert isinstance(hand_in, HandIn), hand_in
    said = ""
    try:
        comparison = key_ready(key).compare(hand_in)
    except SketcherError as error:
        said = str(error)
    if said:
        assert said.startswith(path.name)
        assert "\n" not in said
        return
    marks = marked(comparison, Rubric())
    assert 0.0 <= marks.points <= marks.of
    assert len(comparison.outline) == len(comparison.hand_in.of_role("outline"))
