"""Leftovers: curves, or ends of curves, that stick out of the outline into the open."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from sketcher.geometry.curves import XY
from sketcher.geometry.evaluate import midpoint, point_at
from sketcher.inspect.mend import Defect, Mend, MendStep
from sketcher.inspect.survey import Survey
from sketcher.inspect.words import length, listed


@dataclass
class _Walk:
    """From a loose end inward: whole curves that stick out, then maybe the tail of one more."""

    whole: list[int] = field(default_factory=list)
    tail: tuple[int, float, int] | None = None  # piece, parameter of the contact, other piece
    stop: str = ""  # "junction", "open", "crossing", "across", "joined"


def find(survey: Survey) -> Iterator[Defect]:
    """Yield what hangs from the outline by one end, and bits that hang from nothing."""
    told: set[frozenset[int]] = set()
    for k, index in survey.loose:
        if not survey.pieces[k].drawn:
            continue
        walk = _walk(survey, k, index)
        key = frozenset(walk.whole) | ({-1 - walk.tail[0]} if walk.tail else set())
        drawn = all(survey.pieces[n].drawn for n in walk.whole)
        if walk.stop == "joined" or key in told or not drawn:
            continue
        told.add(key)
        defect = _tail(survey, walk, index) if walk.tail and not walk.whole else \
            _leftover(survey, walk)
        if defect is not None:
            yield defect


def _walk(survey: Survey, k: int, index: int) -> _Walk:
    walk = _Walk()
    touching = survey.lies_on(k, index) is not None
    while True:
        contacts = survey.contacts.get(k, [])
        if contacts:
            t, other, _ = contacts[0] if index == 0 else contacts[-1]
            # From an end on another curve to a curve that others meet: most likely the outline.
            walk.tail, walk.stop = (k, t, other), "joined" if touching else "crossing"
            return walk
        walk.whole.append(k)
        far = survey.net.ends[k][1 - index]
        here = survey.net.at[far]
        on = survey.lies_on(k, 1 - index) is not None
        if on or len(here) != 2:
            joined = on or len(here) > 2
            walk.stop = "junction" if joined or touching else "open"
            if joined and touching:
                walk.stop = "across"
            return walk
        after = here[0] if here[1] == k else here[1]
        if after in walk.whole:
            walk.stop = "open"
            return walk
        index = 0 if survey.net.ends[after][0] == far else 1
        k = after


def _tail(survey: Survey, walk: _Walk, index: int) -> Defect | None:
    """Return the end of a curve that runs on past the last one that crosses it."""
    assert walk.tail is not None
    k, t, other = walk.tail
    piece, mate = survey.pieces[k], survey.pieces[other]
    size = (t if index == 0 else 1.0 - t) * piece.curve.length
    half = 0.5 * t if index == 0 else 0.5 * (1.0 + t)
    edge: str | None = mate.id
    if not mate.drawn:
        edge = survey.axis_of(mate) if mate.source == piece.id else None
    pick = point_at(piece.curve, half)
    cut = MendStep("cut_back", (piece.id, pick, (edge,)))
    step = survey.first_that_works(cut) if edge else None
    text = f"{piece.id} sticks out {length(size, survey.part.unit)} past {mate.id}"
    return Defect("stub", (piece.id,), pick, size, text, step,
                  f"Cut {piece.id} back to {edge}" if step else "")


def _leftover(survey: Survey, walk: _Walk) -> Defect | None:
    """Return curves that hang from the outline by one end, or from nothing and are tiny."""
    names = tuple(survey.pieces[n].id for n in sorted(walk.whole))
    size = sum(survey.curves[n].length for n in walk.whole)
    if walk.stop == "open" and size > survey.reach:
        return None  # an outline that is still being drawn
    at: XY = midpoint(survey.curves[walk.whole[0]])
    said = length(size, survey.part.unit)
    verb = "hangs" if len(names) == 1 else "hang"
    text = f"{listed(names)} {verb} from the outline by one end ({said})"
    if walk.stop == "open":
        text = f"{listed(names)} {verb} from nothing ({said})"
    elif walk.stop == "across":
        text = f"{listed(names)} {'runs' if len(names) == 1 else 'run'} across the outline ({said})"
    return Defect("stub", names, at, size, text, MendStep("delete", names),
                  f"Delete {listed(names)}", sure=walk.stop != "across")


MEND = Mend("stub", "leftover", 5, find)
