"""Every defect of a part file is one error that names the place."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketcher.errors import FileError, QuantityError
from sketcher.part.check import check_changes
from sketcher.part.edits.draft import Draft
from sketcher.part.file_text import read, write
from sketcher.part.store import load
from sketcher.part.value import Drawing, GridPattern, Part
from tests.defects import DEFECTS, SOUND, Defect, text_of


def test_the_file_that_the_defects_spoil_is_sound() -> None:
    part = read(text_of(SOUND))
    assert part.bindings["b1"].tolerance == (0.1, -0.1)
    assert part.patterns["g1"].angle == "0"
    assert [mirror.axis for mirror in part.mirrors] == ["ax"]


def test_there_are_enough_defects() -> None:
    assert len({defect.name for defect in DEFECTS}) == len(DEFECTS) >= 30


@pytest.mark.parametrize("defect", DEFECTS, ids=lambda defect: defect.name)
def test_one_error_names_the_place(defect: Defect) -> None:
    with pytest.raises(FileError) as caught:
        read(defect.content)
    told = str(caught.value)
    assert "\n" not in told
    assert len(told) < 300
    for words in defect.says:
        assert words in told


@pytest.mark.parametrize("defect", DEFECTS[:12], ids=lambda defect: defect.name)
def test_a_file_on_disk_is_named_too(defect: Defect, tmp_path) -> None:
    path = tmp_path / "bad.profile.json"
    path.write_bytes(defect.content)
    with pytest.raises(FileError) as caught:
        load(path)
    assert str(caught.value).startswith(str(path))


def test_what_an_edit_changed_is_evaluated() -> None:
    part = read(text_of(SOUND))
    check_changes(part, part)
    for change, place in (
        ({"parameters": {"wall": "x"}}, "parameters.wall"),
        ({"bindings": {"b9": replace(part.bindings["b1"], value="-2")}}, "bindings.b9.value"),
        ({"bindings": {"b3": replace(part.bindings["b3"], value="0")}}, "bindings.b3.value"),
        ({"patterns": {"g1": replace(part.patterns["g1"], angle="3 mm")}}, "patterns.g1.angle"),
    ):
        with pytest.raises(QuantityError) as caught:
            check_changes(part, part.having(**change))
        assert caught.value.place == place
    # What was there already is not evaluated again.
    broken = part.having(bindings={"b1": replace(part.bindings["b1"], value="?")})
    check_changes(broken, broken.having(points={**part.points, "p9": (0.0, 0.0)}))


def test_a_file_too_large_is_not_read(monkeypatch) -> None:
    monkeypatch.setattr("sketcher.part.file_text.MAX_BYTES", 100)
    with pytest.raises(FileError, match="bytes"):
        read(text_of(SOUND))


def test_a_new_fraction_in_millimetres_is_refused_and_an_old_one_stays() -> None:
    """On paper a fraction alone is an inch size (common practice, no source)."""
    draft = Draft(Part())
    line, hole = draft.line((0.0, 0.0), (40.0, 0.0)), draft.circle((10.0, 10.0), 3.0)
    ends = draft.curves[line].points
    draft.bind("run", ends, "40")
    draft.pattern(GridPattern((hole,), ("12", "12"), (2, 2)))
    part = draft.done()

    def having(value: str, step: str, of: Part = part) -> Part:
        (name,), (grid,) = of.bindings, of.patterns
        return of.having(
            bindings={name: replace(of.bindings[name], value=value)},
            patterns={grid: replace(of.patterns[grid], step=(step, "12"))},
        )

    for value, step in (("9/32", "12"), ("40", "1 1/2")):
        with pytest.raises(QuantityError):
            check_changes(part, having(value, step))
    check_changes(part, having("9/32 in", "85/2"))
    old = having("9/32", "1 1/2")  # as an older file may hold it
    assert read(write(old)) == old
    check_changes(old, having("9/32", "1 1/2", old))  # an edit that hands it on
    inch = part.having(unit="in")
    check_changes(inch, having("9/32", "1 1/2", inch))


def test_a_fraction_behind_a_name_is_refused_where_a_length_says_it() -> None:
    draft = Draft(Part())
    line = draft.line((0.0, 0.0), (40.0, 0.0))
    draft.bind("run", draft.curves[line].points, "gap")
    part = draft.done().having(parameters={"gap": "40", "share": "1/2", "also": "40"})
    (name,) = part.bindings

    def having(**texts: str) -> Part:
        return part.having(parameters={**part.parameters, **texts})

    for wrong in ({"gap": "9/32"}, {"gap": "also", "also": " 1 1/2"}):
        with pytest.raises(QuantityError) as caught:
            check_changes(part, having(**wrong))
        assert caught.value.place == "parameters.gap"
    # Not the number of something else, nor one that a length reckons with, nor one with its unit.
    check_changes(part, having(share="3/4"))
    check_changes(part, having(gap="9/32 in"))
    check_changes(part, having(gap="80 * share"))
    old = having(gap="9/32")
    check_changes(old, old.having(parameters={**old.parameters, "share": "1/4"}))
    said = part.having(bindings={name: replace(part.bindings[name], value="share")})
    with pytest.raises(QuantityError):
        check_changes(part, said)


def test_a_word_that_is_empty_is_not_offered() -> None:
    spoiled = write(Part(drawing=Drawing(cut_by="laser"))).replace('"laser"', '"water"')
    with pytest.raises(FileError, match=r"unknown word 'water'; use laser or plasma$"):
        read(spoiled)
