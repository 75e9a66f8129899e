"""A place in a JSON tree: typed access in which every failure names the place."""

from __future__ import annotations

import json
import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from math import isfinite
from typing import Any, NoReturn

from sketcher.errors import FileError

MAX_TEXT = 10_000
MAX_NUMBER = 1e9
ID = re.compile(r"[^\W\d][\w-]{0,63}")
CONTROLS = re.compile(r"[\x00-\x1f\x7f-\x9f\ud800-\udfff]")
CONTROLS_BUT_BREAKS = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff]")


class Pairs(list[tuple[str, Any]]):
    """The entries of a JSON object in their order, doubled keys included."""


@dataclass(frozen=True, slots=True)
class NotANumber:
    """The words NaN, Infinity and -Infinity, which JSON does not know."""

    word: str


def parsed(text: str) -> JsonNode:
    """Return the root of a JSON text.

    Raises
    ------
    FileError
        When the text is empty, or not JSON; the place is line and column.
    """
    if not text.strip():
        raise FileError("", "the file is empty", "choose another file")
    try:
        tree = json.loads(
            text, object_pairs_hook=Pairs, parse_constant=NotANumber, parse_int=_whole
        )
    except json.JSONDecodeError as error:
        place = f"line {error.lineno}, column {error.colno}"
        problem = f"not JSON: {error.msg.lower()}"
        raise FileError(place, problem, "mend or restore the file") from None
    except RecursionError:
        raise FileError("", "the file is nested too deep", "it is not a part") from None
    return JsonNode(tree, "")


def _whole(digits: str) -> int | float:
    # Python refuses to turn thousands of digits into a whole number; as a float they are infinite.
    return int(digits) if len(digits) < 20 else float(digits)


class JsonNode:
    """A value and where it stands: ``curves.a1.center``."""

    __slots__ = ("place", "value")

    def __init__(self, value: Any, place: str) -> None:
        self.value = value
        self.place = place

    def fail(self, problem: str, remedy: str = "") -> NoReturn:
        """Raise a FileError at this place."""
        raise FileError(self.place, problem, remedy)

    def at(self, key: str, value: Any) -> JsonNode:
        """Return a node below this one."""
        return JsonNode(value, f"{self.place}.{key}" if self.place else key)

    def entries(self) -> Iterator[tuple[str, JsonNode]]:
        """Yield the entries of an object; a key said twice is an error."""
        if not isinstance(self.value, Pairs):
            self.fail(f"expected an object, found {_named(self.value)}")
        seen: set[str] = set()
        for key, value in self.value:
            if key in seen:
                self.at(key, value).fail("is given twice", "keep one of them")
            seen.add(key)
            yield key, self.at(key, value)

    def fields(self, known: Collection[str], needed: Collection[str] = ()) -> dict[str, JsonNode]:
        """Return the fields of an object with a fixed set of keys."""
        found = dict(self.entries())
        for key, node in found.items():
            if key not in known:
                node.fail("unknown key", f"use {', '.join(known)}")
        for key in needed:
            if key not in found:
                self.at(key, None).fail("missing")
        return found

    def named(self) -> dict[str, JsonNode]:
        """Return the entries of an object whose keys are ids."""
        found = dict(self.entries())
        for key, node in found.items():
            if not ID.fullmatch(key):
                node.fail(f"{key[:64]!r} cannot be an id",
                          "use letters, digits, _ and -, a letter first, at most 64")
        return found

    def items(self, most: int | None = None, exact: int | None = None) -> list[JsonNode]:
        """Return the items of a list."""
        if not isinstance(self.value, list) or isinstance(self.value, Pairs):
            self.fail(f"expected a list, found {_named(self.value)}")
        count = len(self.value)
        if exact is not None and count != exact:
            self.fail(f"expected {exact} items, found {count}")
        if most is not None and count > most:
            self.fail(f"expected at most {most} items, found {count}")
        return [JsonNode(item, f"{self.place}[{index}]") for index, item in enumerate(self.value)]

    def text(self, breaks: bool = False) -> str:
        """Return a text without control characters; line breaks only where asked for."""
        if not isinstance(self.value, str):
            self.fail(f"expected a text, found {_named(self.value)}")
        if len(self.value) > MAX_TEXT:
            self.fail(f"the text has {len(self.value)} characters", f"use at most {MAX_TEXT}")
        if (CONTROLS_BUT_BREAKS if breaks else CONTROLS).search(self.value):
            self.fail("the text holds a control character", "take it out")
        return self.value

    def choice(self, words: Collection[str]) -> str:
        """Return one of the words."""
        text = self.text()
        if text not in words:
            self.fail(f"unknown word '{text[:64]}'", f"use {' or '.join(filter(None, words))}")
        return text

    def flag(self) -> bool:
        """Return a truth value."""
        if not isinstance(self.value, bool):
            self.fail(f"expected true or false, found {_named(self.value)}")
        return self.value

    def number(self, above: float | None = None) -> float:
        """Return a finite number of a sane size, greater than `above` where that is given."""
        value = self.value
        if isinstance(value, NotANumber):
            self.fail(f"{value.word} is not a number", "give a finite number")
        if isinstance(value, bool) or not isinstance(value, int | float):
            self.fail(f"expected a number, found {_named(value)}")
        if not isfinite(value) or abs(value) > MAX_NUMBER:
            self.fail("the number is out of range", f"stay below {MAX_NUMBER:g}")
        if above is not None and value <= above:
            self.fail(f"{value:g} is too small", f"give more than {above:g}")
        return float(value)

    def whole(self, least: int, most: int) -> int:
        """Return a whole number in a range, both ends included."""
        value = self.value
        if isinstance(value, bool) or not isinstance(value, int):
            self.fail(f"expected a whole number, found {_named(value)}")
        if not least <= value <= most:
            self.fail(f"{value} is out of range", f"use {least} to {most}")
        return value

    def point(self) -> tuple[float, float]:
        """Return a pair of numbers."""
        x, y = self.items(exact=2)
        return (x.number(), y.number())


def _named(value: Any) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if value is None:
        return "nothing"
    if isinstance(value, str):
        return f"the text {value[:32]!r}"  # escaped: an error is one line
    if isinstance(value, int | float):
        return "a number"
    if isinstance(value, NotANumber):
        return value.word
    return "an object" if isinstance(value, Pairs) else "a list"
