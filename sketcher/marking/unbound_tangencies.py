"""Joints of a part file that are tangent by numbers alone."""

from __future__ import annotations

from collections.abc import Sequence
from math import dist

import numpy as np

from sketcher.geometry.curves import XY, Circle, Curve
from sketcher.geometry.evaluate import tangent_at
from sketcher.inspect.joints import Joint, joints_of
from sketcher.marking.dimension_feet import PlacedKey
from sketcher.marking.key_motions import KeyMotions
from sketcher.part.image_id import read_image_id
from sketcher.part.part_size import part_size
from sketcher.part.value import Binding, LineCurve, Part, new_id
from sketcher.part.whole import whole

TURNS = 1e-3
"""Radians by which a joint opens when the part moves by its own size: less is rounding."""
MEETS = 1e-9
"""Of the size, within which two ends are one place."""

_last: tuple[Part, float, list[list[Joint]]] | None = None  # two rules ask in a row


def unbound_tangencies(part: Part, within: float) -> list[list[Joint]]:
    """Return the joints that are smooth within an angle and that no binding keeps so.

    What bindings without a value make tangent (a middle, a reflection, level over plumb) is kept.

    Parameters
    ----------
    part : Part
        Solved.
    within : float
        Degrees.

    Returns
    -------
    list of lists of Joint
        Those of one pair of drawn curves, with their images, together.
    """
    global _last
    last = _last
    if last is None or last[0] is not part or last[1] != within:
        last = _last = (part, within, _unbound(part, float(np.radians(within))))
    return last[2]


def _unbound(part: Part, within: float) -> list[list[Joint]]:
    size = part_size(part)
    joints: dict[frozenset[str], list[Joint]] = {}
    for joint in joints_of(part, whole(part), MEETS * size, size):
        sources = frozenset(read_image_id(name).source for name in joint.between)
        straight = all(isinstance(part.curves[name], LineCurve) for name in sources)
        if not (joint.bound or joint.gap > MEETS * size or joint.angle > within or straight):
            joints.setdefault(sources, []).append(joint)
    if not joints:
        return []
    motions = KeyMotions(part)
    return [those for those in joints.values() if _opens(motions, those[0]) > TURNS / size]


def _opens(motions: KeyMotions, joint: Joint) -> float:
    """Return how fast a joint opens as the part moves, in radians by a length."""
    def turn(key: PlacedKey) -> float | None:
        curves = [key.curves.get(name) for name in joint.between]
        if curves[0] is None or curves[1] is None:
            return None
        (ax, ay), (bx, by) = (_tangent(curve, joint.at) for curve in curves if curve is not None)
        return ax * by - ay * bx

    return float(np.abs(motions.row(turn)).max(initial=0.0))


def _tangent(curve: Curve, at: XY) -> XY:
    if isinstance(curve, Circle):
        return (0.0, 0.0)
    return tangent_at(curve, 0.0 if dist(curve.start, at) < dist(curve.end, at) else 1.0)


def with_tangencies(part: Part, joints: Sequence[Sequence[Joint]]) -> Part:
    """Return a part with some of its smooth joints bound tangent."""
    bindings = dict(part.bindings)
    for those in joints:
        images = [read_image_id(name) for name in those[0].between]
        if images[0].same_image(images[1]):
            bindings[new_id(bindings, "b")] = Binding(
                "tangent", (images[0].source, images[1].source))
    return part.having(bindings=bindings)
