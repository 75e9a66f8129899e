"""The rubric's file: what is written is read back, what is wrong in it is named by its place."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from sketcher.errors import FileError
from sketcher.marking.rubric import Rubric, RuleSetting
from sketcher.marking.rubric_file import load_rubric, rubric_of, rubric_text, save_rubric
from sketcher.marking.rules import marking_rules

HEAD = '"format": "marking-rubric", "version": 1'


def test_a_rubric_comes_back_as_it_was(tmp_path: Path) -> None:
    rubric = Rubric({"wrong-value": RuleSetting(2.5, 10.0, None, False)}, 50.0, 0.02, 0.1,
                    {"mitte": "center", "0": "outline"}, ("See the \"paper\".", "Ø is missing"))
    save_rubric(rubric, tmp_path / "a.rubric.json")
    back = load_rubric(tmp_path / "a.rubric.json")
    assert (back.base, back.tolerance, back.angle_tolerance) == (50.0, 0.02, 0.1)
    assert (dict(back.layers), back.comments) == (rubric.layers, rubric.comments)
    assert {name: back.setting(name) for name in marking_rules()} == {
        name: rubric.setting(name) for name in marking_rules()}
    assert rubric_text(back) == rubric_text(rubric)
    told = json.loads(rubric_text(Rubric()))
    assert list(told["rules"]) == list(marking_rules())
    assert told["rules"]["wrong-value"] == {"points": 4, "cap": 16, "on": True}


def test_what_is_left_out_is_the_rules_own() -> None:
    rubric = rubric_of(f'{{{HEAD}, "rules": {{"wrong-value": {{"points": 20}}}}}}')
    assert rubric.setting("wrong-value") == RuleSetting(20.0, 20.0)
    assert rubric_of(f"{{{HEAD}}}") == Rubric()


@pytest.mark.parametrize(("more", "said"), [
    ('"rules": {"wrong-valu": {}}', "rules.wrong-valu: there is no rule 'wrong-valu'; "
                                    "is wrong-value meant?"),
    ('"rules": {"wrong-value": {"points": "4"}}',
     "rules.wrong-value.points: expected a number, found the text '4'"),
    ('"rules": {"wrong-value": {"points": -1}}', "rules.wrong-value.points: -1 is below zero"),
    ('"rules": {"wrong-value": {"points": NaN}}', "rules.wrong-value.points: NaN is not a number"),
    ('"rules": {"wrong-value": {"points": 5, "cap": 4}}',
     "rules.wrong-value.cap: 4 is less than the rule's points, 5"),
    ('"rules": {"wrong-value": {"limit": 4}}',
     "rules.wrong-value.limit: the rule wrong-value has no limit"),
    ('"rules": {"wrong-value": {"on": 1}}', "rules.wrong-value.on: expected true or false"),
    ('"rules": {"wrong-value": {"price": 1}}', "rules.wrong-value.price: unknown key"),
    ('"rules": {"wrong-value": {}, "wrong-value": {}}', "rules.wrong-value: is given twice"),
    ('"base": 0', "base: 0 is too small"),
    ('"tolerance": -0.1', "tolerance: -0.1 is too small"),
    ('"layers": {"0": "edges"}', "layers.0: unknown word 'edges'"),
    ('"comments": [1]', "comments[0]: expected a text"),
    ('"color": "red"', "color: unknown key"),
])
def test_what_is_wrong_is_named_by_its_place(tmp_path: Path, more: str, said: str) -> None:
    (tmp_path / "a.rubric.json").write_text(f"{{{HEAD}, {more}}}")
    with pytest.raises(FileError) as error:
        load_rubric(tmp_path / "a.rubric.json")
    assert str(error.value).startswith(f"{tmp_path / 'a.rubric.json'}: {said}")


@pytest.mark.parametrize("text", ["", "{", "[]", "{}", '{"format": "part-profile", "version": 1}',
                                  '{"format": "marking-rubric", "version": 2}'])
def test_what_is_no_rubric(text: str) -> None:
    with pytest.raises(FileError):
        rubric_of(text)
