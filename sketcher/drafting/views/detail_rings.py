"""Where a drawing gets detail views: around what would print too small to be read.

Letters leave out I, O and Q (ISO 128-3, ASME Y14.3; from memory). Every size here is on paper in mm
unless it says otherwise.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import dist, hypot, pi

from sketcher.drafting.features import components
from sketcher.drafting.measured import Measured, MeasuredLength, MeasuredRound
from sketcher.drafting.paper_scale import detail_scales, scale_value
from sketcher.drafting.paper_view import MM_PER, View
from sketcher.geometry.bounds import Box, bounds, boxes_meet
from sketcher.geometry.curves import XY, Arc, Circle, Line
from sketcher.part.value import Part
from sketcher.part.whole import Piece

SMALL = 1.5
"""What prints smaller is shown in a detail: three times the width of an outline."""
CROWDED = 15.0  # largest of what is shown again for the sake of its dimensions, in mm
JOINS = 3.0  # what prints smaller than this joins a detail that is near, in mm
LEGIBLE = 2.0  # what the smallest of a detail prints at least, in mm
ROUNDED = 0.5  # radius of a rounded corner that is still seen beside its leader, in mm
NEAR = 14.0  # what is nearer to each other than this shares a detail, in mm
FROM_EDGE = 10.0  # an edge nearer than this is shown with what is measured from it, in mm
AIR, SHARE = 8.0, 0.2  # around what a detail holds: in mm of the detail, and of its radius
LEAST_RING = 0.7  # smallest radius of a ring on the part, in mm
LARGEST, LEAST = 120.0, 24.0  # diameter of a detail, in mm
SAME = 0.01  # a length shorter than this is none
LETTERS = "ABCDEFGHJKLMNPRSTUVWXYZ"
SIDES = ("right", "left", "above", "below")


@dataclass(frozen=True, slots=True)
class Seed:
    """Something small: its box and size, what it is; whether it asks for a detail by itself."""

    box: Box
    size: float
    members: frozenset[str] = frozenset()
    asks: bool = True


@dataclass(frozen=True, slots=True)
class DetailRing:
    """A place that is shown again at a larger scale.

    Parameters
    ----------
    letter : str
    center : XY
        In the part's unit.
    radius : float
        In the part's unit.
    scale : float
        Of the detail, paper by part.
    members : frozenset of str
        Ids of the pieces and dimensions that it is for.
    side : str
        Side of the view on which a person wants it; empty where nobody has said it.
    """

    letter: str
    center: XY
    radius: float
    scale: float
    members: frozenset[str]
    side: str = ""

    def circle(self, view: View) -> Circle:
        """Return the ring on paper."""
        return Circle(view.point(self.center), view.factor * self.radius)


def rings_of(
    part: Part, view: View, pieces: Sequence[Piece], measures: Sequence[Measured],
    crowded: Iterable[str] = (),
) -> tuple[DetailRing, ...]:
    """Return the rings of a drawing, from left to right; without dimensions it has none.

    Parameters
    ----------
    part : Part
        `part.drawing.details` says what a person changed, by the id of a curve: ``"off"``, another
        ``"scale"`` (which asks for a detail of a curve that would have none), a ``"side"``.
    view : View
    pieces : sequence of Piece
        What the sheet shows.
    measures : sequence of Measured
        Its dimensions on this view.
    crowded : iterable of str
        Dimensions that found no room beside the view.
    """
    outline = [p for p in pieces if p.role == "outline"]
    settings = part.drawing.details
    off = {name for name, entry in settings.items() if entry.get("off")}
    apart = [_box(p, view) for p in outline if p.drawn and p.source in off]
    seeds = [seed for seed in (*_small(outline, view), *_asked(outline, view, settings),
                               *_narrow(part, measures, frozenset(crowded)))
             if off.isdisjoint(seed.members) and not any(boxes_meet(seed.box, b) for b in apart)]
    own, scales = view.factor / MM_PER[part.unit], detail_scales(part.drawing.practice)
    found = sorted((_ring(_with_edges(some, measures, own, scales), view, own, part)
                    for some in _clusters(seeds, NEAR, own, scales)), key=lambda ring: ring.center)
    return lettered(found, measures)


def lettered(
    rings: Iterable[DetailRing], measures: Iterable[Measured]
) -> tuple[DetailRing, ...]:
    """Return rings with letters in their order, none that already names an edge on the sheet."""
    taken = {one.wording.plain for one in measures}
    letters = (letter for letter in map(_letter, itertools.count()) if letter not in taken)
    return tuple(replace(ring, letter=letter)
                 for ring, letter in zip(rings, letters, strict=False))


def size_on_paper(piece: Piece, view: View) -> float:
    """Return how large a piece prints: a round by its diameter, if that is less than its length."""
    curve = piece.curve
    if isinstance(curve, Line):
        return view.factor * curve.length
    if isinstance(curve, Circle):
        return 2.0 * view.factor * curve.radius
    x0, y0, x1, y1 = bounds(curve)
    return view.factor * min(2.0 * curve.radius, hypot(x1 - x0, y1 - y0))


def _small(outline: Sequence[Piece], view: View) -> Iterator[Seed]:
    """Give what prints too small, of images only what belongs to the drawn one."""
    sizes = {p.id: size_on_paper(p, view) for p in outline}
    if all(size >= JOINS for size in sizes.values()):
        return
    for group in components(outline):
        for piece in group:
            if not piece.drawn or sizes[piece.id] >= JOINS:
                continue
            if _is_rounding(piece, group, sizes, view):
                continue
            box = _neighbours(piece, outline, view)
            size = sizes[piece.id]
            yield Seed(box, size, frozenset({piece.id}), size < SMALL)


def _is_rounding(
    piece: Piece, group: Sequence[Piece], sizes: Mapping[str, float], view: View
) -> bool:
    """Tell whether it rounds the corner of larger pieces: a leader to it says all there is."""
    curve = piece.curve
    if not isinstance(curve, Arc) or abs(curve.sweep) > pi - 0.01:
        return False
    ends = (curve.start, curve.end)
    beside = [p for p in group if p is not piece and not isinstance(p.curve, Circle)
              and any(dist(a, b) < 1e-6 * (1.0 + abs(a[0]) + abs(a[1]))
                      for a in ends for b in (p.curve.start, p.curve.end))]
    return view.factor * curve.radius >= ROUNDED and all(sizes[p.id] >= SMALL for p in beside)


def _neighbours(piece: Piece, outline: Sequence[Piece], view: View) -> Box:
    """Box of a piece with the nearest instances of its pattern, whose steps are to be seen."""
    some = [p for p in outline if p.source == piece.source and not p.image.mirrors]
    box = _box(piece, view)
    if len(some) == 1:
        return box
    middle = _middle(box)
    boxes = [_box(p, view) for p in some if p is not piece]
    nearest = min(dist(middle, _middle(b)) for b in boxes)
    return _around([box, *(b for b in boxes if dist(middle, _middle(b)) < 1.7 * nearest)])


def _asked(
    outline: Sequence[Piece], view: View, settings: Mapping[str, Mapping[str, object]]
) -> Iterator[Seed]:
    for piece in outline:
        entry = settings.get(piece.source, {}) if piece.drawn else {}
        if "scale" in entry:
            yield Seed(_box(piece, view), size_on_paper(piece, view), frozenset({piece.id}))


def _narrow(
    part: Part, measures: Sequence[Measured], crowded: frozenset[str]
) -> Iterator[Seed]:
    """Give lengths that print too short, and what stands around dimensions without room."""
    for one in measures:
        if isinstance(one, MeasuredLength):
            ux, uy = one.direction
            a, b = min(itertools.product(one.first, one.second), key=lambda pair: dist(*pair))
            size = abs((b[0] - a[0]) * ux + (b[1] - a[1]) * uy)
            box = _around([(*a, *a), (*b, *b)])
        elif isinstance(one, MeasuredRound):
            size, box = JOINS, bounds(one.curve)
        else:
            continue
        name = frozenset({one.id} & part.bindings.keys())
        if one.id in crowded and hypot(box[2] - box[0], box[3] - box[1]) < CROWDED:
            yield Seed(box, max(size, LEGIBLE), name)
        elif SAME < size < JOINS:
            yield Seed(box, size, name, size < SMALL)


def _clusters(
    seeds: Sequence[Seed], near: float, own: float, scales: Sequence[float]
) -> Iterator[list[Seed]]:
    """Give the seeds in groups that share a detail; a group that would be too large is parted."""
    rest = sorted(seeds, key=lambda seed: seed.asks)
    while rest and rest[-1].asks:
        group = [rest.pop()]
        grown = True
        while grown:
            around = _around([seed.box for seed in group])
            more = [seed for seed in rest if _apart(around, seed.box) < near]
            group += more
            rest = [seed for seed in rest if seed not in more]
            grown = bool(more)
        scale = _scale(group, own, scales) / own
        wide = 2.0 * scale * _radius(_around([seed.box for seed in group]), scale)
        if near > 0.5 and len(group) > 1 and wide > LARGEST:
            yield from _clusters(group, 0.5 * near, own, scales)
        else:
            yield group


def _with_edges(
    group: Sequence[Seed], measures: Sequence[Measured], own: float, scales: Sequence[float]
) -> list[Seed]:
    """Return a group with the edges near it that it is measured from, as far as there is room."""
    found, scale = list(group), _scale(group, own, scales) / own
    box = _around([seed.box for seed in group])
    for one in measures:
        if not isinstance(one, MeasuredLength):
            continue
        ux, uy = one.direction
        for own_side, other in ((one.first, one.second), (one.second, one.first)):
            for x, y in (at for at in own_side if _apart((*at, *at), box) < SAME):
                away = (other[0][0] - x) * ux + (other[0][1] - y) * uy
                foot = (x + away * ux, y + away * uy)
                grown = _around([*(seed.box for seed in found), (*foot, *foot)])
                if abs(away) < FROM_EDGE and 2.0 * scale * _radius(grown, scale) <= LARGEST:
                    found.append(Seed((*foot, *foot), JOINS, asks=False))
    return found


def _ring(group: Sequence[Seed], view: View, own: float, part: Part) -> DetailRing:
    box = _around([seed.box for seed in group])
    members = frozenset(itertools.chain.from_iterable(seed.members for seed in group))
    entries = [part.drawing.details[name] for name in sorted(members)
               if name in part.drawing.details]
    side = next((entry["side"] for entry in entries if "side" in entry), "")
    asked = next((entry["scale"] for entry in entries if "scale" in entry), None)
    scale = (_scale(group, own, detail_scales(part.drawing.practice)) if asked is None
             else scale_value(asked, "drawing.details"))
    return DetailRing("", view.back(_middle(box)), _radius(box, scale / own) / view.factor, scale,
                      members, side)


def _scale(group: Sequence[Seed], own: float, scales: Sequence[float]) -> float:
    """Return the smallest standard scale above that of the view at which all can be read.

    It is no larger than a ring that can still be seen on the part allows.
    """
    least = max(min(seed.size for seed in group), 1e-3)
    larger = [s for s in sorted(scales) if s > 1.01 * own]
    some = [s for s in larger if 2.0 * LEAST_RING * s <= LARGEST * own] or larger[:1] or [own]
    return next((s for s in some if s * least >= LEGIBLE * own), some[-1])


def _letter(number: int) -> str:
    more, own = divmod(number, len(LETTERS))
    return (_letter(more - 1) if more else "") + LETTERS[own]


def _box(piece: Piece, view: View) -> Box:
    return bounds(view.curve(piece.curve))


def _around(boxes: Sequence[Box]) -> Box:
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    return (min(x0), min(y0), max(x1), max(y1))


def _middle(box: Box) -> XY:
    return (0.5 * (box[0] + box[2]), 0.5 * (box[1] + box[3]))


def _radius(box: Box, grown: float) -> float:
    """Return the radius of a ring about a box; its detail is larger by a factor."""
    half = 0.5 * hypot(box[2] - box[0], box[3] - box[1])
    return max(half * (1.0 + SHARE) + AIR / grown, 0.5 * LEAST / grown, LEAST_RING)


def _apart(a: Box, b: Box) -> float:
    return hypot(max(a[0] - b[2], b[0] - a[2], 0.0), max(a[1] - b[3], b[1] - a[3], 0.0))
