"""Step 2: the unit that the numbers of a file are in.

Each way of reading the numbers is weighed by what it makes of them. A value that falls on a grid of
drafting practice is the likelier by step / (2 t) than a value that may lie anywhere, t being how
far a drawn value may be off; the steps that a unit is drawn in share their weights (common
practice, no source). What values that mean nothing would give, the same ones strewn, is taken off.
To that comes how likely the size of the drawing and of its smallest hole is, and what its
dimensions and notes say. The sum of the logarithms, made milder as values hang together, gives the
scores: how sure each reading is, together 1.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from math import exp, log

import numpy as np

from sketcher.exchange.dxf_content import DxfContent
from sketcher.intake.linework import Question
from sketcher.intake.named_holes import named_holes
from sketcher.intake.round_figures import FINE_ROOM
from sketcher.intake.telling_values import TellingValues, telling_values
from sketcher.intake.wishes import Wishes
from sketcher.part.value import Unit, frozen
from sketcher.shop.cut_layers import unit_of_layer

SURE = 0.999
"""Without a header, a reading so sure needs no question. Plates of a few whole numbers came to
0.93 to 0.998, parts with a dozen values to 0.9991 and more."""
AGAINST = 0.2
"""With one, a share below this speaks against it. Right headers of 39 files came to 0.29 and more,
wrong ones to 0.18 and less but for one plate of whole numbers that may be either."""
MILDER = 0.5
"""Lengths of a drawing hang together: half of them follow from the others."""
FREE, TABLE = 0.3, 0.2
"""Share of values that are on no grid: tangent lengths, what was turned; of holes from a table."""
STEPS: Mapping[Unit, tuple[tuple[str, float], ...]] = frozen({
    "mm": (("10", 0.1), ("5", 0.15), ("1", 0.3), ("1/2", 0.1), ("1/10", 0.1), ("1/20", 0.02)),
    "in": (("1", 0.15), ("1/2", 0.15), ("1/4", 0.12), ("1/8", 0.12), ("1/16", 0.1), ("1/32", 0.05),
           ("1/64", 0.04), ("1/10", 0.05), ("1/100", 0.03), ("1/200", 0.02), ("1/1000", 0.03)),
})
MOST_LIKELIER = 5000.0
"""What one value can say at most: the tenth decimal says no more than the fourth. With 200 a whole
number is as good an eighth of an inch as it is a millimetre, and plates of them lean to inches."""
STREWN = 32
"""How often the values are strewn, by a tenth of each, to see what chance gives."""
LUCK = 2.0
"""Standard deviations above the mean that chance is given: with none, two of sixty drawings of
lines that mean nothing outvote their header, with one or two none."""
CONVERTED = 0.05
"""How often a drawing is thought in the other unit than the file's."""
USUAL_SIZE, USUAL_HOLE = 150.0, 8.0
"""Millimetres; with a spread of a factor 4 and 3 (common practice, no source)."""
UNIT_WORDS: Mapping[Unit, str] = frozen({"mm": "millimetres", "in": "inches"})
MILLIMETRES = {"mm": 1.0, "in": 25.4}
SAYS = {"mm": re.compile(r"\d\s*mm\b|\bmillimet(?:er|re)s?\b|\bin mm\b", re.IGNORECASE),
        "in": re.compile(r"\d\s*\"|\binch(?:es)?\b|\d\s*in\b", re.IGNORECASE)}


@dataclass(frozen=True, slots=True)
class UnitVerdict:
    """The unit of a file: what it is, the factor of the numbers, why, and the scores of both."""

    unit: Unit
    factor: float
    why: str
    scores: Mapping[Unit, float] = field(default_factory=frozen)
    question: Question | None = None


@dataclass(frozen=True, slots=True)
class _UnitReading:
    """One way to read the numbers, and what speaks for it."""

    unit: Unit
    factor: float
    weight: float
    """Sum of logarithms."""
    round: int
    """How many values fall on a grid that chance seldom meets."""


def unit_verdict(content: DxfContent, wishes: Wishes) -> UnitVerdict:
    """Return the unit that a file's numbers are in, by its header and by what they measure.

    A question is open when the evidence is against the header, or when there is no header and the
    evidence leaves room for doubt; its first answer is the one that is taken meanwhile.
    """
    values = telling_values(content)
    plain: dict[Unit, _UnitReading] = {
        unit: _read(values, content, unit, 1.0) for unit in ("mm", "in")}
    if wishes.unit is not None:
        return UnitVerdict(wishes.unit, 1.0, "as asked", _scores(plain.values()))
    carried = _unit_of_layers(content)
    if carried is not None and content.unit in (None, carried) and content.factor == 1.0:
        # What is offset by half of a kerf has few round values, and those may mislead.
        return UnitVerdict(carried, 1.0, "its layers carry a kerf in that unit",
                           _scores(plain.values()))
    if content.unit is None:
        best, other = sorted(plain.values(), key=lambda each: -each.weight)
        scores = _scores(plain.values())
        why = f"the header does not say; {_evidence(plain, values)}"
        sure = values.count >= 4 and scores[best.unit] >= SURE
        question = None if sure else Question(
            "--unit", f"the header does not say the unit: {_evidence(plain, values)}; "
            f"{_shown(scores)}", (best.unit, other.unit))
        return UnitVerdict(best.unit, 1.0, why, scores, question)
    return _with_header(content, content.unit, plain, values)


def _unit_of_layers(content: DxfContent) -> Unit | None:
    for layer in sorted({curve.layer for curve in content.curves}):
        unit = unit_of_layer(layer)
        if unit is not None:
            return unit
    return None


def _with_header(
    content: DxfContent, unit: Unit, plain: Mapping[Unit, _UnitReading], values: TellingValues
) -> UnitVerdict:
    said = plain[unit] if content.factor == 1.0 else _read(values, content, unit, content.factor)
    against = [each for each in plain.values() if each is not said]
    best = max(against, key=lambda each: each.weight)
    share = 1.0 / (1.0 + exp(min(best.weight - said.weight, 500.0)))
    other: Unit = "in" if unit == "mm" else "mm"
    scores = _scores([said, plain[other]])
    header = f"the header says {UNIT_WORDS[unit]}" + (
        "" if content.factor == 1.0 else f" times {content.factor:g}")
    if share > AGAINST:
        agrees = "its values agree" if share > 0.5 and values.count >= 4 else (
            "its values do not speak against it")
        return UnitVerdict(unit, content.factor, f"{header}, and {agrees}", scores)
    text = f"{header}, but {_evidence({unit: said, best.unit: best}, values)}"
    order: tuple[Unit, ...] = (best.unit, "in" if best.unit == "mm" else "mm")
    scores = scores if best.unit == other else _scores(plain.values())
    return UnitVerdict(best.unit, 1.0, text, scores,
                       Question("--unit", f"{text}; {_shown(scores)}", order))


def _scores(readings: Iterable[_UnitReading]) -> Mapping[Unit, float]:
    """Return how sure each reading is beside the other: together 1."""
    both = list(readings)
    top = max(each.weight for each in both)
    parts = {each.unit: exp(max(each.weight - top, -700.0)) for each in both}
    return frozen({unit: round(part / sum(parts.values()), 4) for unit, part in parts.items()})


def _shown(scores: Mapping[Unit, float]) -> str:
    listed = sorted(scores.items(), key=lambda item: -item[1])
    return "scores " + ", ".join(f"{unit} {score:.3f}" for unit, score in listed)


def _evidence(readings: Mapping[Unit, _UnitReading], values: TellingValues) -> str:
    """Say what each reading makes of the values, the likelier one first."""
    told = []
    for each in sorted(readings.values(), key=lambda reading: -reading.weight):
        size = values.extent * each.factor
        told.append(f"as {UNIT_WORDS[each.unit]} {each.round} of {values.count} values are round "
                    f"and the drawing is {size:.4g} {each.unit} long")
    if len({each.unit for each in readings.values()}) < len(told) or len(told) < 2:
        return told[0]
    return ", ".join(told)


def _read(values: TellingValues, content: DxfContent, unit: Unit, factor: float) -> _UnitReading:
    """Weigh one reading of the numbers."""
    if not values.count:
        return _UnitReading(unit, factor, 0.0, 0)
    t = _tolerances(values, factor)
    own, met = _likelier(values, unit, factor, t)
    other: Unit = "in" if unit == "mm" else "mm"
    scale = factor * MILLIMETRES[unit] / MILLIMETRES[other]
    foreign, _ = _likelier(values, other, scale, _tolerances(values, scale))
    drawn = max(MILDER * own, MILDER * foreign + log(CONVERTED))
    return _UnitReading(unit, factor, drawn + _size(values, factor * MILLIMETRES[unit])
                    + _words(values, content, unit, factor), met)


def _tolerances(values: TellingValues, factor: float) -> tuple[float, float]:
    """How far a drawn value may be off: written well, and with ends that miss each other."""
    close = min(max(values.quantum, 5e-7 * values.extent), 5e-5 * values.extent) * factor
    return close, max(2e-4 * values.extent * factor, close)


def _likelier(
    values: TellingValues, unit: Unit, factor: float, t: tuple[float, float]
) -> tuple[float, int]:
    """Return by how much the values are likelier than chance, as a logarithm; how many are round.

    Round is what lies within the close tolerance of a step that leaves chance one in fifty.
    """
    total, met = 0.0, 0
    chance = np.zeros(STREWN)
    for sort, raw in (("hole", values.holes), ("radius", values.radii), ("length", values.lengths)):
        at = np.array(raw, dtype=float) * factor
        if len(at):
            likely, hit = _each_likely(at, unit, t, sort == "hole")
            strewn = at * np.random.default_rng(0).uniform(0.9, 1.1, (STREWN, len(at)))
            by_chance, _ = _each_likely(strewn.ravel(), unit, t, sort == "hole")
            total += float(np.log(likely).sum())
            chance += np.log(by_chance).reshape(STREWN, -1).sum(axis=1)
            met += int(hit.sum())
    return max(total - float(chance.mean() + LUCK * chance.std()), 0.0), met


def _each_likely(
    at: np.ndarray, unit: Unit, t: tuple[float, float], holes: bool
) -> tuple[np.ndarray, np.ndarray]:
    """Return for each value how much likelier it is than by chance, and whether it is round."""
    named = TABLE if holes else 0.0
    whole = sum(weight for _, weight in STEPS[unit])
    likely, hit = np.full(len(at), FREE), np.zeros(len(at), dtype=bool)
    for text, weight in STEPS[unit]:
        step = float(Fraction(text))
        off = np.abs(at - step * np.round(at / step))
        off[at < 0.5 * step] = np.inf
        hit |= (off <= t[0]) & (step >= FINE_ROOM * t[0])
        likely += (1.0 - FREE - named) * weight / whole * _density(off, step, t)
    if holes:
        table = np.array([float(each.diameter) for each in named_holes(unit)])
        off = np.abs(at[:, None] - table[None, :]).min(axis=1)
        spacing = float(table[-1] - table[0]) / len(table)
        hit |= (off <= t[0]) & (spacing >= FINE_ROOM * t[0])
        likely += named * _density(off, spacing, t)
    return likely, hit


def _density(off: np.ndarray, step: float, t: tuple[float, float]) -> np.ndarray:
    """How much likelier a value so far off a step is than one that may lie anywhere."""
    shares = ((0.7, t[0]), (0.3, t[1]))
    return sum((share * (off <= near) * min(max(step / (2.0 * near), 1.0), MOST_LIKELIER)
                for share, near in shares), np.zeros(len(off)))


def _size(values: TellingValues, millimetres: float) -> float:
    """Weigh the size of the drawing and of its smallest hole."""
    weight = -log(values.extent * millimetres / USUAL_SIZE) ** 2 / (2.0 * log(4.0) ** 2)
    if values.holes:
        weight -= log(values.holes[0] * millimetres / USUAL_HOLE) ** 2 / (2.0 * log(3.0) ** 2)
    return weight


def _words(values: TellingValues, content: DxfContent, unit: Unit, factor: float) -> float:
    """Weigh what is written: units by name, and dimensions that say another number than is drawn.

    A dimension of 2 beside a length of 50.8 was written in inches, over numbers in millimetres.
    """
    weight = 2.0 * any(SAYS[unit].search(word.text) for word in content.words)
    every = np.array((*values.holes, *values.radii, *values.lengths)) * factor
    if not len(every):
        return weight
    other = 25.4 if unit == "mm" else 1.0 / 25.4
    said = {word.value for word in content.words if word.kind == "dimension" and word.value}
    for value in said:
        near = 1e-4 * abs(value)
        if np.abs(every - abs(value)).min() <= near:
            continue  # says what is drawn: of no use
        weight += 3.0 * bool(np.abs(every - abs(value) * other).min() <= near * other)
    return min(weight, 12.0)
