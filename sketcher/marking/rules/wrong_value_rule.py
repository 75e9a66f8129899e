"""One dimension of the key drawn with another value, with all that hangs on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sketcher.marking.comparison import Comparison
from sketcher.marking.key_changes import KeyChange, pattern_value
from sketcher.marking.marking_rule import MarkingRule, Mistake
from sketcher.marking.outline_words import operand_place
from sketcher.marking.slip import Slip
from sketcher.part.kinds import KINDS
from sketcher.part.printed import angle_number, length_number, printed
from sketcher.part.value import Binding, GridPattern, LineCurve, Part
from sketcher.quantity.parameters import evaluate_all
from sketcher.quantity.parse import evaluate, names_in


def decide(comparison: Comparison) -> tuple[Mistake, ...]:
    """Return the values that were drawn otherwise, one mistake each."""
    ways = {"dimension": _dimension, "parameter": _parameter, "pattern": _pattern}
    mistakes = [replace(ways[change.sort](comparison, change), of=change.name)
                for change in comparison.changes if change.sort in ways]
    mistakes += [_size(comparison, slip) for slip in comparison.pieces.of("wrong-value")]
    return tuple(sorted(mistakes, key=lambda each: each.at))


def _size(comparison: Comparison, slip: Slip) -> Mistake:
    words = comparison.pieces.words
    wanted = words.size(comparison.pieces.key[slip.keys[0]].curve)
    found = words.size(comparison.features[slip.hand[0]].curve)
    text = f"{words.feature(slip.keys[0], sized=False)} is drawn {found}, not {wanted}"
    return Mistake(slip.at, found, wanted, text, comparison.pieces.entities(slip), slip.count,
                   comparison.pieces.size_dimension(slip.keys[:1]))


def _dimension(comparison: Comparison, change: KeyChange) -> Mistake:
    words, part = comparison.words, comparison.key.part
    binding = part.bindings[change.name]
    kind = KINDS[binding.kind]
    wanted = kind.prefix + printed(part, binding).text
    found = kind.prefix + printed(part, replace(binding, value=change.found)).text
    at = operand_place(comparison.shape.part, binding.of)  # where the hand-in has it
    if binding.kind in ("radius", "diameter"):
        text = f"{_sizeless(comparison, binding)} is drawn {found}, not {wanted}"
    elif kind.quantity == "angle":
        names = [words.operand(name) for name in binding.of]
        of = f"of {names[0]}" if len(names) == 1 else f"between {names[0]} and {names[1]}"
        text = f"the angle of {wanted} {of} is drawn {found}"
    else:
        noun = "length" if binding.kind == "distance" and len(binding.of) == 1 else binding.kind
        text = f"the {noun} of {wanted} {words.between(binding.kind, binding.of)} is drawn {found}"
    return Mistake(at, found, wanted, text, _entities(comparison, binding.of[-1:]))


def _entities(comparison: Comparison, names: Sequence[str]) -> tuple[int, ...]:
    """Return the entities that draw some curves of the key, or the rounds about its points."""
    part, pieces = comparison.shape.part, comparison.pieces
    curves = {name for name, curve in part.curves.items() if name in names or (
        not isinstance(curve, LineCurve) and curve.center in names)}
    found: set[int] = set()
    for i, edge in pieces.edges.found.items():
        if curves & comparison.shape.sources_of(pieces.key[i]):
            found.update(e for j in edge.hand
                         for e in comparison.entities_of(comparison.features[j]))
    return tuple(sorted(found))


def _sizeless(comparison: Comparison, binding: Binding) -> str:
    words = comparison.words
    number = words.number_of(binding.of[0])
    return words.feature(number, sized=False) if number is not None else words.operand(
        binding.of[0])


def _parameter(comparison: Comparison, change: KeyChange) -> Mistake:
    part = comparison.key.part
    users = [b for b in comparison.shape.part.bindings.values()
             if b.drives and b.value and change.name in names_in(b.value, part.unit)]
    angle = any(KINDS[b.kind].quantity == "angle" for b in users)
    wanted, found = (_amount(part, text, angle) for text in (change.wanted, change.found))
    name = change.name.replace("_", " ")
    at = operand_place(comparison.shape.part, users[0].of) if users else (
        next(iter(comparison.shape.part.points.values())))
    return Mistake(at, found, wanted, f"the {name}, {wanted}, is drawn {found}",
                   tuple(sorted({e for b in users for e in _entities(comparison, b.of[-1:])})),
                   max(len(users), 1))


def _amount(part: Part, text: str, angle: bool) -> str:
    values = evaluate_all(part.parameters, part.unit)
    if angle:
        return angle_number(part, evaluate(text, "angle", part.unit, values), text).text
    return length_number(evaluate(text, "length", part.unit, values), part.unit, text).text


def _pattern(comparison: Comparison, change: KeyChange) -> Mistake:
    words, part = comparison.words, comparison.key.part
    pattern_id, field, *axis = change.name.split(".")
    pattern = part.patterns[pattern_id]
    angle = field != "step"
    wanted, found = (_amount(part, text, angle)
                     for text in (pattern_value(part, change.name), change.found))
    name = words.of_curve(pattern.curves[0])
    at = operand_place(comparison.shape.part, pattern.curves[:1])
    if not angle:
        way = "in its row" if axis[0] == "0" else "in its column"
        text = f"the step of {wanted} from {name} to the next {way} is drawn {found}"
    else:
        what = "angle of the rows" if isinstance(pattern, GridPattern) else "span of the pattern"
        text = f"the {what} of {name}, {wanted}, is drawn {found}"
    return Mistake(at, found, wanted, text, _entities(comparison, pattern.curves))


RULE = MarkingRule("wrong-value", "a dimension drawn with another value", 4.0, 16.0,
                   "outline", decide, rank=0)
