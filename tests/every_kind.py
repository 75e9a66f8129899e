"""One specimen of every kind on one plate, with what a ruler would read off it.

The plate, in mm: corners (0, 0), (80, 0), (80, 50), (24, 50), (0, 40); hole h1 of R5 about c1
(20, 15), hole h2 of R6 about c2 (44, 25), layout circle h3 of R10 about c2 too, an axis x1 at
x = 90. Values follow from these coordinates by hand; (10, 24, 26) is a right triangle in whole
numbers.
"""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from sketcher.part.edits.draft import Draft
from sketcher.part.kinds import bind
from sketcher.part.value import Part


class Specimen(NamedTuple):
    """Operands, the value that a ruler or protractor reads, how the sheet letters it.

    `given` are points that stand before a drawer comes to it.
    """

    kind: str
    of: tuple[str, ...]
    value: float | None = None
    lettered: str = ""
    given: tuple[str, ...] = ()


SPECIMENS = (
    Specimen("angle", ("e4",), 22.61986495, "22.62°"),  # arctan(10 / 24)
    Specimen("angle", ("e3", "e4"), 157.38013505, "157.38°"),  # 180 less that
    Specimen("concentric", ("h1", "h2")),
    Specimen("diameter", ("h1",), 10.0, "Ø10"),
    Specimen("distance", ("e4",), 26.0, "26"),
    Specimen("distance", ("c1", "c2"), 26.0, "26"),
    Specimen("equal", ("e2", "e5")),
    Specimen("fixed", ("p1",)),
    Specimen("in line", ("p1", "c1", "c2")),
    Specimen("level", ("e1",)),
    Specimen("middle", ("c1", "e1")),
    Specimen("offset", ("e1", "c1"), 15.0, "15"),
    Specimen("offset", ("h2", "h3"), 4.0, "4"),
    Specimen("on", ("c1", "e1")),
    Specimen("parallel", ("e1", "e3")),
    Specimen("plumb", ("e2",)),
    Specimen("radius", ("h2",), 6.0, "R6"),
    Specimen("reflected", ("c1", "c2", "x1"), given=("c1", "p6", "p7")),
    Specimen("rise", ("c1", "c2"), 10.0, "10"),
    Specimen("run", ("c1", "c2"), 24.0, "24"),
    Specimen("square", ("e1", "e2")),
    Specimen("tangent", ("e1", "h1")),
    Specimen("web", ("h1", "h2"), 15.0, "15"),  # 26 - 5 - 6
)


def bare() -> Part:
    """The plate without bindings; lines are e1 to e5, corners p1 to p5."""
    draft = Draft(Part())
    corners = [draft.point(at) for at in ((0, 0), (80, 0), (80, 50), (24, 50), (0, 40))]
    for one, other in zip(corners, (*corners[1:], corners[0]), strict=True):
        draft.line(one, other)
    part = draft.done()
    renamed = part.having(points={**part.points, "c1": (20.0, 15.0), "c2": (44.0, 25.0)})
    draft = Draft(renamed)
    draft.circle("c1", 5.0)
    draft.circle("c2", 6.0)
    draft.circle("c2", 10.0, "layout")
    draft.line((90, 0), (90, 50), "axis")
    part = draft.done()
    names = dict(zip(part.curves, ("e1", "e2", "e3", "e4", "e5", "h1", "h2", "h3", "x1"),
                     strict=True))
    return part.having(curves={names[old]: curve for old, curve in part.curves.items()})


def begun(specimen: Specimen) -> Part:
    """The plate with the specimen and what is given before it."""
    part = plate(specimen)
    given = {f"f{k}": bind(part, "fixed", (name,)) for k, name in enumerate(specimen.given, 1)}
    return part.having(bindings={**given, **part.bindings})


def plate(specimen: Specimen, drives: bool = True) -> Part:
    """The plate with the specimen as its one binding `b`, at the value that it has."""
    part = bare()
    return part.having(bindings={"b": replace(bind(part, specimen.kind, specimen.of),
                                              drives=drives)})
