"""An unfinished drawing judged by the paper: what holds, what has another size, what is open."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from math import dist
from typing import Literal, TypeAlias

from sketcher.board.exercise.attempt_match import AttemptMatch, match_attempt
from sketcher.board.exercise.attempt_poses import LaidAttempt, ends_of, laid_attempt
from sketcher.board.exercise.paper_feet import LEVEL, Placed
from sketcher.board.exercise.paper_key import PaperEntry, PaperKey, plain_size
from sketcher.board.exercise.paper_probes import SizeProbe
from sketcher.drafting.paper_view import MM_PER
from sketcher.geometry.curves import Circle, Curve, Line
from sketcher.geometry.meet import overlap, same_carrier
from sketcher.geometry.project import distance
from sketcher.inspect.words import plural
from sketcher.marking.outline_features import Feature, features
from sketcher.marking.poses import Pose, carried
from sketcher.part.value import Part, Unit
from sketcher.part.whole import whole
from sketcher.quantity.format import angle, length

EntryState: TypeAlias = Literal["holds", "off", "open"]

ANGLE = 1e-4
"""Degrees that an angle may be off: an edge of a twentieth of the size turns by so much, and a
little more, when its end is off by a millionth of it."""
MOST_PLACES = 6


@dataclass(frozen=True, slots=True)
class EntryStanding:
    """How an entry of the paper's list stands.

    Parameters
    ----------
    id : str
        Of the entry.
    state : EntryState
        ``holds``; ``off``: there with another size; ``open``: not all there yet.
    said : str
        What is to be told of it: ``24 where the paper says 25``, ``2 of 4``; empty for nothing.
    mine : str
        What the drawing has, beside the paper: ``24``.
    """

    id: str
    state: EntryState
    said: str = ""
    mine: str = ""


@dataclass(frozen=True, slots=True)
class AttemptStanding:
    """How a drawing stands beside the paper.

    Parameters
    ----------
    entries : tuple of EntryStanding
        In the order of the paper's list.
    missing, stray, doubled : int
        Curves of the paper that are not drawn as outline yet; outline that is none of the paper's;
        drawn twice.
    uneven : frozenset of int
        Numbers of the key's features that are drawn, but longer or shorter than they ought to be.
    astray : frozenset of int
        Those that are there with another size, or elsewhere.
    turn : float
        Degrees by which the drawing would be turned to lie as the paper does.
    mirrored : bool
        It is a mirror image of the paper's part.
    right : frozenset of int
        Numbers of the key's features that are there, on the line or circle that they should be on.
    shown : frozenset of str
        Points of the key that the drawing shows: centers, ends, and where its lines cross.
    pose : Pose or None
        How it lies; None where nothing of it is like the paper.
    """

    entries: tuple[EntryStanding, ...]
    missing: int = 0
    stray: int = 0
    doubled: int = 0
    turn: float = 0.0
    mirrored: bool = False
    right: frozenset[int] = field(default_factory=frozenset)
    uneven: frozenset[int] = field(default_factory=frozenset)
    astray: frozenset[int] = field(default_factory=frozenset)
    shown: frozenset[str] = field(default_factory=frozenset)
    pose: Pose | None = None

    @property
    def holding(self) -> int:
        """How many entries hold."""
        return sum(entry.state == "holds" for entry in self.entries)

    @property
    def finished(self) -> bool:
        """Whether the drawing is the paper's part: closed by its curves, and nothing else."""
        return self.holding == len(self.entries) and not self.mirrored and not (
            self.missing or self.uneven or self.astray or self.stray or self.doubled)

    def remarks(self) -> tuple[str, ...]:
        """Return what else is to be told of the drawing, a sentence each."""
        said = []
        if self.mirrored:
            said.append("It is the mirror image of the paper's part.")
        elif self.turn:
            said.append(f"It lies turned by {angle(self.turn, 2)} beside the paper, which is "
                        "no mistake.")
        if self.stray:
            verb = "is none" if self.stray == 1 else "are none"
            said.append(f"{plural(self.stray, 'outline curve')} {verb} of the paper's.")
        if self.doubled:
            said.append(f"{plural(self.doubled, 'edge')} of it drawn twice.")
        if not self.missing and self.uneven:
            said.append(f"{plural(len(self.uneven), 'curve')} not yet from end to end as on the "
                        "paper.")
        if self.astray and all(entry.state == "holds" for entry in self.entries):
            verb = "lies" if len(self.astray) == 1 else "lie"
            said.append(f"{plural(len(self.astray), 'curve')} {verb} elsewhere than on the paper.")
        return tuple(said)


_last: tuple[Part, PaperKey] | None = None


def paper_key(part: Part) -> PaperKey:
    """Return a solved key made ready; the last one is remembered."""
    global _last
    last = _last
    if last is None or (last[0] is not part and last[0] != part):
        last = _last = (part, PaperKey(part))
        last[1].entries  # noqa: B018 - found once, before anybody waits for a look
    return last[1]


def judge_attempt(key_part: Part, drawn: Part, before: Pose | None = None) -> AttemptStanding:
    """Return how a drawing stands beside a solved key.

    Parameters
    ----------
    key_part, drawn : Part
    before : Pose, optional
        How it lay at the last look.

    Raises
    ------
    SketcherError
        When what is repeated or reflected of the drawing cannot be worked out.
    """
    key = paper_key(key_part)
    scale = MM_PER[drawn.unit] / MM_PER[key.part.unit]
    pieces = whole(drawn)
    curves = [p.curve for p in pieces if p.role == "outline" and p.curve.length]
    layout = [p.curve for p in pieces if p.role != "outline" and p.curve.length]
    outline = features(curves, key.within / scale)
    scribed = features(layout, key.within / scale)
    laid = laid_attempt(key, outline or scribed, scale, before, turns=bool(outline))
    if laid is None:
        return AttemptStanding(tuple(EntryStanding(e.id, "open") for e in key.entries),
                               len(key.outline), len(outline))
    if not outline:  # what is only scribed lies as it lies: any way round looks like another
        laid = LaidAttempt(laid.pose, (), AttemptMatch(tuple(() for _ in key.outline), {}, 0.0))
    placed = _placed(key, laid, carried(scribed, laid.pose))
    entries = tuple(_standing(key, entry, placed) for entry in key.entries)
    return _counted(key, laid, _drawn_twice(outline, curves, key.within / scale), entries)


def _placed(key: PaperKey, laid: LaidAttempt, scribed: Sequence[Feature]) -> Placed:
    """Return what of the key is there, as it is drawn: outline first, then what is scribed."""
    placed: dict[int, Curve] = {}
    for i in key.outline:
        those = [laid.hand[j].curve for j in laid.match.right[i]]
        if those:
            placed[i] = max(those, key=lambda curve: _common(key, i, curve))
        elif i in laid.match.near:
            placed[i] = laid.hand[laid.match.near[i]].curve
    if scribed:
        beside = match_attempt(key, scribed)
        for i, numbers in enumerate(beside.right):
            if numbers and not laid.match.right[i]:
                placed[i] = scribed[numbers[0]].curve
    if laid.pose.turn % 90.0:
        (c, _), (s, _) = laid.pose.matrix.tolist()
        placed[LEVEL] = Line((0.0, 0.0), (c, s))
    every = [each.curve for each in (*scribed, *laid.hand)]
    for n in range(len(key.outline), len(key.found)):
        same = next((c for c in every if same_carrier(key.placed[n], c, key.within)), None)
        if same is not None:
            placed[n] = same
    return placed


def _common(key: PaperKey, number: int, curve: Curve) -> float:
    return sum(piece.length for piece in overlap(key.placed[number], curve, 4.0 * key.within))


def _standing(key: PaperKey, entry: PaperEntry, placed: Placed) -> EntryStanding:
    right, worst, off = 0, None, 0.0
    for probe, wanted in zip(entry.probes, entry.wanted, strict=True):
        reading = probe.read(placed)
        if reading is None:
            continue
        miss = abs(reading.amount - wanted)
        if miss <= (ANGLE if entry.is_angle else key.within):
            right += 1
        elif not reading.is_soft and miss > off:
            worst, off = reading.amount, miss
    if worst is not None:
        mine, said = _told(entry, worst, key.part.unit)
        return EntryStanding(entry.id, "off", said, mine)
    if entry.probes and right == len(entry.probes):
        return EntryStanding(entry.id, "holds")
    if right and all(isinstance(probe, SizeProbe) or entry.is_touch for probe in entry.probes):
        some = f"{right} of {len(entry.probes)}"
        return EntryStanding(entry.id, "open", some, some)
    return EntryStanding(entry.id, "open")


def _told(entry: PaperEntry, amount: float, unit: Unit) -> tuple[str, str]:
    """Return a measured amount, and what it is told as beside the paper's."""
    if entry.is_touch:
        missed = f"misses by {_amount(amount, unit, 0.0)}"
        return missed, f"not tangent: {missed}"
    paper = plain_size(entry.text)
    if entry.is_angle:
        mine = angle(amount, 2)
        mine = mine if mine != paper else angle(amount, MOST_PLACES)
    else:
        sign = paper[:1] if paper[:1] in ("R", "\N{LATIN CAPITAL LETTER O WITH STROKE}") else ""
        wanted = min(entry.wanted, key=lambda each: abs(each - amount))
        mine = sign + _amount(amount, unit, wanted)
    if paper == "R":
        return mine, f"{mine} here, which does not fit"
    return mine, f"{mine} where the paper says {paper}"


def _amount(amount: float, unit: Unit, wanted: float) -> str:
    """Return a length with as many decimals as tell it from the one that is wanted."""
    least = 3 if unit == "mm" else 4
    return next((text for places in range(least, MOST_PLACES) if (
        text := length(amount, unit, places, zeros=False)) != length(
            wanted, unit, places, zeros=False)), length(amount, unit, MOST_PLACES, zeros=False))


def _counted(
    key: PaperKey, laid: LaidAttempt, doubled: int, entries: tuple[EntryStanding, ...]
) -> AttemptStanding:
    match, slack = laid.match, 4.0 * key.within
    right = frozenset(i for i in key.outline if match.right[i])
    even = frozenset(i for i in right if any(_same_ends(key.placed[i], laid.hand[j].curve, slack)
                                             for j in match.right[i]))
    # where all else is as it should be, so is what no probe reaches
    if len(even) == len(key.outline):
        entries = tuple(e if e.state != "open" else EntryStanding(e.id, "holds") for e in entries)
    return AttemptStanding(
        entries, len(key.outline) - len(right) - len(match.near),
        len(laid.hand) - len(match.claimed), doubled, laid.pose.turn % 360.0, laid.pose.mirrored,
        right, right - even, frozenset(match.near), _shown(key, laid, right), laid.pose)


def _shown(key: PaperKey, laid: LaidAttempt, right: frozenset[int]) -> frozenset[str]:
    """Return the points of the key that a drawing shows by what is right of it."""
    slack = 4.0 * key.within
    there = {n: key.placed[n] for n in right}
    marked = [at for n in right for j in laid.match.right[n]
              for at in ends_of(laid.hand[j].curve)]
    marked += [curve.center for curve in there.values() if not isinstance(curve, Line)]
    return frozenset(
        name for name, at in key.part.points.items()
        if any(dist(at, place) <= slack for place in marked)
        or sum(distance(curve, at, bounded=False) <= slack for curve in there.values()) > 1)


def _same_ends(mine: Curve, theirs: Curve, within: float) -> bool:
    if isinstance(mine, Circle) or isinstance(theirs, Circle):
        return type(mine) is type(theirs)
    return all(min(dist(at, end) for end in ends_of(theirs)) <= within for at in ends_of(mine))


def _drawn_twice(found: Iterable[Feature], curves: Sequence[Curve], within: float) -> int:
    """Return how many features are covered more than once by what they are made of."""
    return sum(sum(curves[n].length for n in each.sources) - each.curve.length > 10.0 * within
               for each in found if len(each.sources) > 1)
