"""Features off their place: which of them are mistakes, and which only follow from those.

A fillet between edges of which one is off is off too, and still tangent to both with its own
radius; a slot moved as a whole has four features off. Each is one mistake.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from math import degrees, dist, hypot, pi, radians

from sketcher.geometry.curves import XY, Arc, Circle, Line
from sketcher.geometry.evaluate import midpoint, turn
from sketcher.geometry.project import signed_distance
from sketcher.interrupt import check
from sketcher.marking.carrier_spans import leaves
from sketcher.marking.drawn_edges import DrawnEdge
from sketcher.marking.edge_joints import EdgeJoint, broken_tangency, joint_loops
from sketcher.marking.key_shape import KeyShape
from sketcher.marking.outline_features import Feature
from sketcher.marking.rigid_move import RigidMove, rigid_move, shift_alone
from sketcher.marking.slip import Slip
from sketcher.part.whole import middle

HUB = radians(170.0)
"""An arc that goes so far round is a rounded end about a center of its own, no fillet (common
practice, no source)."""
NOISE = 4.0
"""Two carriers within tolerance break a tangency by no more than so many tolerances over the
radius: each may be off by one, and turned by as much over the radius."""


class OffFeatures:
    """What is off its place in a hand-in.

    Parameters
    ----------
    shape : KeyShape
        Gives images and bindings.
    key : sequence of Feature
        What was to be drawn.
    edges : mapping of int to DrawnEdge
    joints : sequence of EdgeJoint
    within, within_angle : float
        Tolerance in the key's unit, and in degrees.
    """

    def __init__(
        self, shape: KeyShape, key: Sequence[Feature], edges: Mapping[int, DrawnEdge],
        joints: Sequence[EdgeJoint], within: float, within_angle: float,
    ) -> None:
        self.shape, self.key, self.edges, self.joints = shape, key, edges, joints
        self.within, self.within_angle = within, within_angle
        self._at: dict[int, list[EdgeJoint]] = {i: [] for i in range(len(key))}
        for joint in joints:
            self._at[joint.a].append(joint)
            self._at[joint.b].append(joint)

    def slips(self) -> list[Slip]:
        """Return one slip for each mistake; those that share source and amount are one."""
        off = {i for i, edge in self.edges.items() if edge.off}
        found: list[Slip] = []
        for i in sorted(off):
            if self._bulges(i):
                found.append(self._slip("wrong-branch", i, word="bulge"))
                off.discard(i)
        for loop in self._loops():
            moved = self._moved(loop, off)
            if moved is not None:
                found.append(moved)
                off -= loop
        for i in sorted(self._roots(off)):
            check()
            found += self._judged(i, off)
        return self._gathered(found)

    def _slip(self, rule: str, i: int, amount: float = 0.0, away: XY = (0.0, 0.0),
              word: str = "") -> Slip:
        edge = self.edges[i]
        return Slip(rule, middle(edge.curve), (i,), edge.hand, (), amount, away, word)

    def _bulges(self, i: int) -> bool:
        """Whether an arc has its ends and radius, and lies on the other side of its chord."""
        mine, theirs = self.key[i].curve, self.edges[i].curve
        if not isinstance(mine, Arc) or not isinstance(theirs, Arc) or abs(
                mine.radius - theirs.radius) > self.within:
            return False
        # both run counter-clockwise: bulging the other way the ends are exchanged
        return dist(mine.start, theirs.end) <= self.within and dist(
            mine.end, theirs.start) <= self.within

    # Several that moved as one.

    def _loops(self) -> Iterator[set[int]]:
        """Yield what hangs together in the key, and was drawn."""
        drawn = [self.edges.keys() & loop for loop in joint_loops(len(self.key), self.joints)]
        yield from sorted(filter(None, drawn), key=min)

    def _moved(self, loop: set[int], off: set[int]) -> Slip | None:
        """Return the slip of a loop that lies elsewhere as a whole."""
        if len(loop & off) < 2:
            return None
        pairs = [(self.key[i].curve, self.edges[i].curve) for i in sorted(loop)]
        tried = (shift_alone(pairs), rigid_move(pairs, self.within))
        for move in tried:
            if move is not None and all(
                    leaves(move.curve(mine), theirs) <= 2.0 * self.within
                    for mine, theirs in pairs):
                return self._loop_slip(loop, move)
        return None

    def _loop_slip(self, loop: set[int], move: RigidMove) -> Slip:
        keys = tuple(sorted(loop))
        hand = tuple(j for i in keys for j in self.edges[i].hand)
        places = [middle(self.key[i].curve) for i in keys]
        x, y = (sum(each) / len(places) for each in zip(*places, strict=True))
        at = move.point((x, y))
        if abs(move.degrees) > self.within_angle:
            return Slip("wrong-angle", at, keys, hand, (), move.degrees, word="loop")
        away = (at[0] - x, at[1] - y)
        return Slip("misplaced", at, keys, hand, (), hypot(*away), away, "loop")

    # What only follows.

    def _roots(self, off: set[int]) -> set[int]:
        """Return the features that are off by themselves."""
        left, found = set(off), set()
        while left:
            root = min(left, key=self._held)
            found.add(root)
            left.discard(root)
            todo = [root]
            while todo:
                k = todo.pop()
                for joint in self._at[k]:
                    other = joint.other(k)
                    if other in left and joint.smooth and self._follows(other):
                        left.discard(other)
                        todo.append(other)
        return found

    def _held(self, i: int) -> tuple[float, int]:
        """How much of a feature its tangent neighbours leave open: a mistake stands where most."""
        smooth = sum(self._tangent(joint) for joint in self._at[i] if joint.smooth)
        curve = self.key[i].curve
        if isinstance(curve, Line):
            return (float(smooth), i)
        size = abs(self._size(i)) <= self.within
        hub = isinstance(curve, Arc) and abs(curve.sweep) >= HUB
        return (smooth * size - 0.5 * hub, i)

    def _follows(self, i: int) -> bool:
        """Whether a feature is what its tangent neighbours make of it."""
        smooth = [joint for joint in self._at[i] if joint.smooth]
        if not smooth or not all(self._tangent(joint) for joint in smooth):
            return False
        if isinstance(self.key[i].curve, Line):
            return len(smooth) == 2 or self._tilt(i) <= self.within_angle
        return len(smooth) == 2 and abs(self._size(i)) <= self.within

    def _tangent(self, joint: EdgeJoint) -> bool:
        """Whether a joint that the key has smooth was drawn so."""
        if joint.a not in self.edges or joint.b not in self.edges:
            return False
        radii = [c.radius for c in (self.edges[k].curve for k in (joint.a, joint.b))
                 if not isinstance(c, Line)]
        slack = max(radians(self.within_angle), NOISE * self.within / min(radii, default=1.0))
        return broken_tangency(joint, self.edges) <= slack

    def _size(self, i: int) -> float:
        """Radius drawn less radius wanted; 0 for a line."""
        mine, theirs = self.key[i].curve, self.edges[i].curve
        if isinstance(mine, Line) or isinstance(theirs, Line):
            return 0.0
        return theirs.radius - mine.radius

    def _tilt(self, i: int) -> float:
        """Degrees by which a line is turned; 0 for a round."""
        mine, theirs = self.key[i].curve, self.edges[i].curve
        if not isinstance(mine, Line) or not isinstance(theirs, Line):
            return 0.0
        angle = abs(turn(mine.direction, theirs.direction))
        return degrees(min(angle, pi - angle))

    # What is wrong with one.

    def _judged(self, i: int, off: set[int]) -> list[Slip]:
        mine, theirs = self.key[i].curve, self.edges[i].curve
        loose = any(joint.smooth and joint.other(i) not in off and joint.other(i) in self.edges
                    and not self._tangent(joint) for joint in self._at[i])
        if isinstance(mine, Line) or isinstance(theirs, Line):
            return [self._line(i, loose)]
        away = (theirs.center[0] - mine.center[0], theirs.center[1] - mine.center[1])
        found = []
        if abs(self._size(i)) > self.within:
            found.append(self._slip("wrong-size", i, theirs.radius))
            if not isinstance(mine, Circle):
                return found  # its center goes with its radius
        if hypot(*away) > self.within:
            rule = "not-tangent" if loose and not self._about(i) else "misplaced"
            found.append(self._slip(rule, i, hypot(*away), away))
        if not found:  # size and place each within tolerance
            found.append(self._slip("misplaced", i, self.edges[i].off, away))
        return found

    def _line(self, i: int, loose: bool) -> Slip:
        mine, theirs = self.key[i].curve, self.edges[i].curve
        assert isinstance(mine, Line)
        assert isinstance(theirs, Line)
        if self._tilt(i) > self.within_angle:
            if loose and not self._directed(i):
                return self._slip("not-tangent", i, self._tilt(i))
            return self._slip("wrong-angle", i, degrees(turn(mine.direction, theirs.direction)))
        x, y = mine.direction
        gap = signed_distance(mine, midpoint(theirs))
        return self._slip("misplaced", i, abs(gap), (-y * gap, x * gap))

    def _about(self, i: int) -> bool:
        """Whether an arc has a center of its own: it goes far round, or is concentric."""
        curve = self.key[i].curve
        assert not isinstance(curve, Line)
        if isinstance(curve, Circle) or abs(curve.sweep) >= HUB:
            return True
        return any(k != i and not isinstance(other.curve, Line)
                   and dist(other.curve.center, curve.center) <= self.within
                   for k, other in enumerate(self.key))

    def _directed(self, i: int) -> bool:
        """Whether the key says which way a line goes, not only what it touches."""
        sources = self.shape.sources_of(self.key[i])
        return any(b.drives and b.kind in ("level", "plumb", "angle", "parallel", "square")
                   and sources.intersection(b.of) for b in self.shape.part.bindings.values())

    # What several share.

    def _gathered(self, slips: Sequence[Slip]) -> list[Slip]:
        """Return slips of one kind and amount at several images, or rounds, as one."""
        found: list[tuple[Slip, XY]] = []
        for slip in slips:
            own = self._in_half(slip)
            for k, (other, theirs) in enumerate(found):
                if self._same(slip, own, other, theirs):
                    found[k] = (replace(
                        other, keys=(*other.keys, *slip.keys), hand=(*other.hand, *slip.hand),
                        count=other.count + 1), theirs)
                    break
            else:
                found.append((slip, own))
        return [slip for slip, _ in found]

    def _in_half(self, slip: Slip) -> XY:
        """How far a slip moves its feature, as it would be in the drawn half."""
        matrix, _ = self.shape.affine(self.shape.pieces[self.key[slip.keys[0]].sources[0]].image)
        x, y = (matrix.T @ slip.away).tolist()
        return (x, y)

    def _same(self, slip: Slip, own: XY, other: Slip, theirs: XY) -> bool:
        if slip.rule != other.rule or slip.word != other.word:
            return False
        one, two = self.key[slip.keys[0]], self.key[other.keys[0]]
        near = 2.0 * self.within
        if slip.rule == "wrong-size":
            mine, his = one.curve, two.curve
            return (not isinstance(mine, Line) and not isinstance(his, Line)
                    and type(mine) is type(his) and abs(mine.radius - his.radius) <= self.within
                    and abs(slip.amount - other.amount) <= near)
        sources = [self.shape.sources_of(*(self.key[k] for k in each.keys))
                   for each in (slip, other)]
        images = bool(sources[0] & sources[1])
        if slip.rule == "misplaced":
            together = dist(slip.away, other.away) <= near and one.is_line == two.is_line and (
                not one.is_line)
            return together or (images and dist(own, theirs) <= near)
        return images and abs(abs(slip.amount) - abs(other.amount)) <= max(near, self.within_angle)
