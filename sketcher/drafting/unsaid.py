"""Conditions that stand on no dimension and that a drawing does not show of itself.

An edge that is parallel to a slot has no direction on paper; lines drawn level, plumb or square,
tangent joints, one center, an axis of symmetry say themselves. What is left is said by a dimension
of what it comes to, where that is a number that the paper prints exactly, else by a note with
letters on the drawing.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import combinations

from sketcher.geometry.curves import Line
from sketcher.part.curve_questions import center_of
from sketcher.part.kinds import KINDS, bind, measure
from sketcher.part.operand_forms import radius_of
from sketcher.part.printed import printed
from sketcher.part.value import Binding, CircleCurve, LineCurve, Part
from sketcher.part.whole import curve_value
from sketcher.quantity.parse import evaluate

SQUARE = 1e-9
"""Cosine within which two edges are drawn square."""

EXACT = 1e-9
"""Share of a value within which its print is the value."""


@dataclass(frozen=True, slots=True)
class Unsaid:
    """What has to be said besides the dimensions.

    Parameters
    ----------
    dimensions : mapping of str to Binding
        By the id of the condition, a dimension that says the same.
    notes : tuple of str
        Sentences.
    letters : mapping of str to str
        By letter, the curve or point on which it stands.
    """

    dimensions: Mapping[str, Binding]
    notes: tuple[str, ...]
    letters: Mapping[str, str]


NOTHING = Unsaid({}, (), {})

_last: tuple[Mapping[str, Binding], object, Unsaid] | None = None


def unsaid(part: Part) -> Unsaid:
    """Return what a solved part's drawing has to say besides its dimensions."""
    global _last
    last = _last  # another thread may put its own part there
    if last is not None and last[0] is part.bindings and last[1] is part.points:
        return last[2]
    found = _unsaid(part)
    _last = (part.bindings, part.points, found)
    return found


def _unsaid(part: Part) -> Unsaid:
    open_ = [name for name, b in part.bindings.items()
             if b.drives and KINDS[b.kind].quantity is None
             and not KINDS[b.kind].shows_itself(part, b.of)]
    if not open_:
        return NOTHING
    seen = {**part.bindings, **_drawn_square(part)}
    known = part.having(bindings={n: b for n, b in seen.items() if n not in open_})
    left, wanted = _freedoms(known), _freedoms(part.having(bindings=seen))
    dimensions, said = dict[str, Binding](), list[str]()
    for name in open_:
        if left <= wanted:
            break
        binding = part.bindings[name]
        more = _with(known, name, binding)
        fewer = _freedoms(more)
        if fewer >= left:
            continue
        sayable = all(_named(part, operand) for operand in binding.of)
        instead = None if sayable and KINDS[binding.kind].said_in_words else \
            _dimension_instead(part, known, name, fewer)
        if instead is None and not sayable:
            continue
        if instead is None:
            said.append(name)
        else:
            dimensions[name] = instead
        known, left = more, fewer
    return Unsaid(dimensions, *_notes(part, said))


def _with(part: Part, name: str, binding: Binding) -> Part:
    return part.having(bindings={**part.bindings, name: binding})


def _freedoms(part: Part) -> int:
    from sketcher.solve.freedom import freedoms
    from sketcher.solve.system import System

    system = System(part)
    return freedoms(system, system.x0).count


def _drawn_square(part: Part) -> dict[str, Binding]:
    """Return edges that meet and are drawn square, as bindings."""
    at: dict[str, list[str]] = {}
    for name, curve in part.curves.items():
        if isinstance(curve, LineCurve) and curve.role != "layout":
            for end in curve.ends:
                at.setdefault(end, []).append(name)
    found: dict[str, Binding] = {}
    for one, other in (pair for names in at.values() for pair in combinations(names, 2)):
        lines = [curve_value(part, part.curves[n]) for n in (one, other)]
        (ux, uy), (vx, vy) = (line.direction for line in lines if isinstance(line, Line))
        if abs(ux * vx + uy * vy) < SQUARE:
            found[f"square {one} {other}"] = bind(part, "square", (one, other))
    return found


def _dimension_instead(part: Part, known: Part, name: str, fewer: int) -> Binding | None:
    """Return a dimension that says what a condition does, with a number that prints exactly."""
    binding = part.bindings[name]
    for kind, of in KINDS[binding.kind].instead(part, binding.of):
        if any(n in part.curves and part.curves[n].role != "outline" for n in of):
            continue
        one = bind(part, kind, of)
        said = printed(part, one)
        quantity = KINDS[kind].quantity or "length"
        value = evaluate(said.text, quantity, part.unit, {})
        actual = abs(measure(part, one))
        if abs(value - actual) <= EXACT * max(1.0, actual) \
                and _freedoms(_with(known, name, one)) <= fewer:
            return one
    return None


def _notes(part: Part, names: Iterable[str]) -> tuple[tuple[str, ...], dict[str, str]]:
    """Return a sentence for each condition, and the letters in them."""
    letters: dict[str, str] = {}
    notes = []
    for name in names:
        binding = part.bindings[name]
        words = []
        for operand in binding.of:
            noun, marked = _named(part, operand) or ("", "")
            letter = letters.setdefault(marked, chr(ord("A") + len(letters)))
            words.append(f"{noun} {letter}")
        phrase = KINDS[binding.kind].phrase(words)
        notes.append(f"{phrase[0].upper()}{phrase[1:]}.")
    return tuple(notes), {letter: marked for marked, letter in letters.items()}


def _named(part: Part, operand: str) -> tuple[str, str] | None:
    """Return what a drawing calls a curve or a point, and on what its letter stands.

    A layout line that joins the centers of a slot is the slot; other layout is not on paper.
    """
    if operand in part.points:
        around = _around(part, operand)
        if around is None:
            return "point", operand
        return ("hole" if part.curves[around].kind == "circle" else "center of arc"), around
    curve = part.curves[operand]
    if isinstance(curve, LineCurve):
        ends = [_around(part, end) for end in curve.ends]
        if curve.role == "layout":
            return ("slot", ends[0]) if ends[0] and ends[1] and all(
                part.curves[n].kind == "arc" for n in ends if n) else None
        return ("edge" if curve.role == "outline" else "center line"), operand
    return ("hole" if isinstance(curve, CircleCurve) else "arc"), operand


def _around(part: Part, center: str) -> str | None:
    """Return the smallest round of the outline about a point."""
    rounds = [n for n, c in part.curves.items() if c.role == "outline" and center_of(c) == center]
    return min(rounds, key=lambda name: radius_of(part, name), default=None)
