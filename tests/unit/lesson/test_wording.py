"""Every binding kind reads as a move at the drawing board, and an unknown one is still named."""

from __future__ import annotations

import re
from math import cos, radians, sin

import pytest

from sketcher.lesson.order import construction_order
from sketcher.lesson.plan import OrderPlan
from sketcher.lesson.relations import Relation
from sketcher.lesson.step_wording import StepWording
from sketcher.part.construction_words import bearing
from sketcher.part.kind_base import Kind
from sketcher.part.kinds import KINDS
from sketcher.part.value import ArcCurve, CircleCurve, Part
from tests.specimens import frame, said

AT = {"p1": (0.0, 0.0), "p2": (10.0, 0.0), "p3": (3.0, 4.0), "p4": (8.0, 6.0), "m": (20.0, 5.0),
      "q": (20.0, 5.0), "p5": (23.0, 9.0), "p6": (15.0, 5.0), "r": (30.0, 5.0)}


LINES = (("p1", "p2"), ("p3", "p4"))


def told(*bindings: object, fixed: str = "p1 p2", curves: tuple = LINES) -> str:
    """All steps of a small part, its fixed points first."""
    part = frame(AT, curves, *[said("fixed", p) for p in fixed.split()], *bindings)
    return "\n".join(step.text for step in construction_order(part))


CIRCLES = (("p1", "p2"), CircleCurve("m", 4.0), CircleCurve("q", 2.0))
PHRASES = {
    "middle": (told, (said("middle", "p3", "e1"),), {}, "p3 lies halfway between p1 and p2"),
    "distance": (told, (said("distance", "p1", "p3", value="5"),
                        said("rise", "p1", "p3", value="4")),
                 {}, "p3 is where the circle of 5 about p1 meets the level line 4 above p1"),
    "run": (told, (said("run", "p2", "p3", value="7"), said("level", "p1", "p3")), {},
            "p3 is where the plumb line 7 to the left of p2 meets the level line through p1"),
    "plumb": (told, (said("plumb", "p2", "p3"), said("offset", "e1", "p3", value="4")), {},
              "p3 is where the plumb line through p2 meets the parallel to e1 4 above it"),
    "in line": (told, (said("in line", "p1", "p2", "p3"), said("distance", "p1", "p3", value="3")),
                {}, "p3 is where the line through p1 and p2 meets the circle of 3 about p1"),
    "on": (told, (said("on", "p3", "e1"), said("run", "p1", "p3", value="3")), {},
           "p3 is where the line e1 meets the plumb line 3 to the right of p1"),
    "equal": (told, (said("equal", "e1", "e2"), said("angle", "e2", value="20")),
              {"fixed": "p1 p2 p3"}, "the circle of 10 (as long as e1) about p3"),
    "angle": (told, (said("angle", "e1", "e2", value="20"),), {"fixed": "p1 p2 p3"},
              "Scribe e2 at 20° to e1, through p3."),
    "square": (told, (said("square", "e1", "e2"),), {"fixed": "p1 p2 p3"},
               "Scribe e2 square to e1, through p3."),
    "parallel": (told, (said("parallel", "e1", "e2"),), {"fixed": "p1 p2 p3"},
                 "Scribe e2 parallel to e1, through p3."),
    "in line of lines": (told, (said("in line", "e1", "e2"),), {}, "Scribe e2 in line with e1"),
    "reflected": (told, (said("reflected", "p3", "p4", "e1"),), {"fixed": "p1 p2 p3"},
                  "p4 is the reflection of p3 about e1, at (3, -4)."),
    "diameter": (told, (said("diameter", "e2", value="8"),), {"fixed": "m", "curves": CIRCLES},
                 "Draw circle e2 about m with Ø8."),
    "equal radii": (told, (said("radius", "e2", value="4"), said("equal", "e2", "e3")),
                    {"fixed": "m q", "curves": CIRCLES},
                    "Draw circle e3 about q with R4, the radius of e2."),
    "offset of rounds": (told, (said("radius", "e2", value="4"),
                                said("offset", "e2", "e3", value="1.5")),
                         {"fixed": "m", "curves": CIRCLES},
                         "Draw circle e3 about q with R2.5, 1.5 less than e2."),
    "concentric": (told, (said("concentric", "e2", "e3"),), {"fixed": "m", "curves": CIRCLES},
                   "q is at m: one center, at (20, 5)."),
    "radius by a point": (told, (said("on", "p5", "e2"),),
                          {"fixed": "m p5", "curves": CIRCLES},
                          "with R5, so that it passes through p5."),
    "radius by touching": (told, (said("tangent", "e1", "e2"),),
                           {"fixed": "p1 p2 m", "curves": CIRCLES},
                           "with R5, so that it touches e1."),
    "web": (told, (said("radius", "e2", value="4"), said("radius", "e3", value="2"),
                   said("web", "e2", "e3", value="3"), said("level", "m", "r")),
            {"fixed": "m", "curves": (("p1", "p2"), CircleCurve("m", 4.0), CircleCurve("r", 2.0))},
            "the circle of 9 (4 + 2 + 3: radii of e2 and e3 and the web between them) about m"),
    "radius by a web": (told, (said("radius", "e2", value="4"), said("fixed", "r"),
                               said("web", "e2", "e3", value="1")),
                        {"fixed": "m", "curves": (("p1", "p2"), CircleCurve("m", 4.0),
                                                  CircleCurve("r", 2.0))},
                        "about r with R5, which leaves a web of 1 to e2."),
    "free radius": (told, (), {"fixed": "m", "curves": CIRCLES}, "with any radius (here R4)."),
}


@pytest.mark.parametrize("name", PHRASES)
def test_phrase(name: str) -> None:
    make, bindings, options, phrase = PHRASES[name]
    text = make(*bindings, **options)
    assert phrase in text, text
    assert "allows" not in text


class Wobble(Kind):
    """A kind that says nothing."""

    name = "wobble"


def test_touching_line_names_the_side() -> None:
    part = frame({"m": (0.0, 0.0), "p1": (-9.0, 6.0), "p2": (9.0, 5.0)},
                 [CircleCurve("m", 5.0), ("p1", "p2")], said("fixed", "m"),
                 said("radius", "e1", value="5"), said("level", "e2"), said("tangent", "e1", "e2"))
    text = "\n".join(s.text for s in construction_order(part))
    assert "Scribe e2 level, touching the circle of e1 above m." in text


def test_unknown_kind_is_named_by_its_binding() -> None:
    part = frame({"p1": (0.0, 0.0), "p2": (1.0, 0.0)}, [("p1", "p2")],
                 said("distance", "e1", value="1"))
    say = StepWording(part, set())
    strange = Relation({("p1", "x"): 1.0}, Wobble(), "b1", ("p1",))
    assert say.locus(strange, "p1") == "what b1 (wobble of e1) allows"
    assert say.course(strange, "e1") == "by what b1 (wobble of e1) allows"


@pytest.mark.parametrize(("degrees", "words"), [
    (0, "to the right of a"), (45, "above and to the right of a"), (90, "above a"),
    (135, "above and to the left of a"), (180, "to the left of a"), (270, "below a"),
    (-45, "below and to the right of a"), (20, "to the right of a"), (70, "above a")])
def test_bearing(degrees: float, words: str) -> None:
    for size in (1.0, 1e3, 1e-3):
        at = radians(degrees)
        assert bearing(size * cos(at), size * sin(at), "a") == words


def test_expression_stands_beside_its_value() -> None:
    part = frame({"p1": (0.0, 0.0), "p2": (9.0, 0.0)}, (), said("run", "p1", "p2", value="3*w"))
    part = part.having(parameters={"w": "3"})
    assert StepWording(part, set()).value("b1") == "9 (3*w)"


def test_arc_says_its_way_round() -> None:
    part = Part(points={"p1": (5.0, 0.0), "p2": (0.0, 5.0), "m": (0.0, 0.0)},
                curves={"a1": ArcCurve(("p2", "p1"), "m", "cw")},
                bindings={f"b{k}": said("fixed", p) for k, p in enumerate(("p1", "p2", "m"))})
    text = "\n".join(s.text for s in construction_order(part))
    way = r"about m with R5, so that it passes through p[12], clockwise from p2 to p1"
    assert re.search(way, text)


def test_a_radius_without_a_phrase_is_named_by_its_binding() -> None:
    part = frame({"m": (0.0, 0.0)}, [CircleCurve("m", 4.0)], said("radius", "e1", value="4"))
    strange = Relation({("e1", "r"): 1.0}, Wobble(), "b1", ())
    text = StepWording(part, set()).opening(strange, "e1")
    assert text.startswith("R4 ")
    assert "b1 (wobble of e1)" in text


@pytest.mark.parametrize("of", [("e2", "e3"), ("e3", "e2")])
@pytest.mark.parametrize("kind", ["equal", "offset"])
def test_a_radius_taken_from_another_names_the_other(kind: str, of: tuple[str, str]) -> None:
    binding = said(kind, *of, value="2" if kind == "offset" else None)
    part = frame(AT, CIRCLES, binding)
    relation = Relation({("e2", "r"): 1.0, ("e3", "r"): -1.0}, KINDS[kind], "b1", (), of)
    for name, other in (("e2", "e3"), ("e3", "e2")):
        text = StepWording(part, set()).opening(relation, name)
        assert re.findall(r"\be\d\b", text) == [other]


def test_places_have_three_decimals() -> None:
    say = StepWording(frame({"p1": (1.0 / 3.0, -20.0 / 3.0), "p2": (2.5, 4.0)}), set())
    assert say.place("p1") == "(0.333, -6.667)"
    assert say.place("p2") == "(2.5, 4)"
    assert say.number(-2.0 / 3.0) == "0.667"


def test_the_far_end_lies_beyond_the_middle() -> None:
    say = StepWording(frame(AT, LINES, said("middle", "p3", "e1")), set())
    relation = Relation({("p3", "x"): 1.0}, KINDS["middle"], "b1", ("p3", "p1", "p2"))
    for point, named in (("p3", ["p1", "p2"]), ("p1", ["p3", "p2"]), ("p2", ["p3", "p1"])):
        assert re.findall(r"\bp\d\b", say.found(relation, point) or "") == named


def test_what_is_known_in_part_is_called_by_its_part() -> None:
    plan = OrderPlan(frame(AT, LINES))
    assert plan._in_part(("line", "e1")) == "e1"
    plan.note_known([("e1", "turn"), ("p3", "x"), ("p4", "y")])
    assert plan._in_part(("line", "e1")).split()[-1] == "e1"
    assert plan._in_part(("line", "e1")) != "e1"
    assert {"x", "p3"} <= set(plan._in_part(("point", "p3")).split())
    assert {"y", "p4"} <= set(plan._in_part(("point", "p4")).split())
