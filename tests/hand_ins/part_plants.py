"""Mistakes that only a part file can have, by rule of marking: how each is made in its text."""

from __future__ import annotations

from typing import Any

from tests.hand_ins.draft import Plant

Tree = dict[str, Any]
"""A part file as JSON."""


def part_value(name: str, text: str) -> Plant:
    """A dimension with another value."""
    def make(tree: Tree) -> None:
        tree["bindings"][name]["value"] = text
    return Plant("wrong-value", "part", make)


def unbound(name: str, point: str, at: tuple[float, float]) -> Plant:
    """A dimension left out; the point that it would place lies where it should."""
    def make(tree: Tree) -> None:
        del tree["bindings"][name]
        tree["points"][point] = list(at)
    return Plant("loose", "part", make)


def computed(name: str, kind: str, of: tuple[str, str], text: str) -> Plant:
    """A dimension of the paper replaced by a size that was computed by hand."""
    def make(tree: Tree) -> None:
        del tree["bindings"][name]
        tree["bindings"]["own1"] = {"kind": kind, "of": list(of), "value": text}
    return Plant("copied-decimals", "part", make)


def by_numbers(name: str, kind: str, of: tuple[str, str], text: str) -> Plant:
    """A tangency left out: a length puts the end where it touches."""
    def make(tree: Tree) -> None:
        del tree["bindings"][name]
        tree["bindings"]["own2"] = {"kind": kind, "of": list(of), "value": text}
    return Plant("tangency-unbound", "part", make)
