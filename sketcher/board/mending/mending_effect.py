"""What a way of mending would change, told before it is taken: in words and as curves."""

from __future__ import annotations

from math import dist

from sketcher.board.ledger.ledger_rows import in_words
from sketcher.board.preview import Ghost
from sketcher.errors import SketcherError
from sketcher.geometry.bounds import RELATIVE
from sketcher.geometry.curves import Arc, Circle, Curve, Line
from sketcher.inspect.words import plural
from sketcher.part.kinds import KINDS, measure
from sketcher.part.part_size import part_size
from sketcher.part.value import Part
from sketcher.part.whole import curve_value, whole
from sketcher.quantity.format import angle, length
from sketcher.solve.solve_report import Solution


def effect_words(before: Part, after: Solution, name: str) -> str:
    """Return what would be different, and what would be left.

    Parameters
    ----------
    before : Part
        The part as it stands.
    after : Solution
        The part as the way of mending would leave it.
    name : str
        The binding that is changed; where it stays it is told what it measures then.

    Returns
    -------
    str
        Such as ``circle h1 moves 1.2 mm and 2 more curves change; 0 freedoms left``.
    """
    said = [_moved(before, after.part)]
    measured = _measured(after.part, name)
    if measured:
        said.append(measured)
    said.append(f"{plural(after.report.freedoms, 'freedom')} left")
    if after.report.clashes:
        said.append(f"{plural(len(after.report.clashes), 'clash', 'clashes')} left")
    return "; ".join(said)


def _moved(before: Part, after: Part) -> str:
    size = part_size(before)
    found = []
    for name, curve in after.curves.items():
        if name not in before.curves:
            continue
        was, now = curve_value(before, before.curves[name]), curve_value(after, curve)
        way, wider = travel(was, now), growth(was, now)
        if max(way, abs(wider)) > 10.0 * RELATIVE * size:
            found.append((way, wider, name))
    if not found:
        return "nothing moves"
    way, wider, name = max(found, key=lambda each: max(each[0], abs(each[1])))
    unit = before.unit
    if abs(wider) > way:
        text = (f"the radius of {name} becomes {'larger' if wider > 0.0 else 'smaller'} by "
                f"{length(abs(wider), unit, 3)} {unit}")
    else:
        text = f"{in_words(before, name)} moves {length(way, unit, 3)} {unit}"
    more = len(found) - 1
    return text if not more else f"{text}, {plural(more, 'more curve')} with it"


def travel(was: Curve, now: Curve) -> float:
    """Return how far the points of a curve move at most: ends of a line or arc, or a center."""
    if isinstance(was, Circle) and isinstance(now, Circle):
        return dist(was.center, now.center)
    if isinstance(was, Line | Arc) and isinstance(now, Line | Arc):
        return max(dist(was.start, now.start), dist(was.end, now.end))
    return 0.0


def growth(was: Curve, now: Curve) -> float:
    """Return by how much a radius grows; 0 for a line."""
    if isinstance(was, Arc | Circle) and isinstance(now, Arc | Circle):
        return now.radius - was.radius
    return 0.0


def _measured(part: Part, name: str) -> str:
    binding = part.bindings.get(name)
    if binding is None or KINDS[binding.kind].quantity is None or binding.drives:
        return ""
    try:
        amount = measure(part, binding)
    except SketcherError:
        return ""
    text = angle(amount) if KINDS[binding.kind].quantity == "angle" \
        else f"{length(amount, part.unit, 3)} {part.unit}"
    return f"{name} then measures {text}"


def ghosts(before: Part, after: Part) -> tuple[Ghost, ...]:
    """Return the curves of the whole part that would lie elsewhere, images included."""
    try:
        here = {(piece.id, piece.curve) for piece in whole(before)}
        there = whole(after)
    except SketcherError:  # an axis without length reflects nothing
        return ()
    reach = 10.0 * RELATIVE * part_size(before)
    at = dict(here)
    return tuple(
        Ghost(piece.curve, piece.role) for piece in there
        if piece.id not in at or max(travel(at[piece.id], piece.curve),
                                     abs(growth(at[piece.id], piece.curve))) > reach
    )
