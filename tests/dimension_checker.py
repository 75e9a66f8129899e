"""Judges a drawing by what is on it: strokes, lettering, outline and center lines as drawn.

Nothing here knows how dimensions are placed. A fault is counted, not weighed. The rules are those
of the drawing board (ASME Y14.5M-1994, 1.7: dimension lines are not crossed, extension lines begin
at the feature; ISO 129-1 from memory: lettering stands clear of every line).
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, fields

import numpy as np

from sketcher.geometry.curves import Circle, Curve, Line
from tests.sheet_marks.plane import boxes_overlap
from tests.sheet_marks.plane import inside as inside_of

XY = tuple[float, float]
OWN_LINES = ("dimension", "leader")
TOUCH = 0.15  # share of the letters' height: what comes nearer than this lies on something


@dataclass(frozen=True)
class Seen:
    """One stroke: its kind, the dimension that it belongs to, places along it (n, 2)."""

    kind: str
    owner: str
    at: np.ndarray
    curve: Curve

    @property
    def pieces(self) -> np.ndarray:
        return np.hstack([self.at[:-1], self.at[1:]])

    @property
    def straight(self) -> bool:
        return isinstance(self.curve, Line)


@dataclass
class Drawing:
    """Everything on one drawing; lengths in letters of height `tall`."""

    tall: float
    strokes: list[Seen] = field(default_factory=list)
    texts: list[tuple[str, np.ndarray]] = field(default_factory=list)

    def add(self, kind: str, owner: str, curve: Curve) -> None:
        self.strokes.append(Seen(kind, owner, along(curve), curve))

    def of(self, *kinds: str) -> list[Seen]:
        return [s for s in self.strokes if s.kind in kinds]


@dataclass
class Faults:
    """How often each thing is found."""

    text_on_line: int = 0
    text_on_outline: int = 0
    text_on_text: int = 0
    through_holes: int = 0
    through_holes_with_room: int = 0
    over_centers: int = 0
    over_plus: int = 0
    in_the_air: int = 0
    crossings: int = 0
    dimension_over_outline: int = 0
    extension_over_outline: int = 0

    def __add__(self, other: Faults) -> Faults:
        return Faults(*(getattr(self, f.name) + getattr(other, f.name) for f in fields(self)))


def along(curve: Curve) -> np.ndarray:
    """Places along a curve, arcs in steps of at most 4 degrees."""
    if isinstance(curve, Line):
        return np.array([curve.start, curve.end], float)
    start, sweep = ((0.0, math.tau) if isinstance(curve, Circle)
                    else (curve.start_angle, curve.sweep))
    turn = start + sweep * np.linspace(0.0, 1.0, max(2, math.ceil(abs(sweep) / 0.07) + 1))
    return np.array(curve.center) + curve.radius * np.stack([np.cos(turn), np.sin(turn)], axis=1)


def faults(drawing: Drawing) -> Faults:
    """Count everything on one drawing."""
    found = Faults()
    outline = drawing.of("outline")
    inside = contours_inside(outline)
    for owner, box in drawing.texts:
        tight = shrunk(box, TOUCH * drawing.tall)
        for stroke in drawing.strokes:
            if stroke.owner == owner and stroke.kind in OWN_LINES:
                continue
            if cuts(tight, stroke.pieces):
                found.text_on_line += 1
                found.text_on_outline += stroke.kind == "outline"
    for n, (owner, box) in enumerate(drawing.texts):
        for other, its in drawing.texts[:n]:
            if owner != other and boxes_overlap(shrunk(box, 0.1 * drawing.tall),
                                                shrunk(its, 0.1 * drawing.tall)):
                found.text_on_text += 1
    marks = plus_marks(drawing.of("center"))
    own = drawing.of("dimension", "extension", "leader")
    edges = np.concatenate([s.pieces for s in outline]) if outline else np.zeros((0, 4))
    for stroke in own:
        found.over_centers += any(lies_along(stroke, c, drawing.tall)
                                  for c in drawing.of("center") if c.straight)
        found.over_plus += sum(covers(stroke, mark) for mark in marks)
        if stroke.kind == "dimension":
            found.dimension_over_outline += int(crossed(stroke.pieces, edges).any())
        elif stroke.kind == "extension":
            found.extension_over_outline += int(crossed(stroke.pieces, edges).any())
            found.in_the_air += in_the_air(stroke, drawing)
    for n, one in enumerate(own):
        for other in own[:n]:
            if one.owner != other.owner and {one.kind, other.kind} != {"extension"}:
                found.crossings += int(crossed(one.pieces, other.pieces).any()
                                       and not share_a_side(one, other, own))
    for owner in {s.owner for s in own}:
        mine = [s for s in own if s.owner == owner]
        through = sum(passes(s, hole, mine) for s in mine for hole in inside)
        found.through_holes += through
        if through and has_room(drawing, owner, mine, inside):
            found.through_holes_with_room += through
    return found


def share_a_side(one: Seen, other: Seen, own: Sequence[Seen]) -> bool:
    """Whether an extension line lies on one of the crossed dimension: both from one corner."""
    dim, ext = (one, other) if other.kind == "extension" else (other, one)
    if ext.kind != "extension" or dim.kind != "dimension" or not ext.straight:
        return False
    a, b = ext.at
    way = (b - a) / max(float(np.linalg.norm(b - a)), 1e-9)
    return any(float(np.abs((s.at - a) @ np.array([-way[1], way[0]])).max()) < 0.05
               for s in own if s.owner == dim.owner and s.kind == "extension")


def contours_inside(outline: Sequence[Seen]) -> list[np.ndarray]:
    """Closed contours (n, 2) that lie within the box of a larger one."""
    chains: list[list[np.ndarray]] = []
    left = [s.at for s in outline]
    while left:
        chain = [left.pop()]
        grown = True
        while grown and math.dist(chain[0][0], chain[-1][-1]) > 1e-4:
            grown = False
            for k, other in enumerate(left):
                end = chain[-1][-1]
                if math.dist(end, other[0]) < 1e-4 or math.dist(end, other[-1]) < 1e-4:
                    turned = other if math.dist(end, other[0]) < 1e-4 else other[::-1]
                    chain.append(turned)
                    del left[k]
                    grown = True
                    break
        chains.append(chain)
    loops = [np.concatenate(c) for c in chains if math.dist(c[0][0], c[-1][-1]) < 1e-4]
    boxes = [(*loop.min(axis=0), *loop.max(axis=0)) for loop in loops]
    return [loop for loop, (a, b, c, d) in zip(loops, boxes, strict=True)
            if any(e < a and f < b and g > c and h > d for e, f, g, h in boxes)]


def passes(stroke: Seen, hole: np.ndarray, mine: Sequence[Seen]) -> bool:
    """Whether a stroke runs through a hole that its dimension does not measure.

    Its own is a hole whose edge the dimension touches with a tip, or whose middle it starts from.
    """
    low, high = hole.min(axis=0), hole.max(axis=0)
    points = dense(stroke.at, 0.3)
    within = points[((points > low) & (points < high)).all(axis=1)]
    if not len(within):
        return False
    middle, deep = 0.5 * (low + high), inside_of(hole, within)
    if deep.sum() < 3:
        return False
    tips = np.concatenate([s.at[[0, -1]] for s in mine])
    edge = np.concatenate([np.hstack([hole[:-1], hole[1:]])])
    if stroke.kind == "extension" or stroke.kind == "dimension":
        a, b = stroke.at[0], stroke.at[-1]
        way = (b - a) / max(float(np.linalg.norm(b - a)), 1e-9)
        off = middle - a
        if stroke.straight and abs(off[0] * way[1] - off[1] * way[0]) < 0.05:
            return False  # along its middle: where a center line runs
    touching = any(distance(edge, tip) < 0.05 for tip in tips)
    return not touching


def has_room(
    drawing: Drawing, owner: str, mine: Sequence[Seen], inside: Sequence[np.ndarray]
) -> bool:
    """Whether, all else as drawn, the dimension could stand outside without a hole in its way.

    A leader is tried in 48 directions and 8 lengths; the extension lines of a length are tried to
    the other side of the part. Angles are taken as they are.
    """
    if any(s.kind == "leader" for s in mine):
        return leader_room(drawing, owner, mine, inside)
    extensions = [s for s in mine if s.kind == "extension" and s.straight]
    lines = [s for s in mine if s.kind == "dimension"]
    if len(extensions) != 2 or not all(s.straight for s in lines):
        return False
    every = np.concatenate([s.at for s in drawing.of("outline")])
    for s in extensions:
        a, b = s.at
        way = (a - b) / max(float(np.linalg.norm(a - b)), 1e-9)
        far = float(((every - a) @ way).max()) + 5.0
        if far < 6.0:
            return False
        path = np.array([a + 3.0 * way, a + far * way])
        other = Seen("extension", owner, path, Line(tuple(path[0]), tuple(path[1])))
        if any(passes(other, hole, [other]) for hole in inside):
            return False
    return True


def leader_room(
    drawing: Drawing, owner: str, mine: Sequence[Seen], inside: Sequence[np.ndarray]
) -> bool:
    leader = next(s for s in mine if s.kind == "leader")
    tips = [s.at[0] for s in mine if s.kind == "leader"]
    box = next(b for o, b in drawing.texts if o == owner)
    wide = float(np.linalg.norm(box[1] - box[0]))
    rounds = [s.curve for s in drawing.of("outline") if isinstance(s.curve, Circle)
              and any(abs(math.dist(s.curve.center, t) - s.curve.radius) < 0.05 for t in tips)]
    if not rounds:
        return False
    hole = rounds[0]
    others = [s for s in drawing.strokes if s.owner != owner]
    pieces = np.concatenate([s.pieces for s in others])
    written = [b for o, b in drawing.texts if o != owner]
    own = np.concatenate([s.pieces for s in others if s.curve is not hole
                          and s.kind in ("dimension", "extension", "leader")] or [np.zeros((0, 4))])
    for turn in np.arange(48) * math.tau / 48:
        if min(abs(math.cos(turn)), abs(math.sin(turn))) < 0.2:
            continue
        e = np.array([math.cos(turn), math.sin(turn)])
        tip = np.array(hole.center) + hole.radius * e
        side = 1.0 if e[0] >= 0 else -1.0
        for length in (2.0, 3.0, 5.0, 7.0, 10.0, 14.0, 20.0, 28.0):
            knee = tip + length * drawing.tall * e
            end = knee + np.array([side * drawing.tall, 0.0])
            way = Seen("leader", owner, np.array([tip, knee, end]), leader.curve)
            start = end + np.array([0.3 * side * drawing.tall - (wide if side < 0 else 0.0),
                                    -0.5 * drawing.tall])
            text = start + np.array([(0, 0), (wide, 0), (wide, drawing.tall), (0, drawing.tall)])
            roomy = shrunk(text, -0.3 * drawing.tall)
            if (cuts(roomy, pieces) or any(boxes_overlap(roomy, w) for w in written)
                    or crossed(way.pieces, own).any()
                    or any(cuts(w, way.pieces) for w in written)
                    or any(passes(way, h, [way]) for h in inside)):
                continue
            return True
    return False


def in_the_air(stroke: Seen, drawing: Drawing) -> bool:
    """Whether neither end of an extension line has a line of the part just before it."""
    if not stroke.straight:
        return False
    a, b = stroke.at
    size = float(np.linalg.norm(b - a))
    if size < 1e-6:
        return False
    way = (b - a) / size
    reach = 0.75 * drawing.tall  # the gap, and half a letter more
    walls = [s for s in drawing.strokes if s.kind in ("outline", "center", "layout")]
    for end, out in ((a, -way), (b, way)):
        probe = np.array([[*(end - 0.2 * out), *(end + reach * out)]])
        for wall in walls:
            near = np.abs(np.concatenate([wall.at - end])).min() < 1e9
            if near and (crossed(probe, wall.pieces).any()
                         or distance(wall.pieces, end + 0.5 * reach * out) < 0.55 * reach):
                return False
        # A lost corner: two thin lines that carry its edges on cross there.
        if sum(distance(s.pieces, end) < 0.1 for s in drawing.of("extension")) > 2:
            return False
    return True


def plus_marks(centers: Sequence[Seen]) -> list[tuple[np.ndarray, float]]:
    """Places where the middles of two short square dashes meet, with half their length."""
    straight = [s for s in centers if s.straight]
    middles = np.array([s.at.mean(axis=0) for s in straight]).reshape(-1, 2)
    found = []
    for n, one in enumerate(straight):
        for k in np.flatnonzero(np.hypot(*(middles[:n] - middles[n]).T) < 0.02):
            a, b = one.at[1] - one.at[0], straight[k].at[1] - straight[k].at[0]
            if abs(float(a @ b)) < 0.05 * float(np.linalg.norm(a) * np.linalg.norm(b)):
                half = 0.5 * float(min(np.linalg.norm(a), np.linalg.norm(b)))
                found.append((middles[n], half))
    return found


def covers(stroke: Seen, mark: tuple[np.ndarray, float]) -> bool:
    at, half = mark
    tips = stroke.at[[0, -1]]
    return (distance(stroke.pieces, at) < 0.8 * half
            and float(np.hypot(*(tips - at).T).min()) > 1e-6)


def lies_along(stroke: Seen, other: Seen, tall: float) -> bool:
    """Whether a straight stroke runs on a straight dash for more than a third of a letter."""
    if not stroke.straight:
        return False
    a, b = stroke.at[0], stroke.at[-1]
    size = float(np.linalg.norm(b - a))
    if size < 1e-6:
        return False
    way = (b - a) / size
    off = other.at - a
    across = np.abs(off[:, 0] * way[1] - off[:, 1] * way[0])
    s = np.sort(off @ way)
    return bool(across.max() < 0.1 and min(s[1], size) - max(s[0], 0.0) > tall / 3.0)


def shrunk(box: np.ndarray, by: float) -> np.ndarray:
    """The corners drawn in on all sides (out where negative)."""
    middle = box.mean(axis=0)
    u, v = box[1] - box[0], box[3] - box[0]
    lu, lv = float(np.linalg.norm(u)), float(np.linalg.norm(v))
    hu = 0.5 * u / lu * max(lu - 2.0 * by, 0.02)
    hv = 0.5 * v / lv * max(lv - 2.0 * by, 0.02)
    return np.array([middle - hu - hv, middle + hu - hv, middle + hu + hv, middle - hu + hv])


def cuts(box: np.ndarray, pieces: np.ndarray) -> bool:
    """Whether a straight piece comes into a box."""
    if not len(pieces):
        return False
    origin, u, v = box[0], box[1] - box[0], box[3] - box[0]
    low, high = np.zeros(len(pieces)), np.ones(len(pieces))
    a, d = pieces[:, :2] - origin, pieces[:, 2:] - pieces[:, :2]
    open_ = np.ones(len(pieces), bool)
    for w in (u, v):
        size = float(w @ w)
        start, step = a @ w / size, d @ w / size
        with np.errstate(divide="ignore", invalid="ignore"):
            t0, t1 = -start / step, (1.0 - start) / step
        still = np.abs(step) < 1e-12
        open_ &= ~still | ((start > 0.0) & (start < 1.0))
        low = np.maximum(low, np.where(still, 0.0, np.minimum(t0, t1)))
        high = np.minimum(high, np.where(still, 1.0, np.maximum(t0, t1)))
    return bool((open_ & (low < high)).any())


def crossed(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """Which pieces properly cross, ends drawn in by 0.3; shape (len(a), len(b))."""
    if not len(a) or not len(b):
        return np.zeros((len(a), len(b)), bool)
    if len(a) == 1 or len(a) == 2:
        a = drawn_in(a)

    def side(p: np.ndarray, q: np.ndarray) -> np.ndarray:
        d = p[:, None, 2:] - p[:, None, :2]
        e = q[None] - p[:, None, :2]
        return d[..., 0] * e[..., 1] - d[..., 1] * e[..., 0]

    return ((side(a, b[:, :2]) * side(a, b[:, 2:]) < 0.0)
            & (side(b, a[:, :2]) * side(b, a[:, 2:]) < 0.0).T)


def drawn_in(pieces: np.ndarray) -> np.ndarray:
    d = pieces[:, 2:] - pieces[:, :2]
    size = np.linalg.norm(d, axis=1, keepdims=True)
    cut = d / np.maximum(size, 1e-12) * np.minimum(0.3, 0.4 * size)
    return np.hstack([pieces[:, :2] + cut, pieces[:, 2:] - cut])


def distance(pieces: np.ndarray, at: np.ndarray) -> float:
    """Distance of a place from straight pieces."""
    d = pieces[:, 2:] - pieces[:, :2]
    t = ((at - pieces[:, :2]) * d).sum(axis=1) / np.maximum((d * d).sum(axis=1), 1e-18)
    near = pieces[:, :2] + np.clip(t, 0.0, 1.0)[:, None] * d
    return float(np.hypot(*(near - at).T).min())


def dense(at: np.ndarray, step: float) -> np.ndarray:
    found = []
    for a, b in itertools.pairwise(at):
        count = max(2, math.ceil(float(np.linalg.norm(b - a)) / step) + 1)
        found.append(a + np.linspace(0.0, 1.0, count)[:, None] * (b - a))
    return np.concatenate(found)


# What is drawn on paper and on the screen.

def of_page(page: object) -> Drawing:
    """A page of the sheet; only the view counts, not frame and notes."""
    from sketcher.drafting.primitives import Stroke, Text

    items = [*page.items, *(i for d in page.dimensions for i in d.items)]
    sizes = [i.height for d in page.dimensions for i in d.items if isinstance(i, Text)]
    drawing = Drawing(max(sizes, default=3.5))
    for item in items:
        head, _, name = item.source.partition(":")
        if isinstance(item, Stroke) and head in ("curve", "center", "axis", "dimension"):
            kind = {"visible": "outline", "phantom": "center", "symmetry": "center"}.get(
                item.line, item.line)
            for dash in item.dashes():
                drawing.add(kind, name if head == "dimension" else "", dash)
        elif isinstance(item, Text) and head in ("dimension", "hole"):
            drawing.texts.append((name, np.array(item.box(0.0))))
    return drawing


def of_desk(
    pieces: Iterable[tuple[str, Curve]], dims: Iterable[object], px: float, size: float
) -> Drawing:
    """The screen: `pieces` are (kind, curve) of the part; all in the part's unit, shown in pixels.

    Letters are as wide as the font's metrics say; their capitals are 0.66 of the size.
    """
    from sketcher.drafting.lettering import text_width
    from sketcher.drafting.paper_view import View

    view = View(1.0 / px)
    drawing = Drawing(0.66 * size)
    for kind, curve in pieces:
        drawing.add(kind, "", view.curve(curve))
    for dim in dims:
        for curve in dim.extensions:
            drawing.add("extension", dim.binding, view.curve(curve))
        for curve in dim.curves:
            drawing.add("dimension", dim.binding, view.curve(curve))
        wide, tall = text_width(dim.text, 0.66 * size), 0.66 * size
        u = np.array([math.cos(dim.turn), math.sin(dim.turn)])
        v = np.array([-u[1], u[0]])
        at = np.array(view.point(dim.anchor))
        a, b = 0.5 * wide * u, 0.5 * tall * v
        drawing.texts.append((dim.binding, np.array([at - a - b, at + a - b, at + a + b,
                                                     at - a + b])))
    return drawing


def told(found: Faults) -> str:
    """The counts on one line."""
    return "  ".join(f"{f.name}={getattr(found, f.name)}" for f in fields(found))
