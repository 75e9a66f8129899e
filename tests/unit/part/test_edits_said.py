"""What an edit says: one line that names what was touched, and ids that the next part has."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import Any

import pytest

from sketcher.part.arranged import arranged
from sketcher.part.edits import EDITS
from sketcher.part.edits.draft import Draft
from sketcher.part.value import GridPattern, Mirror, Part, frozen
from tests.refusals import is_line


def sample(mirrored: bool = True) -> Part:
    """A plate with a hole and its pattern, a second hole, layout, an axis and a parameter."""
    draft = Draft(Part(parameters=frozen({"wall": "8", "spare": "1"})))
    p = [draft.point(at) for at in ((0, 0), (60, 0), (60, 40), (0, 40))]
    for start, end in pairwise(p):
        draft.line(start, end)  # e1, e2, e3
    draft.circle((20, 20), 5.0, name="h1")
    draft.circle((40, 20), 5.0, name="h2")
    draft.line((0, -5), (0, 60), "axis", name="ax")
    draft.line((-10, 20), (70, 20), "layout", name="s1")
    draft.line((30, -10), (30, 70), "layout", name="s2")
    draft.line((5, 50), (15, 50), "layout", name="s3")
    draft.bind("distance", ["e1"], "60", name="b1")
    draft.bind("level", ["e1"], side="right", name="b2")
    draft.bind("radius", ["h1"], "5", name="b3")
    draft.pattern(GridPattern(("h1", "h2"), ("1", "2"), (2, 1)), name="g1")
    if mirrored:
        draft.set_mirrors([Mirror("ax", ("e1", "h1", "h2"))])
    return draft.done()


CASES: list[tuple[str, tuple[Any, ...], str]] = [
    # edit, what it is given, what the sentence names (lists as they stand, then single words)
    ("add_binding", ("equal", ["h1", "h2"]), "h1 equal to h2"),
    ("chamfer", ("e1", "e2", "3", "4"), "e1 e2 3 4"),
    ("clear_mirror", (), "ax"),
    ("copy", (["h1", "h2"], (5.0, 5.0)), "h1, h2"),
    ("corner", ("e1", "s2"), "e1 s2"),
    ("cut_back", ("e1", (50.0, 0.0)), "e1"),
    ("cut_back", ("s1", (32.0, 20.0)), "s1"),
    ("delete", ("h1", "h2"), "h1, h2"),
    ("dissolve_pattern", ("g1",), "g1 2"),
    ("extend", ("s3", (15.0, 50.0)), "s3 s2"),
    ("fillet", ("e1", "e2", "wall"), "e1 e2 wall"),
    ("flip", (), "ax"),
    ("make_whole", (), ""),
    ("merge", ("p1", "p2", "p3"), "p2, p3 p1"),
    ("move", (["h1", "h2"], (1.0, 0.0)), "h1, h2"),
    ("reflect", (["h1", "h2"], "ax"), "h1, h2 ax"),
    ("reflect", (["h1", "h2"], "ax", False), "h1, h2 ax"),
    ("remove_binding", ("b1", "b2"), "b1, b2"),
    ("remove_parameter", ("spare",), "spare"),
    ("remove_pattern", ("g1",), "g1 h1, h2"),
    ("rename", ("e1", "edge"), "e1 edge"),
    ("rename", ("e1", "e1"), "e1"),
    ("rename_parameter", ("wall", "web"), "wall web"),
    ("rename_parameter", ("wall", "wall"), "wall"),
    ("reorder_binding", ("b3", 0), "b3 1"),
    ("reorder_binding", ("b3", 2), "b3"),
    ("rotate", (["h1", "h2"], (0.0, 0.0), 30.0), "h1, h2 30"),
    ("scribe_ladder", ("s1", "3, 4", (0.0, 30.0)), "s1 s4, s5"),
    ("scribe_slope", ("p1", "wall", (10.0, 1.0), None, ("length", "5")), "wall"),
    ("scribe_slope", ("p1", "30", (10.0, 1.0), "s1", ("length", "5")), "s1 30"),
    ("scribe_slot", ("p1", "30", ("0", "90"), "2"), ""),
    ("scribe_tangent", ("h1", "h2", (30.0, 25.0)), "h1 h2"),
    ("scribe_touching", (("h1", "h2"), (30.0, 25.0), "20"), "h1, h2"),
    ("set_drawing", (), "scale, sheet"),
    ("set_drives", ("b1", False), "b1"),
    ("set_drives", ("b1", True), "b1"),
    ("set_mirror", ("s1",), "s1"),
    ("set_mirror", ("s1", ["h1", "h2"]), "s1 h1, h2"),
    ("set_parameter", ("wall", "9"), "wall 9"),
    ("set_parameter", ("wall", "8"), "wall 8"),
    ("set_pattern", (GridPattern(("h1", "h2"), ("30", "2"), (2, 1)),), "h1, h2"),
    ("set_role", (["e1", "e2"], "layout"), "e1, e2 layout"),
    ("set_side", ("b2", "left"), "b2 left"),
    ("set_side", ("b2", "right"), "b2 right"),
    ("set_spacing", ("g1.step1", "wall"), "g1 wall"),
    ("set_tolerance", ("b1", (0.1, -0.1)), "b1"),
    ("set_tolerance", ("b1", None), "b1"),
    ("set_value", ("b1", "wall"), "b1 60 wall"),
    ("set_value", ("b1", "60"), "b1 60"),
    ("split", ("e1", (30.0, 0.0)), "e1"),
    ("split", ("h1", (25.0, 20.0), (15.0, 20.0)), "h1"),
]


def ids(part: Part) -> set[str]:
    """Everything that has an id, and the parameters."""
    return {*part.points, *part.curves, *part.bindings, *part.patterns, *part.parameters}


@pytest.mark.parametrize(("name", "given", "named"), CASES)
def test_an_edit_says_what_it_touched(name: str, given: tuple[Any, ...], named: str) -> None:
    part = sample()
    settings = {"scale": "1:2", "sheet": "A3"} if name == "set_drawing" else {}
    edited = EDITS[name](part, *given, **settings)
    assert is_line(edited.said)
    for words in re.findall(r"\w+(?:, \w+)*", named):
        assert re.search(rf"(?<![\w,]){words}(?![\w])(?!, \w)", edited.said), edited.said
    assert isinstance(edited.made, tuple)
    assert set(edited.made) <= ids(edited.part)
    assert set(edited.part.curves) - set(part.curves) <= set(edited.made)
    for gone in edited.dropped:
        assert gone.split()[-1] in edited.said


def test_the_chief_thing_made_comes_first() -> None:
    part = sample(mirrored=False)
    assert EDITS["set_mirror"](part, "s1").made == ("s1",)
    assert EDITS["add_binding"](part, "level", ["e3"]).made == ("b4",)
    assert EDITS["set_pattern"](part, GridPattern(("h1",), ("3", "4"), (2, 1))).made == ("g2",)
    assert EDITS["set_parameter"](part, "hole", "3").made == ("hole",)
    assert EDITS["split"](part, "e1", (30.0, 0.0)).made == ("e4", "p15")
    assert EDITS["cut_back"](part, "s1", (32.0, 20.0)).made[0] == "s1"
    assert EDITS["cut_back"](part, "e1", (50.0, 0.0)).made == ("e1",)
    assert EDITS["rename"](part, "e1", "edge").made == ("edge",)


def test_one_traced_curve_is_not_called_several() -> None:
    draft = Draft(Part())
    draft.line((0, 0), (10, 0), "layout")
    for x in (0.0, 10.0):
        draft.line((x, -5), (x, 5), "layout")
    part = draft.done()
    net = arranged(part).arrangement
    (one, *_), (other, *_) = net.nearest((5.0, 0.0)), net.nearest((10.0, 3.0))  # type: ignore[misc]
    walk = next([half, on] for half in (one, one ^ 1) for on in net.onward(half)
                if on >> 1 == other >> 1)
    for halves, words in ((walk[:1], ["1 curve"]), (walk, ["2 curves"])):
        assert re.findall(r"\d+ curves?\b", EDITS["trace_along"](part, halves).said) == words
