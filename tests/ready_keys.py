"""Demo parts as keys, made ready once in a process for all tests."""

from __future__ import annotations

from functools import cache

from sketcher.inspect.sketched import solve_sketch
from sketcher.marking.comparing import KeyReady
from sketcher.marking.rubric import Rubric
from sketcher.part.store import load
from tests.demo_parts import FOLDER


@cache
def key_ready(name: str) -> KeyReady:
    """A demo part as a key of the usual rubric; nobody changes it."""
    return KeyReady(solve_sketch(load(FOLDER / f"{name}.profile.json")).part, Rubric())
