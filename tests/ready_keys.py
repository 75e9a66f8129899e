"""Demo parts solved, and as keys: once in a process for all tests."""

from __future__ import annotations

from functools import cache

from sketcher.inspect.sketched import solve_sketch
from sketcher.marking.comparing import KeyReady
from sketcher.marking.rubric import Rubric
from sketcher.part.store import load
from sketcher.solve.solve_report import Solution
from tests.demo_parts import FOLDER


@cache
def demo_solved(name: str) -> Solution:
    """A demo part as it is solved."""
    return solve_sketch(load(FOLDER / f"{name}.profile.json"))


@cache
def key_ready(name: str) -> KeyReady:
    """A demo part as a key of the usual rubric; nobody changes it."""
    return KeyReady(demo_solved(name).part, Rubric())
