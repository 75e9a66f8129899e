"""Judges the sentences of a construction against the paper: its numbers, its names, its order.

Every number of a sentence is one that was typed, or one whose arithmetic has been said (``R70 = 52
+ 18``); nothing is spoken of before it is drawn; nothing is taken as computed. What cannot be
told by numbers and names is nobody's business here.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from tests.paper_numbers import is_number, number_of

NUMBER = re.compile(r"(?<![\w.,/#])(?:[RØ] ?)?(\d+(?: |-)\d+/\d+|\d+/\d+|\d+(?:\.\d+)?|\.\d+)"
                    r"(?:°(?:\d+'(?:\d+\")?)?)?(?![\w/]|\.\d)")
PLACE = re.compile(r"\(-?[\d./ ]+, -?[\d./ ]+\)")
BINDINGS = re.compile(r" ?\[[^\]]*\]")
HELPER = re.compile(r"(?<![\w.])\d+(?:[A-Z]+|[a-z]+)(?!\w)")
ID = re.compile(r"(?<![\w.])(?:[A-Za-z_]\w*\d\w*|ax|[a-z]{1,2})(?!\w)")
SET_SQUARES = {"360", *(str(15 * k) for k in range(1, 13))}
"""Angles that no paper needs to give."""
CHOSEN = re.compile(r"[RØ]?([\d.]+)°? \(chosen\)")
"""What a loose part leaves to the hand."""
EXPLAINED = re.compile(r"(?<![\w.])[RØ]?([\d./ ]*\d)°? \(([^()]*(?:\([^()]*\)[^()]*)*)\)")
HALVED = re.compile(r" / 2(?!\w|\.\d)")
COUNTED = re.compile(r"\b\d+ (?=freedoms?\b|conditions?\b|places\b|times\b|columns\b|rows\b|"
                     r"circles\b|points\b|holes\b|more\b|equal\b)")
ANY_WORDS = {"a", "an", "as", "at", "be", "by", "do", "go", "if", "in", "is", "it", "no", "of",
             "on", "or", "so", "to", "up", "we", "mm", "us", "its", "ax"}
"""Short words that are ids in some part; as ids they are known by what stands around them."""


def told_wrong(order: Mapping[str, Any], part: Mapping[str, Any]) -> Iterator[str]:
    """Yield what is wrong with the sentences of an order, a line each."""
    yield from computed(order)
    yield from unknown_numbers(order, part)
    yield from spoken_too_early(order, part)


def sentences(step: Mapping[str, Any]) -> Iterator[str]:
    """All that is said in a step."""
    yield step["text"]
    yield from step["substeps"]
    yield from (move["text"] for move in step.get("moves", ()))


def computed(order: Mapping[str, Any]) -> Iterator[str]:
    """Tell steps that take what a computer has found."""
    for step in order["steps"]:
        if step["together"] or any("comput" in text.lower() for text in sentences(step)):
            yield f"step {step['number']} takes what is computed: {step['text']}"


def typed_numbers(part: Mapping[str, Any]) -> set[str]:
    """Every number on the paper, as typed: whole values, and the numbers in expressions."""
    texts = [binding["value"] for binding in part["bindings"].values() if "value" in binding]
    texts += part.get("parameters", {}).values()
    counts: list[int] = []
    for pattern in part.get("patterns", {}).values():
        if pattern["kind"] == "grid":
            texts += [*pattern["step"], pattern.get("angle", "0")]
            counts += pattern["count"]
        else:
            texts.append(pattern["span"])
            counts += [pattern["count"], pattern["count"] - 1]  # places, and the parts between
    found = {text.strip() for text in texts} | set(map(str, counts))
    return found | {number for text in texts for number in NUMBER.findall(_spaced(text))}


def _spaced(text: str) -> str:
    """Keep the division of two numbers apart from the fraction that it looks like."""
    return re.sub(r"([+*()-])", r" \1 ", text)


def unknown_numbers(order: Mapping[str, Any], part: Mapping[str, Any]) -> Iterator[str]:
    """Tell numbers that are neither typed nor said with their arithmetic before."""
    known = typed_numbers(part)
    for step in order["steps"]:
        for text in sentences(step):
            plain = HELPER.sub("", COUNTED.sub("", PLACE.sub("", BINDINGS.sub("", text))))
            known |= {*worked_out(plain, part, known), *CHOSEN.findall(plain)}
            for number in NUMBER.findall(HALVED.sub("", plain)):
                angle = f"{number}°" in plain
                if not sound(number, known) and not (angle and number in SET_SQUARES):
                    yield f"step {step['number']}: where does {number} come from? {text}"


def sound(number: str, known: set[str]) -> bool:
    """Whether a number is known, or the half of one that is, as it is written."""
    above, _, below = number.partition("/")
    return number in known or (below in {"2", *known} - {""} and above in known)


def worked_out(text: str, part: Mapping[str, Any], known: set[str]) -> Iterator[str]:
    """Numbers of a sentence that are worked out in it: ``70 = 52 + 18``, ``110 (reach)``."""
    words = text.split(" ")
    for k, word in enumerate(words):
        if word == "=":
            sides = _longest(words[:k][::-1], part, back=True), _longest(words[k + 1:], part)
            yield from _result(*sides, part, known)
            yield from _result(*sides[::-1], part, known)
    for found in EXPLAINED.finditer(text):
        if re.search(r"[A-Za-z_*/+-]", found[2]) and _agree(found[1], found[2], part):
            yield found[1].split(" ")[-1] if not is_number(found[1], part) else found[1].strip()


def _result(one: str, other: str, part: Mapping[str, Any], known: set[str]) -> Iterator[str]:
    """Yield the single number on one side, where the other side comes to it by known numbers."""
    numbers = NUMBER.findall(one)
    if len(numbers) != 1 or one.strip("RØ°") != numbers[0] or not _agree(one, other, part):
        return
    allowed = known | {"2"} | (SET_SQUARES if "°" in one else set())
    if all(sound(each, allowed) for each in NUMBER.findall(_spaced(other))):
        yield numbers[0]


def _longest(words: list[str], part: Mapping[str, Any], back: bool = False) -> str:
    """The longest row of words that is a number."""
    best = ""
    for k in range(1, min(len(words), 12) + 1):
        row = " ".join(words[:k][::-1] if back else words[:k]).strip(".,;:")
        best = next((each for each in (row, row.strip("()")) if is_number(each, part)), best)
    return best


def _agree(one: str, other: str, part: Mapping[str, Any]) -> bool:
    if not (is_number(one, part) and is_number(other, part)):
        return False
    return bool(abs(number_of(one, part) - number_of(other, part)) < 1e-9)


def spoken_too_early(order: Mapping[str, Any], part: Mapping[str, Any]) -> Iterator[str]:
    """Tell points and curves that are spoken of before they are there."""
    ids = {*part["points"], *part["curves"]}
    there: set[str] = set()
    for step in order["steps"]:
        now = there | {*step["points"], *step["curves"]}
        for text in (step["text"], *step["substeps"]):
            for name in names_in(text, ids):
                if name not in now:
                    yield f"step {step['number']} speaks of {name}, which is not there: {text}"
        drawn = set(there)
        for move in step.get("moves", ()):
            drawn |= {stroke["name"] for stroke in move["strokes"]}
            for name in names_in(move["text"], ids) | set(HELPER.findall(move["text"])):
                if name not in drawn:
                    yield f"step {step['number']} speaks of {name}, not drawn yet: {move['text']}"
        there = now | drawn


def names_in(text: str, ids: set[str]) -> set[str]:
    """Ids of the part that a sentence speaks of, without the bindings at its end."""
    found = set(ID.findall(BINDINGS.sub("", text))) & ids
    return found - (ANY_WORDS - {"ax"})


def untold_strokes(order: Mapping[str, Any]) -> Iterator[str]:
    """Tell strokes that a hand would not make by the sentence of their move.

    A sentence has to name the point or the line that is found, the points that a line goes through,
    the center of an arc and what the compass is opened to.
    """
    for step in order["steps"]:
        for k, move in enumerate(step.get("moves", ()), 1):
            place = f"{step['number']}.{k}"
            said = words_of(move["text"])
            if k == 1 and said[:1] in (["It"], ["They"]):
                yield f"{place} begins with '{said[0]}', and nothing is spoken of: {move['text']}"
            for stroke in move["strokes"]:
                lacks = [word for word in wanted_words(stroke, move["text"]) if word not in said]
                if lacks:
                    yield (f"{place} does not say {', '.join(lacks)} of {stroke['do']} "
                           f"{stroke['name']}: {move['text']}")


def words_of(text: str) -> list[str]:
    """Words of a sentence: names, numbers and the two ends of a length that is taken."""
    return [word for part in re.split(r"[ ,;:.]+(?=\s|$)| ", text) if part
            for word in {part, *part.split("-")}]


def wanted_words(stroke: Mapping[str, Any], text: str) -> Iterator[str]:
    """What a sentence has to name of a stroke."""
    name = stroke["name"]
    match stroke["do"]:
        case "mark" | "level" | "call" | "cross":
            yield name
        case "rule":
            yield name
            if " along " not in text:
                yield from stroke["through"]
        case "protract":
            yield from (name, stroke["at"], stroke["base"], stroke["text"].split(" ")[0])
        case "swing":
            opening = stroke["opening"]
            yield stroke["center"]
            if opening["span"]:
                yield from (point for point in opening["span"] if point != stroke["center"])
            elif opening["free"]:
                yield "any" if "any" in text.split() else "opening"
            else:
                yield from opening["text"].split(" ")
