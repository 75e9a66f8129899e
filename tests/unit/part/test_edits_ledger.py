"""Bindings, parameters, names, roles: what the ledger changes."""

from __future__ import annotations

import re
from dataclasses import replace
from math import nan

import pytest

from sketcher.errors import EditError, QuantityError, SketcherError
from sketcher.part.edits import EDITS
from sketcher.part.edits.draft import Draft
from sketcher.part.expressions import users_of, with_name
from sketcher.part.file_text import read, write
from sketcher.part.kinds import measure, sides
from sketcher.part.materials import density_for, density_of
from sketcher.part.value import (
    Drawing,
    GridPattern,
    Material,
    Mirror,
    Part,
    PolarPattern,
    frozen,
)
from tests.refusals import refused


def sample() -> Part:
    draft = Draft(Part(parameters=frozen({"wall": "8", "span": "2*wall + 80"})))
    draft.line((0, 0), (96, 0), name="e1")
    draft.line("p2", (96, 40), name="e2")
    draft.circle((20, 20), 5.0, name="h1")
    draft.line((0, -5), (0, 60), "axis", name="ax")
    draft.bind("run", ["p1", "p2"], "span", "right", name="b1")
    draft.bind("level", ["e1"], side="right", name="b2")
    draft.bind("radius", ["h1"], "wall - 3", name="b3")
    draft.pattern(GridPattern(("h1",), ("wall*4", "10"), (2, 1)), name="g1")
    draft.pattern(PolarPattern(("h1",), "p3", 3), name="r1")
    draft.set_mirrors([Mirror("ax", ("e1", "h1"))])
    part = draft.done()
    return part.having(drawing=Drawing(placed=frozen({"b1": (1.0, 2.0)})))


def test_add_binding_orders_and_settles() -> None:
    edited = EDITS["add_binding"](sample(), "offset", ["p4", "e1"], "20")
    (name,) = edited.made
    binding = edited.part.bindings[name]
    assert binding.of == ("e1", "p4")
    assert binding.side is not None
    measured = EDITS["add_binding"](sample(), "distance", ["e2"])
    assert measured.part.bindings[measured.made[0]].value == "40"
    reference = EDITS["add_binding"](sample(), "run", ["p2", "p1"], "96", drives=False)
    assert not reference.part.bindings[reference.made[0]].drives


@pytest.mark.parametrize(
    ("arguments", "place", "error", "names"),
    [
        (("level", ["h1"]), "level", EditError, "h1"),
        (("flat", ["e1"]), "kind", EditError, "flat"),
        (("level", ["zz"]), "level", EditError, "zz"),
        (("level", ["e1"]), "e1 level", EditError, "b2"),
        (("run", ["p2", "p1"], "96"), "run p2 to p1", EditError, "b1"),
        (("distance", ["e2"], "-4"), "length of e2", QuantityError, "-4"),
        (("offset", ["e1", "p4"], "-4"), "offset e1 to p4", QuantityError, "-4"),
        (("distance", ["e2"], "4 +"), "bindings.distance.value", QuantityError, ""),
        (("distance", ["e2"], "30°"), "bindings.distance.value", QuantityError, "30°"),
    ],
)
def test_add_binding_refuses(arguments, place: str, error: type[SketcherError], names: str) -> None:
    part = sample()
    remedy = names not in {"zz", "30°"}
    with refused(place, error, remedy) as caught:
        EDITS["add_binding"](part, *arguments)
    assert names in caught.value.problem
    assert part == sample()


def test_remove_binding() -> None:
    part = sample()
    edited = EDITS["remove_binding"](part, "b1", "b3")
    assert list(edited.part.bindings) == ["b2"]
    assert edited.part.points is part.points
    with refused("e1", EditError):
        EDITS["remove_binding"](part, "e1")


def test_reorder_binding() -> None:
    part = sample()
    assert list(EDITS["reorder_binding"](part, "b3", 0).part.bindings) == ["b3", "b1", "b2"]
    assert list(EDITS["reorder_binding"](part, "b1", 99).part.bindings) == ["b2", "b3", "b1"]
    assert EDITS["reorder_binding"](part, "b2", 1).part is part
    with refused("zz", EditError):
        EDITS["reorder_binding"](part, "zz", 1)


def test_set_value() -> None:
    part = sample()
    edited = EDITS["set_value"](part, "b1", " 1 in + wall ")
    assert edited.part.bindings["b1"].value == "1 in + wall"
    assert edited.part.bindings["b1"].side == "right"
    assert EDITS["set_value"](part, "b1", "span").part is part
    for name, text in (("b1", "12 mm*2 mm"), ("b1", "x"), ("b1", "3-4"), ("b3", "0")):
        with pytest.raises(QuantityError) as caught:
            EDITS["set_value"](part, name, text)
        assert caught.value.place == f"bindings.{name}.value"
    for name in ("b2", "zz"):
        with refused(name, EditError):
            EDITS["set_value"](part, name, "3")


def test_set_side() -> None:
    part = sample()
    edited = EDITS["set_side"](part, "b1", "left")
    assert edited.part.bindings["b1"].side == "left"
    assert EDITS["set_side"](part, "b1", "right").part is part
    for name, side in (("b1", "north"), ("b3", "left"), ("zz", "left")):
        with refused(name, EditError) as caught:
            EDITS["set_side"](part, name, side)
        offered = {word for word in sides(part, part.bindings["b1"]) if name == "b1"}
        assert offered <= set(caught.value.remedy.split())


def test_set_drives() -> None:
    part = sample()
    edited = EDITS["set_drives"](part, "b1", False)
    assert not edited.part.bindings["b1"].drives
    assert EDITS["set_drives"](edited.part, "b1", True).part == part
    assert EDITS["set_drives"](part, "b1", True).part is part
    for name in ("b2", "zz"):
        with refused(name, EditError):
            EDITS["set_drives"](part, name, False)


def test_a_reference_follows_or_has_a_value() -> None:
    reference = EDITS["set_drives"](sample(), "b1", False).part
    follows = EDITS["set_value"](reference, "b1", " ")
    assert follows.part.bindings["b1"].follows
    assert follows.said == "b1: span became what it measures"
    typed = EDITS["set_value"](follows.part, "b1", "12").part
    assert (typed.bindings["b1"].value, typed.bindings["b1"].drives) == ("12", False)
    drives = EDITS["set_drives"](follows.part, "b1", True).part.bindings["b1"]
    assert drives.drives
    assert float(drives.value) == pytest.approx(abs(measure(sample(), sample().bindings["b1"])))
    with refused("b1", EditError):
        EDITS["set_value"](sample(), "b1", "")


def test_set_tolerance() -> None:
    part = sample()
    edited = EDITS["set_tolerance"](part, "b1", (0.1, -0.2))
    assert edited.part.bindings["b1"].tolerance == (0.1, -0.2)
    assert EDITS["set_tolerance"](edited.part, "b1", None).part == part
    assert EDITS["set_tolerance"](part, "b1", None).part is part
    for name, tolerance in (("b1", (-0.1, 0.1)), ("b1", (nan, 0)), ("b2", (1, 0)), ("zz", None)):
        with refused(name, EditError):
            EDITS["set_tolerance"](part, name, tolerance)


def test_set_parameter() -> None:
    part = sample()
    edited = EDITS["set_parameter"](part, "wall", "10")
    assert list(edited.part.parameters.items()) == [("wall", "10"), ("span", "2*wall + 80")]
    assert EDITS["set_parameter"](part, "hole", "wall/2").part.parameters["hole"] == "wall/2"
    assert EDITS["set_parameter"](part, "wall", "8").part is part


@pytest.mark.parametrize(
    ("name", "text", "place"),
    [
        ("wall", "span", "parameters.wall"),
        ("wall", "wide", "parameters.wall"),
        ("wall", "2", "bindings.b3.value"),  # the radius would be below zero
        ("wall", "15°", "bindings.b1.value"),  # the length would be an angle
        ("sin", "2", "parameters.sin"),
        ("wall", "", "parameters.wall"),
    ],
)
def test_set_parameter_refuses(name: str, text: str, place: str) -> None:
    with refused(place, QuantityError, remedy=text != "15°"):
        EDITS["set_parameter"](sample(), name, text)


def test_remove_parameter() -> None:
    part = sample()
    with refused("parameters.wall", EditError) as caught:
        EDITS["remove_parameter"](part, "wall")
    users = ["parameters.span", "bindings.b3.value", "patterns.g1"]
    assert re.findall(r"\w+\.[\w.]+", caught.value.problem) == users
    spare = EDITS["set_parameter"](part, "spare", "1").part
    assert EDITS["remove_parameter"](spare, "spare").part.parameters == part.parameters
    with refused("parameters.zz", EditError):
        EDITS["remove_parameter"](part, "zz")


def test_rename_parameter() -> None:
    part = sample()
    edited = EDITS["rename_parameter"](part, "wall", "web").part
    assert dict(edited.parameters) == {"web": "8", "span": "2*web + 80"}
    assert edited.bindings["b3"].value == "web - 3"
    assert edited.patterns["g1"].step == ("web*4", "10")
    assert users_of(edited, "wall") == ()
    assert EDITS["rename_parameter"](edited, "web", "wall").part == part
    assert EDITS["rename_parameter"](part, "wall", "wall").part is part
    for old, new, error, place in (
        ("zz", "a", EditError, "zz"), ("wall", "span", EditError, "span"),
        ("wall", "mm", QuantityError, "mm"), ("wall", "2", QuantityError, "2"),
    ):
        with refused(f"parameters.{place}", error):
            EDITS["rename_parameter"](part, old, new)


def test_only_whole_names_are_replaced() -> None:
    assert with_name("wall + wallet*wall - wall2", "wall", "w") == "w + wallet*w - wall2"
    assert with_name("1 5/8 + a^2", "a", "bb") == "1 5/8 + bb^2"


@pytest.mark.parametrize("old", ["p1", "p3", "e1", "h1", "ax", "b1", "g1"])
def test_rename_reaches_every_place(old: str) -> None:
    part = sample()
    edited = EDITS["rename"](part, old, "neu").part
    text = write(edited)
    assert f'"{old}"' not in text
    assert text.count('"neu"') == write(part).count(f'"{old}"')
    assert read(text) == edited
    assert EDITS["rename"](edited, "neu", old).part == part


def test_rename_refuses() -> None:
    part = sample()
    assert EDITS["rename"](part, "e1", "e1").part is part
    for old, new in (("zz", "a"), ("e1", "p1"), ("e1", "b1"), ("e1", "a b"), ("e1", "e1'")):
        with refused(old if old == "zz" else new, EditError):
            EDITS["rename"](part, old, new)


def test_set_role() -> None:
    part = sample()
    edited = EDITS["set_role"](part, ["e1", "h1"], "layout").part
    assert {edited.curves[name].role for name in ("e1", "h1")} == {"layout"}
    assert edited.bindings is part.bindings
    assert EDITS["set_role"](part, ["e1"], "outline").part is part
    for ids, role, place in ((["h1"], "axis", "h1"), (["zz"], "layout", "zz"),
                             (["e1"], "hidden", "role")):
        with refused(place, EditError):
            EDITS["set_role"](part, ids, role)


def test_describe() -> None:
    part = sample()
    material = Material("aluminium", 2.0, 2700.0)
    edited = EDITS["describe"](part, name="Arm", material=material, notes=["Deburr."]).part
    assert (edited.name, edited.material, edited.notes) == ("Arm", material, ("Deburr.",))
    assert EDITS["describe"](part, name=part.name).part is part
    for place, wrong in (
        ("name", {"name": "a\nb"}), ("material.thickness", {"material": Material("x", 0.0)}),
        ("notes[0]", {"notes": ["\x00"]}), ("", {"material": Material("x", 1.0, nan)}),
    ):
        with refused(place, EditError):
            EDITS["describe"](part, **wrong)


def test_what_was_described_is_named_word_by_word() -> None:
    part = sample()
    was = part.material
    for changed, said in (
        ({"name": "Arm", "material": replace(was, thickness=9.0)}, "changed name, thickness"),
        ({"material": replace(was, density=7800.0), "notes": ["x"]}, "changed density, notes"),
    ):
        assert EDITS["describe"](part, **changed).said == said


@pytest.mark.parametrize(("was", "typed", "density", "said"), [
    (Material("mild steel", 3.0, 7850.0), "Acrylic", 1190.0,
     "density stays 7850, that of mild steel; Acrylic has 1190"),
    (Material("mild steel", 3.0, 7850.0), "6061-T6 aluminum", 2700.0,
     "density stays 7850, that of mild steel; 6061-T6 aluminum has 2700"),
    (Material("mild steel", 3.0, 7850.0), "Steel S235", 7850.0, ""),
    (Material("mild steel", 3.0, 7850.0), "unknownium", 7850.0,
     "density stays 7850, that of mild steel"),
    (Material("mild steel", 3.0, 7777.0), "brass", 7777.0,
     "density stays 7777, as it was; brass has 8440"),
    (Material("unknownium", 3.0, 1234.0), "copper", 8940.0,
     "density stays 1234, as it was; copper has 8940"),
])
def test_the_density_goes_with_the_name_or_is_pointed_out(
    was: Material, typed: str, density: float, said: str
) -> None:
    assert density_for(was, typed) == density
    part = sample().having(material=was)
    kept = EDITS["describe"](part, material=replace(was, name=typed))
    assert kept.said == f"changed material{'; ' if said else ''}{said}"
    assert kept.part.material.density == was.density  # what was typed is what is kept
    other = EDITS["describe"](part, material=replace(was, name=typed, density=1180.0))
    assert other.said == "changed material, density"


def test_densities_lie_where_a_standard_puts_them() -> None:
    # EN 1991-1-1:2002, tables A.3 to A.5, weights in kN per cubic metre; from memory
    weights = {"steel": (77.0, 78.5), "cast iron": (71.0, 72.5), "aluminium": (27.0, 27.0),
               "brass": (83.0, 85.0), "copper": (87.0, 89.0), "birch plywood": (7.0, 7.0),
               "acrylic": (12.0, 12.0)}
    for name, (low, high) in weights.items():
        found = density_of(name)
        assert found is not None
        assert 0.95 * low <= found * 9.81e-3 <= 1.05 * high, name


def test_set_drawing() -> None:
    part = sample()
    edited = EDITS["set_drawing"](part, sheet="A3", fields={"drawn by": "N. N."}).part
    assert edited.drawing.sheet == "A3"
    assert edited.drawing.placed == part.drawing.placed
    assert read(write(edited)) == edited
    assert EDITS["set_drawing"](part, sheet="auto").part is part
    with refused("drawing.paper", EditError):
        EDITS["set_drawing"](part, paper="A3")
