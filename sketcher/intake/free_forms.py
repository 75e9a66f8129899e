"""Step 5, first half: chords of a free curve become arcs that go on tangent, where that is asked.

A writer that knows no free curves cuts them into chords between places on them. What breaks least
there, where the curve runs nearly straight, looks like a joint that was meant tangent, and two
lines cannot be bound so: it is a polygon, and its findings are right, or it stands for the curve.
Nothing in the file tells which, so that it is asked: `Wishes.chord` answers.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from sketcher.geometry.biarcs import spline_arcs
from sketcher.geometry.bounds import tolerance
from sketcher.geometry.curves import XY
from sketcher.geometry.spline import Floats, Spline
from sketcher.intake.chord_runs import WIDEST_STEP, Vertices, chord_runs, ring_of
from sketcher.intake.chords import SMOOTH, Chain, begun_at, chains, slack
from sketcher.intake.free_curves import CHORD
from sketcher.intake.linework import (
    Linework,
    Question,
    Repair,
    RepairNames,
    TakenCurve,
    gathered,
    repair_name,
)
from sketcher.intake.wishes import Wishes
from sketcher.interrupt import check

KIND = "curve"
FEWEST = 8
"""Chords that follow a free curve; fewer are edges that happen to turn little."""
EDGE = 2.5
"""A chord that is so many times as long as those beside it is an edge (the chords of cubic curves
that were cut evenly in their parameter grow by less than twice from one to the next)."""
WAVERING = 1.0 / 3.0
"""Most of the joints that may turn against the one before: what does so oftener is a zigzag."""
GOES_ON = 0.75
"""An edge goes on into the curve where it breaks by less of what the next joint turns; were it
tangent it would break by half of that."""


Bools: TypeAlias = NDArray[np.bool_]


class _Form(NamedTuple):
    """Chords of a free curve.

    `numbers` are theirs among the curves, `places` (n + 1, 2) their ends, `angles` (n + 1,) the
    directions of the curve there, radians. `sagitta` is how far it leaves them at most; `tells`
    whether a joint is near-tangent.
    """

    numbers: list[int]
    places: Floats
    angles: Floats
    sagitta: float
    tells: bool


def free_forms_to_arcs(lines: Linework, wishes: Wishes) -> Linework:
    """Return the drawing with arcs in place of the chords of free curves.

    The curve goes through the ends of its chords, where it has the direction of the circle through
    the end before and the one after. It is taken where it leaves its chords by no more than
    `Wishes.chord`; without that it is asked about where it has a near-tangent joint.
    """
    plain = [each.curve for each in lines.curves]
    off = slack(lines)
    names = RepairNames(KIND)
    told: list[Repair] = []
    questions: list[Question] = []
    instead: dict[int, list[TakenCurve]] = {}
    for form in (form for chain in chains(plain, tolerance(plain), off) for form in _forms(chain)):
        check()
        entities = tuple(sorted({e for n in form.numbers for e in lines.curves[n].entities}))
        if wishes.chord is None:
            if form.tells and wishes.makes(KIND, repair_name(KIND, entities)):
                questions.append(_asked(form, lines))
            continue
        if form.sagitta > wishes.chord:
            continue
        within = min(wishes.chord, CHORD[lines.unit])
        arcs = spline_arcs(_spline(form), within)
        name, nth = names.of(entities)
        taken = wishes.makes(KIND, name)
        x, y = form.places[len(form.places) // 2].tolist()
        text = f"{len(form.numbers)} chords of a free curve become {len(arcs)} arcs"
        told.append(Repair(KIND, (x, y), form.sagitta + within, entities, text, taken,
                           tuple(plain[n] for n in form.numbers), tuple(arcs), nth))
        if taken:
            instead.update({n: [] for n in form.numbers})
            instead[min(form.numbers)] = [TakenCurve(each, entities) for each in arcs]
    curves = [new for n, one in enumerate(lines.curves) for new in instead.get(n, [one])]
    repaired = lines.repaired(curves, gathered(told))
    return replace(repaired, questions=(*repaired.questions, *dict.fromkeys(questions)))


def _asked(form: _Form, lines: Linework) -> Question:
    x, y = form.places[len(form.places) // 2]
    return Question("--chord", f"{len(form.numbers)} short edges through ({x:.4g}, {y:.4g}) are a "
                    f"polygon, or chords that leave their free curve by {form.sagitta:.3g} "
                    f"{lines.unit}", ("0", f"{1.1 * form.sagitta:.3g}"))


def _forms(chain: Chain) -> Iterator[_Form]:
    """Yield the stretches of a chain that follow a free curve."""
    if chain.ring and ring_of(chain.vertices) is not None:
        return
    ends, edge, held = _marks(chain)
    if chain.ring and not (ends[0] or edge[0] or held[0]) and (ends[:-1] | edge | held).any():
        chain = begun_at(chain, int(np.argmax(ends[:-1] | edge | held)))
        ends, edge, held = _marks(chain)
    other = edge | held
    closed = chain.ring and not (ends[:-1] | other).any()
    # a stretch ends at a corner, and at what is an edge or an arc already
    stops = [0, *(k for k in range(1, len(edge)) if ends[k] or other[k] or other[k - 1]), len(edge)]
    for first, last in pairwise(stops):
        if last - first >= FEWEST and not other[first]:
            form = _form(chain, first, last, edge, closed)
            if form is not None:
                yield form


def _marks(chain: Chain) -> tuple[Bools, Bools, Bools]:
    """Which places are corners, which chords are edges, which are of an arc."""
    long, corner = chain.vertices.lengths, np.abs(_turns(chain)) > WIDEST_STEP
    before, after = np.roll(long, 1), np.roll(long, -1)
    before[corner[:-1]] = after[corner[1:]] = 0.0  # what is beyond a corner is of another sort
    if not chain.ring:
        before[0] = after[-1] = 0.0
    held = np.zeros(len(long), dtype=bool)
    for run in chord_runs(chain.vertices):
        held[run.first:run.last] = True
    return corner, long > EDGE * np.maximum(before, after), held


def _turns(chain: Chain) -> Floats:
    """The turn at each place; of a ring at its first as well."""
    turns = chain.vertices.turns.copy()
    if chain.ring:
        places = chain.vertices.places
        turns[0] = turns[-1] = Vertices(np.vstack([places[-2:], places[1:2]]), 0.0).turns[1]
    return turns


def _form(chain: Chain, first: int, last: int, edge: Bools, closed: bool) -> _Form | None:
    places, lengths = chain.vertices.places[first:last + 1], chain.vertices.lengths[first:last]
    turns = _turns(chain)[first:last + 1]
    inner = turns[1:-1]
    if (inner[1:] * inner[:-1] < 0.0).sum() > WAVERING * len(inner):
        return None
    way = np.diff(places, axis=0)
    heads = np.concatenate([[0.0], np.cumsum(inner)]) + np.arctan2(way[0, 1], way[0, 0])
    angles = np.empty(len(places))
    # A circle through three places turns from each chord in proportion to its length.
    angles[1:-1] = heads[:-1] + inner * lengths[:-1] / (lengths[:-1] + lengths[1:])
    if closed:
        share = lengths[-1] / (lengths[-1] + lengths[0])
        angles[0] = heads[0] - turns[0] * (1.0 - share)
        angles[-1] = heads[-1] + turns[-1] * share
    else:
        angles[0] = heads[0] - _at_end(
            turns[0], inner[0], angles[1] - heads[0], _beside(chain, edge, first - 1))
        angles[-1] = heads[-1] + _at_end(
            turns[-1], inner[-1], heads[-1] - angles[-2], _beside(chain, edge, last))
    leaves = np.maximum(np.abs(angles[:-1] - heads), np.abs(angles[1:] - heads))
    sagitta = float((0.25 * lengths * leaves).max())
    if sagitta <= chain.vertices.off:  # nothing but a straight line
        return None
    least = 2.0 * chain.vertices.off / np.minimum(lengths[:-1], lengths[1:])
    tells = bool(((np.abs(inner) < SMOOTH) & (np.abs(inner) > least)).any())
    return _Form(chain.numbers[first:last], places, angles, sagitta, tells)


def _beside(chain: Chain, edge: Bools, chord: int) -> bool:
    """Whether there is an edge beside a stretch."""
    if not chain.ring and not 0 <= chord < len(edge):
        return False
    return bool(edge[chord % len(edge)])


def _at_end(turn: float, following: float, bends: float, beside: bool) -> float:
    """Return by how much the curve leaves its first chord there: along an edge, or as it bends."""
    if beside and abs(turn) <= GOES_ON * abs(following) + 0.5 * SMOOTH:
        return turn
    return bends


def _spline(form: _Form) -> Spline:
    """The cubic curve through the places, as fast as its chords are long (Hermite's form)."""
    lengths = np.hypot(*np.diff(form.places, axis=0).T)[:, None]
    ways = np.column_stack([np.cos(form.angles), np.sin(form.angles)])
    inner = np.stack([form.places[:-1] + ways[:-1] * lengths / 3.0,
                      form.places[1:] - ways[1:] * lengths / 3.0], axis=1).reshape(-1, 2)
    whole = np.vstack([form.places[:1], inner, form.places[-1:]])
    points: list[XY] = [(x, y) for x, y in whole.tolist()]
    knots = np.repeat(np.concatenate([[0.0], np.cumsum(lengths)]), 2).tolist()
    return Spline(3, (0.0, 0.0, *knots, knots[-1], knots[-1]), tuple(points))
