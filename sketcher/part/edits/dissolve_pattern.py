"""Turn the instances of a pattern into curves of their own."""

from __future__ import annotations

from collections.abc import Mapping

from sketcher.errors import EditError
from sketcher.geometry.bounds import RELATIVE
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.instances import InstancePlace, places
from sketcher.part.part_size import part_size
from sketcher.part.shift import clone
from sketcher.part.splice import finished, follow_groups, tie
from sketcher.part.value import CircleCurve, GridPattern, Part, Pattern
from sketcher.quantity.format import exact


def dissolve_pattern(part: Part, name: str) -> Edited:
    """Turn every instance of a pattern into curves of its own.

    Circles stay equal to the drawn one. In a grid their centers are bound to the drawn one by run
    and rise; around a point each stands on a layout line of its own, at its angle from the first.
    The dimensions are what the pattern's expressions came to. Lines and arcs are left loose.

    Parameters
    ----------
    part : Part
        The part.
    name : str
        Id of the pattern.

    Returns
    -------
    Edited
        `made` holds the new curves.

    Raises
    ------
    EditError
        When there is no such pattern.
    QuantityError
        When one of its expressions cannot be evaluated.
    """
    if name not in part.patterns:
        raise EditError(name, "no pattern with this id", "choose a pattern")
    pattern = part.patterns[name]
    draft = Draft(part)
    spots = places(part, name)
    draft.remove(name)
    made: list[str] = []
    spokes: dict[str, str] = {}
    for place in spots:
        copies = clone(draft, pattern.curves, place.point, shared=_unmoved(part, pattern, place))
        bound: set[str] = set()
        for source in pattern.curves:
            made.append(copies[source])
            follow_groups(draft, copies[source], source)
            if isinstance(draft.curves[source], CircleCurve):
                _bind_circle(draft, source, copies, pattern, place, spokes, bound)
    return finished(draft, f"{name} is {len(made)} curves of their own", *made)


def _unmoved(part: Part, pattern: Pattern, place: InstancePlace) -> list[str]:
    """Points of the pattern's curves that an instance shares with the drawn ones."""
    tolerance = RELATIVE * part_size(part)
    points = {p for curve in pattern.curves for p in part.curves[curve].points}
    found = []
    for point in points:
        (x, y), (u, v) = part.points[point], place.point(part.points[point])
        if abs(x - u) <= tolerance and abs(y - v) <= tolerance:
            found.append(point)
    return found


def _bind_circle(
    draft: Draft,
    source: str,
    copies: Mapping[str, str],
    pattern: Pattern,
    place: InstancePlace,
    spokes: dict[str, str],
    bound: set[str],
) -> None:
    tie(draft, "equal", (source, copies[source]))
    center = draft.curves[source].points[0]
    image = copies[center]
    if image == center or image in bound:
        return
    bound.add(image)
    if isinstance(pattern, GridPattern):
        _bind_step(draft, center, image)
        return
    spoke = spokes.get(center)
    if spoke is None:
        spoke = spokes[center] = draft.line(pattern.center, center, "layout")
    other = draft.line(pattern.center, image, "layout")
    tie(draft, "equal", (spoke, other))
    turn = abs(place.degrees) % 360.0
    # From 180 degrees on the other way round is the angle that a drawing would print.
    tie(draft, "angle", (spoke, other), exact(min(turn, 360.0 - turn)))


def _bind_step(draft: Draft, center: str, image: str) -> None:
    (x0, y0), (x1, y1) = draft.points[center], draft.points[image]
    size = abs(x1 - x0) + abs(y1 - y0)
    for kind, without, step in (("run", "plumb", x1 - x0), ("rise", "level", y1 - y0)):
        if abs(step) <= 1e-12 * size:
            tie(draft, without, (center, image))
        else:
            tie(draft, kind, (center, image), exact(abs(step)))
