"""Undoing any sequence of edits gives the starting value; redoing gives the last one."""

from __future__ import annotations

from collections.abc import Callable

from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from sketcher.errors import SketcherError
from sketcher.part.edited import Edited
from sketcher.part.edits import EDITS
from sketcher.part.file_text import read, write
from sketcher.part.fragment import fragment
from sketcher.part.history import History
from sketcher.part.value import GridPattern, Part
from tests.seldom import examples
from tests.strategies import chains

Edit = Callable[[Part], Edited]
STEP = st.tuples(st.floats(-50, 50), st.floats(-50, 50))


@st.composite
def edits(draw: st.DrawFn) -> tuple[str, Callable[[Part], Edited]]:
    """An edit with arguments drawn by position, so that it fits whatever part it meets."""
    name = draw(st.sampled_from(sorted(EDITS)))
    first, second = draw(st.integers(0, 50)), draw(st.integers(0, 50))
    step, number = draw(STEP), draw(st.floats(0.1, 30.0))
    flag = draw(st.booleans())

    def run(part: Part) -> Edited:
        curves, bindings = list(part.curves), list(part.bindings)
        points = list(part.points)
        a, b = (curves[i % len(curves)] if curves else "none" for i in (first, second))
        binding = bindings[first % len(bindings)] if bindings else "none"
        point = points[first % len(points)] if points else "none"
        parameter = next(iter(part.parameters), "none")
        pattern = next(iter(part.patterns), "none")
        near = part.points.get(point, (0.0, 0.0))
        arguments = {
            "add_binding": ("level", [a]), "remove_binding": (binding,),
            "reorder_binding": (binding, second), "set_value": (binding, repr(number)),
            "set_side": (binding, "left"), "turn_side": (binding,), "confirm_side": (binding,),
            "set_drives": (binding, flag),
            "set_tolerance": (binding, (number, -number)), "rename": (a, "renamed"),
            "set_parameter": ("wall", repr(number)), "remove_parameter": (parameter,),
            "rename_parameter": (parameter, "width"), "set_role": ([a, b], "layout"),
            "describe": ("Name",), "fillet": (a, b, number), "chamfer": (a, b, number),
            "corner": (a, b), "split": (a, step, near), "join": (a, b), "cut_back": (a, near),
            "extend": (a, near), "delete": (a if flag else point,), "copy": ([a, b], step),
            "move": ([a], step), "rotate": ([a, b], step, number), "reflect": ([b], a, flag),
            "set_mirror": (a, "outline", flag), "remove_pattern": (pattern,),
            "set_pattern": (GridPattern((a,), ("5", "5"), (2, 2)),),
            "dissolve_pattern": (pattern,), "set_spacing": (pattern, repr(number)),
            "absorb": (a, b), "unite": (a, b), "fillet_on_axis": (a, b, number),
            "chamfer_on_axis": (a, b, number), "paste": (piece(part, a), step),
            "merge": tuple(points[:2]), "trace": ([step],), "trace_along": ([first],),
            "scribe_ladder": (a, "3, 5", step), "scribe_slope": (point, number, step),
            "scribe_slot": (point, number, (10, 50), 1), "scribe_tangent": (a, b, step),
            "scribe_touching": ([a, b], step, number), "place_detail": ([a, b],),
        }
        settings_of_sheet = {"set_drawing": {"sheet": "A3", "show_half": flag},
                             "place_detail": {"side": "left" if flag else None}}
        return EDITS[name](part, *arguments.get(name, ()), **settings_of_sheet.get(name, {}))

    return name, run


def piece(part: Part, name: str) -> Part:
    """Return a curve as a part of its own; an empty one where there is none."""
    return fragment(part, (name,)).part if name in part.curves else Part(unit=part.unit)


@examples(60, 150,
          suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(chains(most=8), st.lists(edits(), min_size=1, max_size=12))
def test_any_sequence_of_edits_is_undone_exactly(part: Part, sequence) -> None:
    start = write(part)
    history = History(part)
    done = 0
    for name, edit in sequence:
        before = history.part
        text = write(before)
        try:
            edited = edit(before)
        except SketcherError:
            pass  # what cannot be done is told; the part must be as it was
        else:
            done += history.push(name, edited.part)
            assert read(write(edited.part)) == edited.part, name
        assert write(before) == text, name
    last = write(history.part)
    for _ in range(done):
        history.undo()
    assert history.part is part
    assert write(history.part) == start
    for _ in range(done):
        history.redo()
    assert write(history.part) == last
