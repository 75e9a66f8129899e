"""The next step of the construction as a hint: first what is drawn, then how.

The student's drawing has other names than the key, and the paper has none. So a hint names nothing
of the key: what it is about is marked on the picture of the paper with a letter, and the sentence
has the letter. It tells no coordinates.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from sketcher.board.exercise.attempt import AttemptStanding, paper_key
from sketcher.board.exercise.paper_key import PaperKey
from sketcher.errors import QuantityError
from sketcher.geometry.curves import Circle, Curve
from sketcher.lesson.order import construction_order
from sketcher.lesson.order_step import OrderStep
from sketcher.part.image_id import read_image_id
from sketcher.part.value import ArcCurve, LineCurve, Part
from sketcher.part.wanted import parameter_values
from sketcher.part.whole import curve_value
from sketcher.quantity.format import angle, length
from sketcher.quantity.parse import evaluate

LETTERS = "KLMNPQSTUVWXYZABCDEFGHJ"
"""In this order: the first letters are those that notes on a sheet use."""
PLACE = re.compile(r",?\s*(?:at\s+)?\(\s*-?[\d./ ]*\d[\d./ ]*,\s*-?[\d./ ]*\d[\d./ ]*\)")
USED = re.compile(r"\s*\[[^\]]*\]\s*$")
PATTERN = re.compile(r"\s*\(pattern \w+\)")
ITSELF = re.compile(r"\b([\d.]+)(\N{DEGREE SIGN}?) = \1(?![\d./])")
WORD = re.compile(r"[A-Za-z_]\w*")


@dataclass(frozen=True, slots=True)
class HintMark:
    """A letter on the picture of the paper, beside a curve or a place of the key.

    Parameters
    ----------
    letter : str
        Empty where no sentence speaks of it alone.
    curve : Curve
        In the key's unit; a place is a circle of no size.
    """

    letter: str
    curve: Curve


@dataclass(frozen=True, slots=True)
class PracticeHint:
    """A hint in its two halves.

    Parameters
    ----------
    step : int
        Number of the step; 0 for what stands in no construction.
    first : str
        What is drawn next.
    rest : tuple of str
        How, a sentence each; empty where the first half is all.
    marks, further : tuple of HintMark
        On the picture with the first half, and those that come with the rest.
    """

    step: int
    first: str
    rest: tuple[str, ...] = ()
    marks: tuple[HintMark, ...] = ()
    further: tuple[HintMark, ...] = ()


def hint_steps(key: Part) -> tuple[OrderStep, ...]:
    """Return the steps from which hints are taken: work that may take long."""
    return construction_order(key)


_last: tuple[Part, tuple[OrderStep, ...]] | None = None


def asked_hint(
    key_part: Part, standing: AttemptStanding, taken: Iterable[str]
) -> PracticeHint | None:
    """Return the hint for what comes next; the construction of the last key is remembered.

    Raises
    ------
    GeometryError
        When the key cannot be constructed.
    """
    global _last
    last = _last
    if last is None or (last[0] is not key_part and last[0] != key_part):
        last = _last = (key_part, hint_steps(key_part))
    return next_hint(key_part, last[1], standing, taken)


def next_hint(
    key_part: Part, steps: Sequence[OrderStep], standing: AttemptStanding,
    taken: Iterable[str] = (),
) -> PracticeHint | None:
    """Return the hint for what comes next; None where everything is there.

    Parameters
    ----------
    key_part : Part
        Solved.
    steps : sequence of OrderStep
        Of its construction.
    standing : AttemptStanding
        Of the drawing.
    taken : iterable of str
        Letters that the paper has already.
    """
    key = paper_key(key_part)
    drawn: set[str] = set()
    for place, step in enumerate(steps):
        lacking = [name for name in step.curves if name not in drawn
                   and _is_lacking(key, name, standing)]
        if lacking:
            before = _stands_on(key.part, steps[:place], step, standing)
            return _told(key, (*before, step), lacking, standing, taken)
        drawn.update(step.curves)  # what is gone over or cut is drawn again
    return _afterwards(key, standing, taken)


def _is_outline(part: Part, name: str) -> bool:
    return part.curves[read_image_id(name).source].role == "outline"


def _features(key: PaperKey, name: str) -> tuple[int, ...]:
    """Return the outline's features that a curve shows: a drawn one with all its images."""
    if name in key.of_curves:
        return tuple(n for n in key.of_curves[name] if n in key.outline)
    return tuple(n for n in key.outline
                 if any(key.pieces[k].id == name for k in key.found[n].sources))


def _is_lacking(key: PaperKey, name: str, standing: AttemptStanding) -> bool:
    """Tell whether a drawing lacks a curve of the outline; one of all images will do."""
    return _is_outline(key.part, name) and standing.right.isdisjoint(_features(key, name))


def _stands_on(
    part: Part, before: Sequence[OrderStep], step: OrderStep, standing: AttemptStanding
) -> tuple[OrderStep, ...]:
    """Return the steps that a step needs and that nothing on the drawing shows yet.

    What an earlier curve stood on as well was found already, in one way or another.
    """
    known = {name for other in before if any(_is_outline(part, n) for n in other.curves)
             for name in _names(part, other)}
    wanted = _names(part, step) - known
    found: list[OrderStep] = []
    for other in reversed(before):
        mine = {*other.points, *other.curves}
        if mine & wanted and not any(_is_outline(part, name) for name in other.curves) and not all(
                name in standing.shown for name in (*other.points, *_ends(part, other))):
            found.append(other)
            wanted |= _names(part, other) - known
    return tuple(reversed(found))


def _names(part: Part, step: OrderStep) -> set[str]:
    """Return what a step speaks of."""
    words = {word for text in (step.text, *step.substeps) for word in WORD.findall(text)}
    return {word for word in words if word in part.points or word in part.curves}


def _ends(part: Part, step: OrderStep) -> set[str]:
    return {point for name in step.curves if name in part.curves
            for point in part.curves[name].points}


class _Letters:
    """Gives things letters in the order in which they are spoken of."""

    def __init__(self, key: PaperKey, taken: Iterable[str]) -> None:
        self._key = key
        self._amounts = {name: _amount(key.part, name) for name in key.part.parameters}
        self._free = [letter for letter in LETTERS if letter not in set(taken)]
        self.marks: dict[str, HintMark] = {}

    def of(self, name: str) -> str:
        """Return the letter of a point or curve of the key."""
        if name not in self.marks:
            if not self._free:
                return "it"
            part = self._key.part
            curve = (Circle(part.points[name], 0.0) if name in part.points
                     else curve_value(part, part.curves[name]))
            self.marks[name] = HintMark(self._free.pop(0), curve)
        return self.marks[name].letter

    def within(self, text: str) -> str:
        """Return a sentence with letters in the place of names, and without places."""
        part = self._key.part
        for name, amount in self._amounts.items():
            text = re.sub(rf"\b{re.escape(name)}\b", amount, text)
        text = ITSELF.sub(r"\1\2", text)

        def letter(found: re.Match[str]) -> str:
            name = found[0]
            return self.of(name) if name in part.points or name in part.curves else name

        return WORD.sub(letter, PLACE.sub("", PATTERN.sub("", USED.sub("", text))))


def _amount(part: Part, name: str) -> str:
    """Return what a parameter of the key comes to: the paper has the number, not the name."""
    values = parameter_values(part)
    try:
        return length(evaluate(name, "length", part.unit, values), part.unit)
    except QuantityError:
        return angle(evaluate(name, "angle", part.unit, values))


def _told(
    key: PaperKey, steps: Sequence[OrderStep], lacking: Sequence[str], standing: AttemptStanding,
    taken: Iterable[str],
) -> PracticeHint:
    """Return the hint for the last of some steps; the others lead up to it."""
    letters, step = _Letters(key, taken), steps[-1]
    drawn = [name for name in lacking if name in key.part.curves]
    if not drawn:
        numbers = dict.fromkeys(n for name in lacking for n in _features(key, name))
        marks = tuple(HintMark("", key.placed[n]) for n in numbers)
        many = "curve is" if len(marks) == 1 else "curves are"
        first = f"Next: repeat what is drawn; the marked {many} still missing."
    else:
        first = f"Next: {_listed(key.part, drawn, letters)}."
        if any(not standing.astray.isdisjoint(_features(key, name)) for name in drawn):
            first = (f"Look at {_listed(key.part, drawn, letters)} again: not all is there as on "
                     "the paper.")
        marks = tuple(letters.marks.values())
    known = len(letters.marks)
    rest = tuple(letters.within(text) for each in steps for text in (each.substeps or (each.text,)))
    return PracticeHint(step.number, first, rest, marks, tuple(letters.marks.values())[known:])


def _listed(part: Part, names: Sequence[str], letters: _Letters) -> str:
    """Return things with their letters: ``the arc K and the edges L and M``."""
    groups: dict[str, list[str]] = {}
    for name in names:
        groups.setdefault(_sort(part, name), []).append(letters.of(name))
    said = [f"the {sort}{'s' if len(those) > 1 else ''} {_and(those)}"
            for sort, those in groups.items()]
    return _and(said)


def _and(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _sort(part: Part, name: str) -> str:
    if name in part.points:
        return "point"
    curve = part.curves[name]
    if isinstance(curve, LineCurve):
        return {"outline": "edge", "layout": "layout line", "axis": "axis"}[curve.role]
    return "arc" if isinstance(curve, ArcCurve) else "circle"


AFTER: Mapping[str, Callable[[AttemptStanding], frozenset[int]]] = {
    "is there, but not as on the paper": lambda standing: standing.astray,
    "is too long or too short: bring its ends to where the paper has them":
        lambda standing: standing.uneven,
}
"""What is said of the first curve that is not as it should be once all steps are done."""


def _afterwards(
    key: PaperKey, standing: AttemptStanding, taken: Iterable[str]
) -> PracticeHint | None:
    letter = next(letter for letter in LETTERS if letter not in set(taken))
    lacking = frozenset(key.outline) - standing.right - standing.astray
    for words, which in (*AFTER.items(), ("is still missing", lambda _: lacking)):
        found = which(standing)
        if found:
            return PracticeHint(0, f"The curve {letter} {words}.", (),
                                (HintMark(letter, key.placed[min(found)]),))
    return None
