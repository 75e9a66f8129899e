"""The practice problems that travel with the program, from easy to hard.

``demo_parts/practice/`` holds a part for each, the key, and ``practice.json``: what is learned by
each, by the part's name, in the order of difficulty. Harder means more constructions, not more
curves.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from sketcher.errors import FileError
from sketcher.part.file_text import read
from sketcher.part.store import SUFFIX
from sketcher.part.value import Part
from sketcher.shipped import shipped

FOLDER, INDEX = "practice", "practice.json"
REMEDY = "install the program again"


@dataclass(frozen=True, slots=True)
class PracticeProblem:
    """One problem.

    Parameters
    ----------
    number : int
        From 1, the easiest.
    name : str
        Of its file in ``demo_parts/practice/``, without the suffix.
    goal : str
        What is learned by it, one line.
    key : Part
        As it ought to come out; not solved.
    """

    number: int
    name: str
    goal: str
    key: Part

    @property
    def title(self) -> str:
        """What the part is called."""
        return self.key.name


def practice_problems() -> tuple[PracticeProblem, ...]:
    """Return the problems in their order.

    Raises
    ------
    FileError
        The index or a part of it is missing or cannot be read.
    """
    return tuple(_problems(_goals()))


def _problems(goals: dict[str, Any]) -> Iterator[PracticeProblem]:
    for number, (name, goal) in enumerate(goals.items(), 1):
        if not isinstance(goal, str) or not goal.strip():
            raise FileError(f"{_place(INDEX)}: {name}", "its goal is no text", REMEDY)
        data = shipped("demo_parts", f"{FOLDER}/{name}{SUFFIX}").read_bytes()
        try:
            key = read(data)
        except FileError as error:
            place = f"{_place(name + SUFFIX)}: {error.place}"
            raise FileError(place, error.problem, REMEDY) from None
        yield PracticeProblem(number, name, goal, key)


def _goals() -> dict[str, Any]:
    text = shipped("demo_parts", f"{FOLDER}/{INDEX}").read_text(encoding="utf-8")
    try:
        goals = json.loads(text)
    except ValueError as error:
        raise FileError(_place(INDEX), f"is no JSON: {error}", REMEDY) from None
    if not isinstance(goals, dict) or not goals:
        raise FileError(_place(INDEX), "names no problems", REMEDY)
    return goals


def _place(name: str) -> str:
    return f"demo_parts/{FOLDER}/{name}"
