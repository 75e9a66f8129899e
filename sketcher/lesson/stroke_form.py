"""Steps of a construction in plain values, as ``sketcher order --json`` prints them.

A step, a move and a stroke become objects with the names of their own fields, tuples lists. A
stroke begins with ``do``, the word for what the hand does, by which a reader knows its fields.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from types import MappingProxyType
from typing import Any

from sketcher.lesson.order_step import OrderStep
from sketcher.lesson.strokes import (
    Angled,
    Crossed,
    GivenLine,
    GivenPoint,
    GoneOver,
    Named,
    Ruled,
    Swung,
)

DO: Mapping[type, str] = MappingProxyType({
    GivenPoint: "mark", GivenLine: "level", Ruled: "rule", Angled: "protract", Swung: "swing",
    Crossed: "cross", Named: "call", GoneOver: "go over"})
"""The word of each kind of stroke."""


def step_form(step: OrderStep, moves: bool) -> dict[str, Any]:
    """Return a step in plain values; its moves only when they are asked for."""
    return {name: value for name, value in _plain(step).items() if moves or name != "moves"}


def _plain(value: Any) -> Any:
    if is_dataclass(value):
        word = {"do": DO[type(value)]} if type(value) in DO else {}
        return word | {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
    return [_plain(one) for one in value] if isinstance(value, tuple) else value
