"""A rubric in its file, ``NAME.rubric.json``: what each rule costs, to be edited by hand.

UTF-8 JSON, one rule a line. Keys, in their order: ``format`` (``"marking-rubric"``) and ``version``
(1), both needed; ``base``, points of a hand-in without mistakes; ``tolerance`` in the key's unit,
or null for 0.01 mm or 0.001 in; ``angle_tolerance`` in degrees; ``rules``, name of a rule to
``points``, ``cap``, ``limit`` (where the rule has one) and ``on``, each of which may be left out
for the rule's own; ``layers``, name of a layer to what it is for; ``comments``, sentences that a
teacher keeps at hand. All but the first two may be left out.
"""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from difflib import get_close_matches
from typing import cast, get_args

from sketcher.exchange.outputs import Form
from sketcher.marking.hand_in import LayerRole
from sketcher.marking.marking_rule import MarkingRule
from sketcher.marking.rubric import Rubric, RuleSetting
from sketcher.marking.rules import marking_rules
from sketcher.part.atomic import read_text_as, write_bytes
from sketcher.part.node import JsonNode, parsed
from sketcher.part.value import frozen

SUFFIX = ".rubric.json"
FORMAT, VERSION = "marking-rubric", 1
MOST_BYTES = 1_000_000
MOST_COMMENTS = 1_000
KEYS = ("format", "version", "base", "tolerance", "angle_tolerance", "rules", "layers", "comments")
SETTING_KEYS = ("points", "cap", "limit", "on")


def load_rubric(path: str | os.PathLike[str]) -> Rubric:
    """Read a rubric's file.

    Raises
    ------
    FileError
        When it cannot be read or is no rubric: one error that names the place.
    """
    return read_text_as(path, MOST_BYTES, rubric_of)


def rubric_of(text: str) -> Rubric:
    """Return the rubric that a file's text describes.

    Raises
    ------
    FileError
        For anything that is no rubric; the place is the path of keys.
    """
    return rubric_in(parsed(text))


def rubric_in(node: JsonNode) -> Rubric:
    """Return the rubric that a place in a file describes.

    Raises
    ------
    FileError
        For anything that is no rubric; the place is the path of keys.
    """
    found = node.fields(KEYS, ("format", "version"))
    found["format"].choice((FORMAT,))
    found["version"].whole(VERSION, VERSION)
    usual = Rubric()
    tolerance = found.get("tolerance")
    return Rubric(
        frozen(_rules(found["rules"])) if "rules" in found else frozen(),
        found["base"].number(0.0) if "base" in found else usual.base,
        None if tolerance is None or tolerance.value is None else tolerance.number(0.0),
        found["angle_tolerance"].number(0.0) if "angle_tolerance" in found
        else usual.angle_tolerance,
        frozen(_layers(found["layers"])) if "layers" in found else frozen(),
        tuple(node.text() for node in found["comments"].items(MOST_COMMENTS))
        if "comments" in found else ())


def _rules(node: JsonNode) -> dict[str, RuleSetting]:
    rules = marking_rules()
    out = {}
    for name, each in node.entries():
        if name not in rules:
            near = get_close_matches(name, rules, 1, 0.5)
            each.fail(f"there is no rule {name[:64]!r}",
                      f"is {near[0]} meant?" if near else "use the names of a saved rubric")
        out[name] = _setting(each, rules[name])
    return out


def _setting(node: JsonNode, rule: MarkingRule) -> RuleSetting:
    found = node.fields(SETTING_KEYS)
    points = not_below_zero(found["points"]) if "points" in found else rule.points
    cap = not_below_zero(found["cap"]) if "cap" in found else max(rule.cap, points)
    if cap < points:
        found["cap"].fail(f"{cap:g} is less than the rule's points, {points:g}",
                          "let the cap be the points or more")
    limit = rule.limit
    if "limit" in found and found["limit"].value is not None:
        if rule.limit is None:
            found["limit"].fail(f"the rule {rule.name} has no limit", "leave it out")
        limit = found["limit"].number(0.0)
    return RuleSetting(points, cap, limit, found["on"].flag() if "on" in found else True)


def not_below_zero(node: JsonNode) -> float:
    """Return a number that is zero or more.

    Raises
    ------
    FileError
    """
    value = node.number()
    if value < 0.0:
        node.fail(f"{value:g} is below zero", "give zero or more")
    return value


def _layers(node: JsonNode) -> dict[str, LayerRole]:
    return {name.lower(): cast(LayerRole, each.choice(get_args(LayerRole)))
            for name, each in node.entries()}


def rubric_text(rubric: Rubric) -> str:
    """Return the content of a rubric's file: every rule, so that all can be seen and changed."""
    return "{\n" + ",\n".join((
        f'  "format": {_json(FORMAT)}', f'  "version": {VERSION}',
        f'  "base": {_json(_number(rubric.base))}', f'  "tolerance": {_json(rubric.tolerance)}',
        f'  "angle_tolerance": {_json(rubric.angle_tolerance)}',
        _table("rules", {name: _written(rubric.setting(name)) for name in marking_rules()}),
        _table("layers", rubric.layers),
        _json_list("comments", rubric.comments))) + "\n}\n"


def save_rubric(rubric: Rubric, path: str | os.PathLike[str]) -> None:
    """Write a rubric's file in one step.

    Raises
    ------
    FileError
        When the file cannot be written.
    """
    write_bytes(path, rubric_text(rubric).encode("utf-8"))


def _written(setting: RuleSetting) -> dict[str, object]:
    out: dict[str, object] = {"points": _number(setting.points), "cap": _number(setting.cap)}
    if setting.limit is not None:
        out["limit"] = _number(setting.limit)
    return {**out, "on": setting.on}


def _number(value: float) -> float | int:
    return int(value) if value == int(value) else value


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False)


def _table(name: str, entries: Mapping[str, object]) -> str:
    lines = ",\n".join(f"    {_json(key)}: {_json(value)}" for key, value in entries.items())
    return f'  "{name}": {{\n{lines}\n  }}' if lines else f'  "{name}": {{}}'


def _json_list(name: str, texts: tuple[str, ...]) -> str:
    lines = ",\n".join(f"    {_json(each)}" for each in texts)
    return f'  "{name}": [\n{lines}\n  ]' if lines else f'  "{name}": []'


RUBRIC = Form("an unchanged rubric", (SUFFIX,),
              lambda data: data.decode("utf-8", "replace") == rubric_text(Rubric()))
"""One that a teacher has changed is never replaced unasked."""
