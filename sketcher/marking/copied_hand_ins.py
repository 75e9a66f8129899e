"""Hand-ins that look as if one were made of the other: told to the teacher, never deducted for.

Two who draw one paper exactly have most coordinates in common. What says more: the very same file;
places that neither the paper nor a round figure gives, alike to 1e-9; and the handles of a drawing
that was mended here and there, with the same gaps at the same entities and most places alike. What
much of a class has in common came from the teacher.
"""

from __future__ import annotations

import os
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import TYPE_CHECKING, TypeAlias, TypeVar

import numpy as np
from numpy.typing import NDArray

from sketcher.errors import FileError
from sketcher.exchange.dxf_bytes import is_timeless
from sketcher.geometry.curves import XY, Circle, Curve, Line
from sketcher.marking.hand_in import HandIn
from sketcher.part.atomic import digest, read_bytes

if TYPE_CHECKING:
    from sketcher.marking.comparison import Comparison

T = TypeVar("T")
Floats: TypeAlias = NDArray[np.float64]

MOST_BYTES = 64 * 1024 * 1024
SAME = 1e-9
"""In the file's numbers: places nearer than this are one."""
STEPS = (1000.0, 64.0)
"""A figure is round that is a whole number of thousandths or of 64ths."""
LEAST_PLACES = 2
"""Odd places that two hand-ins have to share."""
LEAST_UNLIKE = 3
"""Steps between handles that are unlike after entities of one type, where a drawing was mended."""
PLAIN = frozenset({"LINE", "ARC", "CIRCLE", "ELLIPSE", "LWPOLYLINE", "SPLINE"})
"""Types that take one handle whatever they show: a DIMENSION takes more, as its picture is."""
LEAST_SHARE = 0.75
"""Of all places, that drawings with the same handles have to share (a guess): a line moved is two
places more, and variants of one problem share half."""
COMMON_SHARE = 0.25
COMMON_LEAST = 5
"""What more than so many, and more than this share, of a class have came from the teacher."""
TRAILING = re.compile(r"\d+$")


@dataclass(frozen=True, slots=True)
class Traces:
    """By what copies of a hand-in are known.

    Parameters
    ----------
    content : str
        Fingerprint of the file; empty where all who draw the key right have the same file.
    places : frozenset of (int, int)
        Odd places of the file, in units of 1e-9 of its numbers.
    handles : tuple of int
        Handles in file order, where they tell of mending; else empty.
    drawn : frozenset of (int, int)
        All places of the file, as `places`, where there are handles.
    """

    content: str = ""
    places: frozenset[tuple[int, int]] = frozenset()
    handles: tuple[int, ...] = ()
    drawn: frozenset[tuple[int, int]] = frozenset()


@dataclass(frozen=True, slots=True)
class Alike:
    """Two hand-ins, by their numbers in the class, and why they look like copies, a clause each."""

    one: int
    other: int
    reasons: tuple[str, ...]


def traces_of(hand_in: HandIn, path: str | os.PathLike[str],
              comparison: Comparison | None = None) -> Traces:
    """Return by what copies of a hand-in are known; places only where it could be laid on a key.

    A file without the time and the GUID of its day is the same for all who drew the same: it tells
    something only where it is not just the key.
    """
    try:
        data = read_bytes(path, MOST_BYTES)
    except FileError:
        data = b""
    places, just_key = (frozenset(), False) if comparison is None else _odd_places(comparison)
    handles = _handles(hand_in)
    content = digest(data) if data else ""
    if just_key and not places and not handles and is_timeless(data):
        content = ""
    return Traces(content, places, handles, _drawn(hand_in) if handles else frozenset())


def copied(class_traces: Sequence[Traces]) -> tuple[Alike, ...]:
    """Return which hand-ins look like copies of each other, in the order of the class.

    Of those that are the same file each is told with the first of them.
    """
    reasons: dict[tuple[int, int], list[str]] = defaultdict(list)
    for _, (first, *others) in _owners((n, t.content) for n, t in enumerate(class_traces)):
        for other in others:
            reasons[first, other].append("the same file, byte for byte")
    most = max(COMMON_LEAST, COMMON_SHARE * len(class_traces))
    shared: dict[tuple[int, int], list[tuple[int, int]]] = defaultdict(list)
    for place, owners in _owners((n, place) for n, t in enumerate(class_traces)
                                 for place in t.places):
        if len(owners) <= most:
            for pair in combinations(owners, 2):
                shared[pair].append(place)
    for pair, places in shared.items():
        if len(places) >= LEAST_PLACES:
            x, y = (value * SAME for value in min(places))
            reasons[pair].append(f"{len(places)} places that neither the key nor a rounded value "
                                 f"gives are alike to {SAME:g}, such as {x:.9g}, {y:.9g}")
    for _, owners in _owners((n, t.handles) for n, t in enumerate(class_traces)):
        if len(owners) > most:
            continue
        for at, other in enumerate(owners):
            for one in owners[:at]:
                if _share(class_traces[one].drawn, class_traces[other].drawn) >= LEAST_SHARE:
                    reasons[one, other].append(
                        "the same handles in the same order, with the same gaps")
                    break
    return tuple(Alike(*pair, tuple(found)) for pair, found in sorted(reasons.items()))


def _owners(traces: Iterable[tuple[int, T]]) -> Iterator[tuple[T, list[int]]]:
    """Yield each trace that several hand-ins have, and which have it."""
    found: dict[T, list[int]] = defaultdict(list)
    for number, trace in traces:
        if trace:
            found[trace].append(number)
    return ((trace, owners) for trace, owners in found.items() if len(owners) > 1)


def _share(one: frozenset[tuple[int, int]], other: frozenset[tuple[int, int]]) -> float:
    """Return how much of the places of the one that has more both have."""
    return len(one & other) / max(len(one), len(other), 1)


def _drawn(hand_in: HandIn) -> frozenset[tuple[int, int]]:
    """Return the places of what a hand-in shows of the part, in units of `SAME`."""
    return frozenset((round(x / SAME), round(y / SAME))
                     for role in ("outline", "center", "construction")
                     for each in hand_in.of_role(role) for x, y in _places(each.curve))


def _odd_places(comparison: Comparison) -> tuple[frozenset[tuple[int, int]], bool]:
    """Return the places that neither the key nor a round figure gives, and whether all are the key.

    A place of the key is where two of its carriers meet, or a center. Where none of those is a
    round figure in the file the whole drawing stands at an odd place, which is odd as well.
    """
    drawn = [each.curve for role in ("outline", "construction")
             for each in comparison.hand_in.of_role(role)]
    places = np.array([at for curve in drawn for at in _places(curve)]).reshape(-1, 2)
    if not len(places):
        return frozenset(), False
    matrix, shift = comparison.pose.matrix, np.array(comparison.pose.shift)
    laid = places @ matrix.T + shift
    carriers = np.zeros(len(places), dtype=np.intp)
    for shape in (comparison.key, comparison.shape):
        carriers = np.maximum(carriers, _carriers_at(
            [feature.curve for feature in shape.found], laid, comparison.within))
    of_key = carriers >= 2
    round_ones = _round(places)
    odd = ~round_ones
    if (of_key & round_ones).any():
        odd &= ~of_key
    found = frozenset((int(x), int(y)) for x, y in np.round(places[odd] / SAME).tolist())
    wrong = bool(comparison.changes) or comparison.matching.wrong(comparison.within) > 0
    return found, not wrong and bool((carriers >= 1).all())


def _places(curve: Curve) -> tuple[XY, ...]:
    if isinstance(curve, Circle):
        return (curve.center,)
    if isinstance(curve, Line):
        return (curve.start, curve.end)
    return (curve.center, curve.start, curve.end)


def _round(places: Floats) -> NDArray[np.bool_]:
    """Tell which places are round figures in both coordinates, shape (n,)."""
    good = np.zeros(places.shape, dtype=bool)
    for step in STEPS:
        scaled = places * step
        good |= np.abs(scaled - np.round(scaled)) <= step * SAME * np.maximum(1.0, np.abs(places))
    return np.asarray(good.all(axis=1))


def _carriers_at(curves: Sequence[Curve], places: Floats, within: float) -> NDArray[np.intp]:
    """Return on how many carriers of some curves each place lies, shape (n,); a center counts 2."""
    lines = np.array([(*c.start, *c.end) for c in curves if isinstance(c, Line)]).reshape(-1, 4)
    rounds = np.array([(*c.center, c.radius) for c in curves
                       if not isinstance(c, Line)]).reshape(-1, 3)
    way = lines[:, 2:] - lines[:, :2]
    way /= np.maximum(np.hypot(*way.T), 1e-300)[:, None]
    square = np.column_stack([-way[:, 1], way[:, 0]])
    square *= np.where((square[:, :1] < -SAME) | (
        (np.abs(square[:, :1]) <= SAME) & (square[:, 1:] < 0.0)), -1.0, 1.0)
    off = (square * lines[:, :2]).sum(axis=1)
    carriers = np.column_stack([square, off])
    _, first = np.unique(np.round(carriers / (10.0 * within)), axis=0, return_index=True)
    carriers = carriers[first]
    _, first = np.unique(np.round(rounds / (10.0 * within)), axis=0, return_index=True)
    rounds = rounds[first]
    to_lines = np.abs(places @ carriers[:, :2].T - carriers[:, 2]) <= within
    to_centers = np.hypot(places[:, :1] - rounds[:, 0], places[:, 1:] - rounds[:, 1])
    on_rounds = np.abs(to_centers - rounds[:, 2]) <= within
    return np.asarray(to_lines.sum(axis=1) + on_rounds.sum(axis=1)
                      + 2 * (to_centers <= within).any(axis=1))


def _handles(hand_in: HandIn) -> tuple[int, ...]:
    """Return the handles of a drawing that was mended; empty where a program counted them off.

    A program that writes a file anew takes one handle for each plain entity, and as many for each
    type of another; so only steps from one plain entity to the next that differ after entities of
    one type tell something.
    """
    numbered: list[tuple[int, str, int]] = []
    for number in sorted(hand_in.entities):
        entity = hand_in.entities[number]
        try:
            numbered.append((number, entity.kind, int(entity.handle, 16)))
        except ValueError:
            continue
    telling = [(one, two) for one, two in pairwise(numbered)
               if two[0] == one[0] + 1 and {one[1], two[1]} <= PLAIN]
    if hand_in.part is not None:
        found = ((binding.kind, TRAILING.search(name))
                 for name, binding in hand_in.part.bindings.items())
        numbered = [(0, kind, int(digits[0])) for kind, digits in found if digits]
        telling = list(pairwise(numbered))
    steps: dict[str, set[int]] = defaultdict(set)
    for (_, kind, before), (_, _, after) in telling:
        steps[kind].add(after - before)
    unlike = sum(len(each) - 1 for each in steps.values())
    return tuple(handle for _, _, handle in numbered) if unlike >= LEAST_UNLIKE else ()
