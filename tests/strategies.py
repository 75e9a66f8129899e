"""Random parts, curves and edits for property tests."""

from __future__ import annotations

from math import cos, hypot, sin

from hypothesis import strategies as st

from sketcher.part.edits.draft import Draft
from sketcher.part.value import GridPattern, Material, Mirror, Part, PolarPattern, frozen

COORDINATES = st.floats(-1e6, 1e6, allow_nan=False, allow_infinity=False)
ANGLES = st.floats(-3.1, 3.1)
ROLES = st.sampled_from(["outline", "layout", "axis"])
TEXTS = st.text(
    st.characters(blacklist_categories=("Cs", "Cc")), max_size=30
)


@st.composite
def chains(draw: st.DrawFn, most: int = 12, exact: bool = True) -> Part:
    """A random chain of lines and arcs with a few circles, bindings, mirrors and patterns."""
    draft = Draft(Part(
        name=draw(TEXTS),
        unit=draw(st.sampled_from(["mm", "in"])),
        material=Material(draw(TEXTS), draw(st.floats(1e-3, 1e3)), draw(st.floats(1.0, 2e4))),
        parameters=frozen(draw(st.dictionaries(
            st.from_regex(r"[a-z]{1,6}[0-9]", fullmatch=True), st.just("8"), max_size=3))),
        notes=tuple(draw(st.lists(TEXTS, max_size=2))),
    ))
    here = draft.point((draw(COORDINATES), draw(COORDINATES)))
    for _ in range(draw(st.integers(1, most))):
        x, y = draft.points[here]
        if draw(st.booleans()):
            turn, radius = draw(ANGLES), draw(st.floats(0.5, 500.0))
            start, sweep = draw(ANGLES), turn or 1.0
            center = (x - radius * cos(start), y - radius * sin(start))
            last = start + sweep
            end = draft.point((center[0] + radius * cos(last), center[1] + radius * sin(last)))
            name = draft.arc(here, end, center, "ccw" if sweep > 0 else "cw", draw(ROLES))
            if draw(st.booleans()):
                draft.bind("radius", [name], repr(radius), drives=draw(st.booleans()))
        else:
            end = draft.point((draw(COORDINATES), draw(COORDINATES)))
            draft.line(here, end, draw(ROLES))
            length = hypot(draft.points[end][0] - x, draft.points[end][1] - y)
            if length > 1e-3 and draw(st.booleans()):
                deviations = draw(st.sampled_from([None, (0.1, -0.1), (0.0, -0.05)]))
                draft.bind("distance", [here, end], repr(length), tolerance=deviations)
        here = end
    _extras(draw, draft)
    return draft.done()


def _extras(draw: st.DrawFn, draft: Draft) -> None:
    for _ in range(draw(st.integers(0, 3))):
        center = (draw(COORDINATES), draw(COORDINATES))
        draft.circle(center, draw(st.floats(1e-3, 1e3)), draw(ROLES))
    names = list(draft.curves)
    lines = [name for name in names if draft.curves[name].kind == "line"]
    if lines and draw(st.booleans()):
        axes = draw(st.lists(st.sampled_from(lines), min_size=1, max_size=2, unique=True))
        some = st.lists(st.sampled_from(names), unique=True).map(tuple)
        taken = st.one_of(st.just("outline"), some)
        draft.set_mirrors([Mirror(axis, draw(taken)) for axis in axes])
    if draw(st.booleans()):
        some = tuple(draw(st.lists(st.sampled_from(names), min_size=1, max_size=3, unique=True)))
        draft.pattern(GridPattern(some, ("3", "1/2"), (draw(st.integers(1, 5)), 2), "15"))
        center = draw(st.sampled_from(list(draft.points)))
        draft.pattern(PolarPattern(some, center, draw(st.integers(1, 9)), "270"))
