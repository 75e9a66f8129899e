"""Defects that make a sound plate unsound, each with the codes that may name it."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, pi, sin
from typing import NamedTuple

from tests.proof.plates import Plate


class Defect(NamedTuple):
    """What is wrong, in code, and how a plate comes by it."""

    name: str
    codes: frozenset[str]
    make: Callable[[Plate], None]
    known: bool = False
    """May be cut once somebody names it; what is detached is then left out."""


def edges(plate: Plate) -> list[str]:
    """Straight outline edges between fixed points, in the plate's outer contour."""
    return [name for name, curve in plate.curves.items()
            if name.startswith("e") and curve["kind"] == "line"]


def _fixed(plate: Plate, name: str, x: float, y: float) -> str:
    plate.points[name] = [x, y]
    plate.bind("fixed", name)
    return name


def _along(plate: Plate, edge: str, share: float) -> tuple[float, float]:
    a, b = (plate.points[end] for end in plate.curves[edge]["ends"])
    return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))


def _length(plate: Plate, edge: str) -> float:
    (ax, ay), (bx, by) = (plate.points[end] for end in plate.curves[edge]["ends"])
    return float(((ax - bx) ** 2 + (ay - by) ** 2) ** 0.5)


def shortened(plate: Plate, by: float) -> None:
    """An edge ends before (or behind) the corner where the next one begins."""
    edge = plate.random.choice(edges(plate))
    x, y = _along(plate, edge, 1.0 - by / _length(plate, edge))
    plate.curves[edge]["ends"] = [plate.curves[edge]["ends"][0], _fixed(plate, "gap", x, y)]
    # What bound the edge to its old end no longer fits.
    plate.bindings = {name: binding for name, binding in plate.bindings.items()
                      if edge not in binding["of"]}


def gap(plate: Plate) -> None:
    shortened(plate, 10.0 ** plate.random.uniform(-3.0, -0.5))


def overrun(plate: Plate) -> None:
    shortened(plate, -(10.0 ** plate.random.uniform(-2.0, -0.3)))


def opened(plate: Plate) -> None:
    edge = plate.random.choice(edges(plate))
    del plate.curves[edge]
    plate.bindings = {name: binding for name, binding in plate.bindings.items()
                      if edge not in binding["of"]}


def stray(plate: Plate) -> None:
    x, y = plate.random.uniform(200, 400), plate.random.uniform(-50, 50)
    plate.line("z1", _fixed(plate, "z2", x, y), _fixed(plate, "z3", x + 30.0, y + 7.0))


def doubled(plate: Plate) -> None:
    name = plate.random.choice([*edges(plate), *(
        name for name, curve in plate.curves.items() if curve["kind"] == "circle")])
    plate.curves["z1"] = dict(plate.curves[name])
    if plate.curves[name]["kind"] == "circle":
        plate.bind("equal", name, "z1")


def half_doubled(plate: Plate) -> None:
    """A line lies over part of an edge."""
    edge = plate.random.choice(edges(plate))
    a, b = (_fixed(plate, f"z{k}", *_along(plate, edge, share))
            for k, share in enumerate((0.3, 0.7)))
    plate.line("z9", a, b)


def on_the_edge(plate: Plate) -> None:
    """A hole that cuts through the edge."""
    edge = plate.random.choice(edges(plate))
    plate.curves["z1"] = {"kind": "circle", "center": _fixed(
        plate, "z2", *_along(plate, edge, 0.5)), "radius": 1.5}
    plate.bind("diameter", "z1", value="3")


def off_the_plate(plate: Plate) -> None:
    angle, radius = plate.random.uniform(0.0, 2.0 * pi), plate.random.uniform(1.0, 20.0)
    at = (200.0 * cos(angle), 200.0 * sin(angle))
    if plate.mirror:
        at = (abs(at[0]) + 30.0, at[1])  # clear of the axis, which turns with the plate
    plate.circle("z1", at, radius)


def in_a_hole(plate: Plate) -> None:
    """A disk inside a hole: what is cut there falls out."""
    holes = [name for name, curve in plate.curves.items() if curve["kind"] == "circle"]
    if not holes:
        off_the_plate(plate)
        return
    plate.turn = 0.0  # its center stands turned already
    hole = plate.curves[plate.random.choice(holes)]
    x, y = plate.points[hole["center"]]
    plate.circle("z1", (x, y), 0.4 * hole["radius"])


def loose(plate: Plate) -> None:
    """One thing that the paper says is missing."""
    kinds = ("radius", "diameter", "fixed")
    held = {end for curve in plate.curves.values() if curve.get("role", "outline") == "outline"
            for end in (*curve.get("ends", ()), curve.get("center"))}
    plate.bindings.pop(plate.random.choice([
        name for name, binding in plate.bindings.items() if binding["kind"] in kinds
        and (binding["of"][0] in held or binding["kind"] != "fixed")]))


def clash(plate: Plate) -> None:
    """A length that its two fixed ends do not have."""
    names = [binding["of"][0] for binding in plate.bindings.values() if binding["kind"] == "fixed"]
    a, b = plate.random.sample(names, 2)
    (ax, ay), (bx, by) = plate.points[a], plate.points[b]
    true = ((ax - bx) ** 2 + (ay - by) ** 2) ** 0.5
    plate.bind("distance", a, b, value=repr(true + plate.random.choice((-0.3, 0.01, 0.5, 9.0))
                                            if true > 1.0 else true + 0.5))


def reference(plate: Plate) -> None:
    """A printed reference value that the part does not have."""
    edge = plate.random.choice(edges(plate))
    plate.bind("distance", edge, value=repr(round(_length(plate, edge) + 1.0, 2)), drives=False)


def speck(plate: Plate) -> None:
    """A line without length at a corner."""
    edge = plate.random.choice(edges(plate))
    a, b = plate.curves[edge]["ends"]
    x, y = plate.points[a]
    plate.line("z1", a, _fixed(plate, "z2", x, y))
    plate.curves[edge]["ends"] = ["z2", b]
    plate.bindings = {name: binding for name, binding in plate.bindings.items()
                      if edge not in binding["of"]}


def bent(plate: Plate) -> None:
    """An edge in two that break by half a degree where they look like one."""
    edge = plate.random.choice(edges(plate))
    a, b = plate.curves[edge]["ends"]
    (ax, ay), (bx, by) = plate.points[a], plate.points[b]
    off = plate.random.choice((-0.004, 0.004))
    images = 2 if plate.mirror else 1
    plate.area -= images * 0.25 * off * _length(plate, edge) ** 2
    middle = _fixed(plate, "z1", 0.5 * (ax + bx) - off * 0.5 * (by - ay),
                    0.5 * (ay + by) + off * 0.5 * (bx - ax))
    plate.line(edge, a, middle)
    plate.line("z2", middle, b)
    plate.bindings = {name: binding for name, binding in plate.bindings.items()
                      if edge not in binding["of"]}


def folded(plate: Plate) -> None:
    """An edge runs on past its corner and straight back."""
    edge = plate.random.choice(edges(plate))
    a, b = plate.curves[edge]["ends"]
    x, y = _along(plate, edge, 1.2)
    tip = _fixed(plate, "z1", x, y)
    plate.line(edge, a, tip)
    plate.line("z2", tip, b)
    plate.bindings = {name: binding for name, binding in plate.bindings.items()
                      if edge not in binding["of"]}


def emptied(plate: Plate) -> None:
    for curve in plate.curves.values():
        curve["role"] = "layout"


def _codes(*names: str) -> frozenset[str]:
    return frozenset(names)


DEFECTS = (
    Defect("gap", _codes("gap", "open"), gap),
    Defect("overrun", _codes("overrun", "gap", "open", "crossing"), overrun),
    Defect("open", _codes("open"), opened),
    Defect("stray", _codes("stray"), stray),
    Defect("doubled", _codes("overlap"), doubled),
    Defect("half doubled", _codes("overlap"), half_doubled),
    Defect("crossing", _codes("crossing"), on_the_edge),
    Defect("detached", _codes("detached"), off_the_plate, known=True),
    Defect("detached in a hole", _codes("detached"), in_a_hole, known=True),
    Defect("loose", _codes("loose"), loose, known=True),
    Defect("clash", _codes("clash"), clash),
    Defect("reference", _codes("reference-differs"), reference, known=True),
    Defect("speck", _codes("speck"), speck),
    Defect("near-tangent", _codes("near-tangent"), bent, known=True),
    Defect("fold", _codes("fold", "overlap"), folded),
    Defect("empty", _codes("empty"), emptied),
)
