"""The marking of a class in its file: what comes back, and what is refused with its place."""

from __future__ import annotations

from pathlib import Path

import pytest

from sketcher.errors import FileError
from sketcher.marking.hand_rulings import HandRuling
from sketcher.marking.marking_file import (
    ClassMarking,
    load_marking,
    marking_of,
    marking_text,
    save_marking,
)
from sketcher.marking.marks import PointsByHand
from sketcher.marking.rubric import Rubric, RuleSetting
from sketcher.part.value import frozen

SAID = (HandRuling("stray", (1.25, -3.5), "", "waived"),
        HandRuling("wrong-value", (0.1, 0.2), "\N{DIAMETER SIGN}8", "changed", 2.5, "see 3"))
GIVEN = (PointsByHand(-5, "late"), PointsByHand(2.5))
HEAD = '{"format": "class-marking", "version": 1'


def test_all_of_it_comes_back(tmp_path: Path) -> None:
    rubric = Rubric(frozen({"wrong-value": RuleSetting(3, 9, on=False)}), 50.0,
                    layers=frozen({"mitte": "center"}), comments=("See the paper.",))
    marking = ClassMarking(tmp_path / "key.profile.json", tmp_path / "class" / "7b",
                           tmp_path / "7b.csv", rubric, frozen({"07.dxf": SAID}),
                           frozen({"07.dxf": GIVEN}), tmp_path / "variants.csv")
    path = tmp_path / "class" / "7b.marking.json"
    path.parent.mkdir()
    save_marking(marking, path)
    back = load_marking(path)
    assert (back.key, back.folder, back.roster) == (marking.key, marking.folder, marking.roster)
    assert dict(back.by_hand) == {"07.dxf": GIVEN}
    assert back.variants == marking.variants
    assert dict(back.rulings) == {"07.dxf": SAID}
    assert back.rubric.setting("wrong-value") == RuleSetting(3, 9, on=False)
    assert (back.rubric.base, back.rubric.comments) == (50.0, ("See the paper.",))
    assert dict(back.rubric.layers) == {"mitte": "center"}


def test_paths_move_with_the_file() -> None:
    text = marking_text(ClassMarking(folder=Path("/a/b/7b")), Path("/a/b"))
    assert marking_of(text, Path("/elsewhere")).folder == Path("/elsewhere/7b")
    assert "/a/b" not in text


@pytest.mark.parametrize(("text", "place"), [
    ("", ""),
    ('{"format": "class-marking"}', "version"),
    ('{"format": "marking-rubric", "version": 1}', "format"),
    (HEAD + ', "rulings": {"a": [{"rule": "stray"}]}}', "rulings.a[0].at"),
    (HEAD + ', "rulings": {"a": [{"rule": "stray", "at": [0, 0], "verdict": "x"}]}}',
     "rulings.a[0].verdict"),
    (HEAD + ', "rulings": {"a": [{"rule": "stray", "at": [0, 0], "points": -1}]}}',
     "rulings.a[0].points"),
    (HEAD + ', "by hand": {"a": [{"words": "late"}]}}', "by hand.a[0].points"),
    (HEAD + ', "rubric": {"format": "marking-rubric", "version": 1, "base": 0}}', "rubric.base"),
])
def test_what_is_no_marking_is_refused_with_its_place(text: str, place: str) -> None:
    with pytest.raises(FileError) as refused:
        marking_of(text, Path("."))
    assert refused.value.place == place
