"""Step 5: chains of chords become the arcs that they stand for.

A polygon that is meant to be one must stay one. What tells them apart is not the shape but the
company: an arc goes on smoothly into its neighbours, or its steps are finer than any polygon's, or
its chords leave their arc by as much as those of arcs in the same file that are sure, as a writer
cuts all of them alike.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import hypot, radians
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sketcher.geometry.bounds import tolerance
from sketcher.geometry.chain import nodes
from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.intake.chord_runs import (
    ChordRun,
    Vertices,
    breaks_from,
    chord_runs,
    heading,
    ring_of,
    shortest_runs,
)
from sketcher.intake.linework import (
    Linework,
    Question,
    Repair,
    RepairNames,
    TakenCurve,
    gathered,
    repair_name,
)
from sketcher.intake.seams import joined
from sketcher.intake.wishes import Wishes

DECIMALS = 2.0
"""A chord's end may lie off its circle by so many of the file's last decimals."""
NOISES = 2.0
"""The same where ends were moved."""
SMOOTH = radians(2.0)
"""An arc goes on smoothly into a neighbour that breaks by less, beside what the steps leave."""
FINE_STEP = radians(15.1)
"""Steps up to this are no polygon's: 24 edges round a full turn (common practice, no source)."""
ALIKE = (0.5, 1.25)
"""Share of the largest rise of sure chords that doubtful ones must have. One writer cuts all arcs
within one tolerance, but into whole numbers of chords: four in place of three rise 0.56 as much."""


class Chain(NamedTuple):
    """Lines that follow each other: their numbers, their ends; whether they close."""

    numbers: list[int]
    vertices: Vertices
    ring: bool


class FoundRun(NamedTuple):
    """Chords of a chain on one circle; `sure` where they can be no polygon."""

    chain: Chain
    run: ChordRun
    sure: bool


def chords_to_arcs(lines: Linework, wishes: Wishes) -> Linework:
    """Return the drawing with arcs in place of chords.

    Chords that may as well be a polygon stay so, and are asked about: `Wishes.chord` answers, as
    arcs leave their chords by no more than it.
    """
    plain = [each.curve for each in lines.curves]
    off = slack(lines)
    if wishes.chord is not None:
        off = max(off, wishes.chord)
    found = [each for chain in chains(plain, tolerance(plain), off)
             for each in runs_of(chain, plain, wishes.chord is not None)]
    widest = max((each.run.sagitta for each in found if each.sure), default=0.0)
    instead: dict[int, list[TakenCurve]] = {}
    told: list[Repair] = []
    questions: list[Question] = []
    names = RepairNames("chords")
    for each in found:
        numbers = each.chain.numbers[each.run.first:each.run.last]
        before = tuple(plain[n] for n in numbers)
        entities = tuple(sorted({e for n in numbers for e in lines.curves[n].entities}))
        whole = run_curve(each)
        if not _believed(each, widest, wishes):
            if wishes.chord is None and wishes.makes("chords", repair_name("chords", entities)):
                questions.append(_asked(each, lines))
            continue
        name, nth = names.of(entities)
        taken = wishes.makes("chords", name)
        radius = f"R{whole.radius:.4g}"
        noun = f"a circle {radius}" if isinstance(whole, Circle) else f"one arc {radius}"
        told.append(Repair("chords", _middle(each), each.run.sagitta + each.run.circle.residual,
                           entities, f"{len(numbers)} chords become {noun}", taken, before,
                           (whole,), nth))
        if taken:
            instead.update({n: [] for n in numbers})
            instead[min(numbers)] = [TakenCurve(whole, entities)]
    curves = [new for n, one in enumerate(lines.curves) for new in instead.get(n, [one])]
    if told:  # one arc may have been found in two, where a piece of it began
        free = {curve for repair in lines.repairs if repair.kind == "curve"
                for curve in repair.after}
        arcs = [each for each in curves if isinstance(each.curve, Arc) and each.curve not in free]
        joint, seams = joined(arcs, wishes, tolerance(plain), off)
        gone = {id(each) for each in arcs}
        curves = sorted([*(each for each in curves if id(each) not in gone), *joint],
                        key=lambda each: each.entities[0])
        told += seams
    repaired = lines.repaired(curves, gathered(told))
    return replace(repaired, questions=(*repaired.questions, *dict.fromkeys(questions)))


def slack(lines: Linework) -> float:
    """Return how far the end of a chord may lie off its arc, in the part's unit."""
    plain = [each.curve for each in lines.curves]
    return max(DECIMALS * lines.quantum, NOISES * lines.noise, tolerance(plain))


def _believed(found: FoundRun, widest: float, wishes: Wishes) -> bool:
    if wishes.chord is not None:
        return found.run.sagitta <= wishes.chord
    return found.sure or ALIKE[0] * widest <= found.run.sagitta <= ALIKE[1] * widest


def _asked(found: FoundRun, lines: Linework) -> Question:
    count = found.run.last - found.run.first
    x, y = found.run.circle.center
    return Question("--chord", f"{count} even edges about ({x:.4g}, {y:.4g}) are a polygon, or "
                    f"chords that leave their arc by {found.run.sagitta:.3g} {lines.unit}",
                    ("0", f"{1.1 * found.run.sagitta:.3g}"))


def chains(curves: Sequence[Curve], one: float, off: float) -> Iterator[Chain]:
    """Yield the lines that follow each other with nothing else between them, in order.

    Parameters
    ----------
    curves : sequence of Curve
    one : float
        Distance within which two ends are one place.
    off : float
        How far the end of a chord may lie off its arc.
    """
    net = nodes(curves, one)

    def onward(k: int, node: int) -> int | None:
        at = net.at[node]
        if len(at) != 2 or at[0] == at[1]:
            return None
        other = at[1] if at[0] == k else at[0]
        return other if isinstance(curves[other], Line) else None

    seen: set[int] = set()
    lines = [k for k, curve in enumerate(curves) if isinstance(curve, Line)]
    starts = [(k, side) for k in lines for side in (0, 1)
              if onward(k, net.ends[k][side]) is None]
    for k, side in [*starts, *((k, 0) for k in lines)]:
        if k in seen:
            continue
        here = net.ends[k][side]
        numbers, path = [], [here]
        following: int | None = k
        while following is not None and following not in seen:
            k = following
            seen.add(k)
            numbers.append(k)
            u, v = net.ends[k]
            here = v if u == here else u
            path.append(here)
            following = onward(k, here)
        ring = len(numbers) > 2 and path[0] == path[-1] and following == numbers[0]
        if len(numbers) >= 4:
            places = np.array([net.points[node] for node in path])
            yield _started(numbers, places, off) if ring else Chain(
                numbers, Vertices(places, off), False)


def _started(numbers: list[int], places: NDArray[np.float64], off: float) -> Chain:
    """Begin a ring where an arc is least likely to run through."""
    wrapped = Vertices(np.vstack([places, places[1]]), off)
    turns = wrapped.turns[1:-1]
    k = int(np.argmax(np.abs(turns)))
    if abs(turns[k]) <= radians(50.0):
        k = int(np.argmax(wrapped.lengths[:-1])) - 1
    return begun_at(Chain(numbers, Vertices(places, off), True), (k + 1) % len(numbers))


def begun_at(chain: Chain, k: int) -> Chain:
    """Return a ring that begins at one of its places."""
    numbers, off = chain.numbers, chain.vertices.off
    rolled = np.roll(chain.vertices.places[:-1], -k, axis=0)
    return Chain(numbers[k:] + numbers[:k], Vertices(np.vstack([rolled, rolled[:1]]), off), True)


def runs_of(chain: Chain, curves: Sequence[Curve], free: bool) -> Iterator[FoundRun]:
    """Yield the runs of a chain; with `free` those of a free curve too.

    Parameters
    ----------
    chain : Chain
    curves : sequence of Curve
        Those that the chain numbers.
    free : bool
    """
    if chain.ring:
        ring = ring_of(chain.vertices)
        if ring is not None:
            yield FoundRun(chain, ring, ring.step <= FINE_STEP)
            return
    runs = chord_runs(chain.vertices, free)
    if chain.ring and runs and runs[0].last < len(chain.numbers):
        # where a run ends an arc ends; where the ring was begun one may run through
        chain = begun_at(chain, runs[0].last)
        runs = chord_runs(chain.vertices, free)
    for run in runs:
        yield FoundRun(chain, run, run.step <= FINE_STEP or _smooth_ends(chain, run) > 0)
    for run in shortest_runs(chain.vertices, runs, chain.ring):
        if _smooth_ends(chain, run, runs) == 2:
            yield FoundRun(chain, run, True)


def _smooth_ends(chain: Chain, run: ChordRun, others: Sequence[ChordRun] = ()) -> int:
    """Return at how many ends of a run a straight neighbour, or another run, goes on smoothly."""
    places, count = chain.vertices.places, len(chain.numbers)
    found = 0
    for at, step in ((run.first, -1), (run.last, 1)):
        beyond = at + step
        if not 0 <= beyond <= count:
            if not chain.ring:
                continue
            beyond %= count
        way = (places[beyond] - places[at]) * step
        # The end of a short chord says less of the circle's direction there.
        limit = SMOOTH + 4.0 * chain.vertices.off / max(hypot(*way), 1e-300)
        for other in others:
            if (other.first if step > 0 else other.last) % count == at % count:
                way = np.array(heading(other, places[at]))
        found += breaks_from(run, places[at], way) < min(limit, 0.25 * run.step)
    return found


def run_curve(found: FoundRun) -> Arc | Circle:
    """Return the circle, or the arc between the ends as they are, its center square to them."""
    run = found.run
    if found.chain.ring and run.last - run.first == len(found.chain.numbers):
        return Circle(run.circle.center, run.circle.radius)
    (ax, ay), (bx, by) = found.chain.vertices.places[[run.first, run.last]].tolist()
    x, y = run.circle.center
    ux, uy = bx - ax, by - ay
    share = ((x - 0.5 * (ax + bx)) * ux + (y - 0.5 * (ay + by)) * uy) / (ux * ux + uy * uy)
    return Arc((x - share * ux, y - share * uy), (ax, ay), (bx, by), run.ccw)


def _middle(found: FoundRun) -> tuple[float, float]:
    x, y = found.chain.vertices.places[(found.run.first + found.run.last) // 2].tolist()
    return (x, y)
