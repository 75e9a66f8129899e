"""Random bound layouts, scribed as a person would, for the tests of tracing."""

from __future__ import annotations

from random import Random

from sketcher.errors import SketcherError
from sketcher.geometry.evaluate import point_at, tangent_at
from sketcher.part.arranged import Arranged, arranged
from sketcher.part.edits import EDITS
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from sketcher.solve import solve

XY = tuple[float, float]


def fixed_point(draft: Draft, at: XY) -> str:
    """A point that stays where it is."""
    name = draft.point(at)
    draft.bind("fixed", (name,))
    return name


def grid(columns: tuple[float, ...], rows: tuple[float, ...], role: str = "layout") -> Part:
    """Plumb and level layout lines, the ends fixed, 10 beyond the outermost."""
    draft = Draft(Part())
    x0, x1, y0, y1 = min(columns), max(columns), min(rows), max(rows)
    for x in columns:
        draft.line(fixed_point(draft, (x, y0 - 10.0)), fixed_point(draft, (x, y1 + 10.0)), "layout")
    for y in rows:
        draft.line(fixed_point(draft, (x0 - 10.0, y)), fixed_point(draft, (x1 + 10.0, y)), "layout")
    return draft.done()


def random_layout(random: Random) -> Part:
    """Fixed lines and circles, then offsets, touching circles, tangents and slots from them."""
    draft = Draft(Part())

    def place() -> XY:
        return (random.uniform(0.0, 100.0), random.uniform(0.0, 100.0))

    for _ in range(random.randint(2, 4)):
        draft.line(fixed_point(draft, place()), fixed_point(draft, place()), "layout")
    for _ in range(random.randint(2, 3)):
        radius = random.uniform(5.0, 30.0)
        circle = draft.circle(fixed_point(draft, place()), radius, "layout")
        draft.bind("radius", (circle,), radius)
    part = draft.done()
    for _ in range(random.randint(1, 5)):
        try:
            solution = solve(_scribed(part, random, place()))
        except SketcherError:
            continue  # this choice of curves allows none
        if solution.report.state == "bound" and not solution.report.doubled:
            part = solution.part  # else it touches by chance what it is bound to already
    return part


def _scribed(part: Part, random: Random, at: XY) -> Part:
    names = list(part.curves)
    rounds = [n for n in names if part.curves[n].kind != "line"]
    what = random.randint(0, 4)
    if what == 0:
        radius = round(random.uniform(3.0, 25.0), 2)
        return EDITS["scribe_touching"](part, random.sample(names, 2), at, radius).part
    if what == 1:
        return EDITS["scribe_tangent"](part, *random.sample(rounds, 2), at).part
    if what == 2:
        return EDITS["scribe_ladder"](part, random.choice(names), "3, +4", at).part
    if what == 3:
        return EDITS["scribe_touching"](part, random.sample(names, 3), at).part
    center = part.curves[random.choice(rounds)].points[-1]
    angles = (random.randint(0, 359), random.randint(0, 359))
    return EDITS["scribe_slot"](part, center, random.randint(8, 30), angles, 3).part


def random_places(known: Arranged, random: Random) -> list[XY]:
    """Places in one to five regions that lie side by side; empty where none closes."""
    net = known.arrangement
    numbers = [face.number for face in net.faces[1:]]
    if not numbers:
        return []
    group = {random.choice(numbers)}
    for _ in range(random.randint(0, 4)):
        beside = sorted(net.neighbours(random.choice(sorted(group))) - {0})
        group |= {random.choice(beside)} if beside else set()
    return [at for face in sorted(group) if (at := place_in(known, face)) is not None]


def place_in(known: Arranged, face: int) -> XY | None:
    """A place in a region: a little to the left of its boundary."""
    for span in known.arrangement.boundary(face)[0].spans:
        x, y = point_at(span.curve, 0.4)
        ux, uy = tangent_at(span.curve, 0.4)
        for step in (1e-1, 1e-3, 1e-5):
            at = (x - step * uy, y + step * ux)
            if known.arrangement.face_at(at) == face:
                return at
    return None


def area_of(part: Part, places: list[XY]) -> float:
    """Area of the regions under places."""
    known = arranged(part)
    return sum(known.arrangement.faces[face].area for face in known.faces_at(places))
