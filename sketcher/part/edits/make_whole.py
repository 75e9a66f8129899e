"""Turn the reflection into curves of its own."""

from __future__ import annotations

from dataclasses import replace

from sketcher.errors import EditError
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.image import add_images
from sketcher.part.image_id import ImageId
from sketcher.part.mirror import reflector, taken
from sketcher.part.pattern_edits import reflected_pattern
from sketcher.part.splice import finished
from sketcher.part.value import Mirror, Part, PolarPattern
from sketcher.part.whole import whole


def make_whole(part: Part) -> Edited:
    """Turn the reflection into curves of its own, bound reflected about the axis.

    The axes stay as lines, the mirrors are gone. Patterns are reflected as patterns.

    Parameters
    ----------
    part : Part
        The part.

    Returns
    -------
    Edited
        `made` holds the new curves.

    Raises
    ------
    EditError
        When the half is not reflected, or only some instances of a pattern are images.
    """
    if not part.mirrors:
        raise EditError("mirror", "the half is not reflected", "choose an axis first")
    made: list[str] = []
    later = list(part.mirrors)
    now = part.having(mirrors=())
    draft = Draft(now)
    while later:
        mirror = later.pop(0)
        copies = _reflected(draft, draft.done(), mirror)
        made += [copies[name] for name in copies if copies[name] in draft.curves]
        later = [_with_images(m, copies) for m in later]
    said = f"the reflection is {len(made)} curves of its own"
    return finished(draft, said, *made)


def _with_images(mirror: Mirror, copies: dict[str, str]) -> Mirror:
    if mirror.curves == "outline":
        return mirror
    images = [copies[name] for name in mirror.curves if name in copies]
    return replace(mirror, curves=(*mirror.curves, *images))


def _reflected(draft: Draft, now: Part, mirror: Mirror) -> dict[str, str]:
    """Add the images about one axis; return the ids of curves and points by their sources."""
    reflection = reflector(now, mirror)
    pieces = whole(now.having(mirrors=(mirror,)))
    images = {piece.image for piece in pieces if piece.image.mirrors}
    sources = [name for name in now.curves if ImageId(name).reflected(0) in images]
    copies = dict(add_images(draft, sources, mirror.axis, reflection)) if sources else {}
    for name, pattern in now.patterns.items():
        if taken(now, mirror).isdisjoint(pattern.curves):
            continue
        theirs = any(image.source in pattern.curves and image.instance for image in images)
        reflected = [curve for curve in pattern.curves if curve in copies]
        if not theirs and not reflected:
            continue  # the pattern is its own reflection
        if len(reflected) != len(pattern.curves):
            raise EditError(f"patterns.{name}", "only some of its instances are reflected",
                            "separate the copies first")
        image = reflected_pattern(pattern, reflection)
        image = replace(image, curves=tuple(copies[curve] for curve in pattern.curves))
        if isinstance(image, PolarPattern):
            image = replace(image, center=_center(draft, image.center, copies, mirror, now))
        draft.pattern(image)
    return copies


def _center(
    draft: Draft, center: str, copies: dict[str, str], mirror: Mirror, now: Part
) -> str:
    from sketcher.part.splice import tie

    reflection = reflector(now, mirror)
    if center in copies:
        return copies[center]
    if reflection.on_axis(draft.points[center]):
        return center
    point = draft.point(reflection.point(draft.points[center]))
    tie(draft, "reflected", (center, point, mirror.axis))
    return point
