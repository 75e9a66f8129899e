"""Mistakes in an outline, by rule of marking: how each is drawn."""

from __future__ import annotations

from cmath import exp
from dataclasses import replace
from itertools import pairwise
from math import radians

from tests.hand_ins.draft import Draft, Plant
from tests.hand_ins.strokes import Bow, Ring, Straight, Stroke, moved


def value(rule: str = "wrong-value", **changes: float) -> Plant:
    """Dimensions drawn with other values; the paper's names, ``_`` for ``.`` in them."""
    def make(draft: Draft) -> None:
        draft.changes.update({name.replace("_", "."): amount for name, amount in changes.items()})
    return Plant(rule, "values", make, len(changes))


def parameter(name: str, amount: float) -> Plant:
    """A parameter drawn with another value."""
    return Plant("wrong-value", "values", lambda draft: draft.changes.update({name: amount}))


def gap(name: str, mm: float) -> Plant:
    """A stroke that ends too early."""
    def make(draft: Draft) -> None:
        draft.swap(name, _longer(draft.stroke(name), -mm * draft.mm))
    return Plant("open-gap", "outline", make)


def overrun(name: str, mm: float) -> Plant:
    """A straight edge that runs past its end."""
    def make(draft: Draft) -> None:
        draft.swap(name, _longer(draft.edge(name), mm * draft.mm))
    return Plant("overrun", "outline", make)


def _longer(stroke: Stroke, by: float) -> Stroke:
    assert not isinstance(stroke, Ring)
    if isinstance(stroke, Bow):
        return replace(stroke, end=stroke.at(1.0 + by / abs(stroke.radius * stroke.sweep)))
    return replace(stroke, end=stroke.at(1.0 + by / abs(stroke.end - stroke.start)))


def loose(rule: str, *strokes: Stroke) -> Plant:
    """Strokes too many."""
    return Plant(rule, "outline", lambda draft: draft.drawing.loose.extend(strokes))


def twice(name: str) -> Plant:
    """A stroke drawn a second time."""
    return Plant("doubled", "outline",
                 lambda draft: draft.drawing.loose.append(draft.stroke(name)))


def missing(*names: str) -> Plant:
    """Strokes left out: one hole or edge, or a whole loop."""
    def make(draft: Draft) -> None:
        for name in names:
            draft.swap(name)
    return Plant("missing-feature", "outline", make)


def shifted(name: str, by: complex) -> Plant:
    """A hole a little off."""
    def make(draft: Draft) -> None:
        draft.swap(name, moved(draft.hole(name), lambda z: z + by))
    return Plant("misplaced", "outline", make)


def resized(name: str, factor: float) -> Plant:
    """A hole of another size than its image."""
    def make(draft: Draft) -> None:
        hole = draft.hole(name)
        draft.swap(name, replace(hole, radius=factor * hole.radius))
    return Plant("wrong-size", "outline", make)


def secant(edge: str, bow: str, degrees: float) -> Plant:
    """An edge that ends on a round beside where it would touch it; the round goes to meet it."""
    def make(draft: Draft) -> None:
        line, rim = draft.edge(edge), draft.bow(bow)
        end = rim.center + (rim.start - rim.center) * exp(1j * radians(degrees))
        draft.swap(edge, replace(line, end=end))
        draft.swap(bow, replace(rim, start=end))
    return Plant("not-tangent", "outline", make)


def tilted(edge: str, following: str, by: complex) -> Plant:
    """An edge whose end is moved along the edge that follows."""
    def make(draft: Draft) -> None:
        line, after = draft.edge(edge), draft.edge(following)
        draft.swap(edge, replace(line, end=line.end + by))
        draft.swap(following, replace(after, start=after.start + by))
    return Plant("wrong-angle", "outline", make)


def chords(name: str, many: int) -> Plant:
    """An arc drawn in straight pieces."""
    def make(draft: Draft) -> None:
        bow = draft.bow(name)
        places = [bow.at(n / many) for n in range(many + 1)]
        draft.swap(name, *(Straight(f"{name} {n}", a, b) for n, (a, b) in enumerate(
            pairwise(places))))
    return Plant("chords-for-arc", "outline", make)


def broken_mirror(across: tuple[str, ...], by: complex) -> Plant:
    """A half that was reflected about an axis off its place: all of its strokes moved.

    Strokes that lie across the axis are drawn in two, each half with its own.
    """
    def make(draft: Draft) -> None:
        for stroke in draft.drawing.strokes:
            if stroke.name.endswith("'"):
                draft.swap(stroke.name, moved(stroke, lambda z: z + by))
            elif stroke.name in across:
                assert not isinstance(stroke, Ring)
                one, other = (replace(stroke, end=stroke.at(0.5)),
                              replace(stroke, start=stroke.at(0.5)))
                if stroke.start.real < 0.0:
                    one = moved(one, lambda z: z + by)
                else:
                    other = moved(other, lambda z: z + by)
                draft.swap(stroke.name, one, other)
    return Plant("not-mirrored", "outline", make)


def turned(degrees: float, mirrored: bool = False) -> Plant:
    """A drawing that lies otherwise on its sheet."""
    def make(draft: Draft) -> None:
        draft.manner = replace(draft.manner, turn=degrees, mirrored=mirrored)
    return Plant("turned-or-mirrored", "manner", make)


def wrong_header() -> Plant:
    """Numbers in one unit under a header that says the other."""
    def make(draft: Draft) -> None:
        unit, other = ("in", "mm") if draft.manner.unit == "mm" else ("mm", "in")
        version = draft.manner.version if draft.manner.version != "R12" else "R2000"
        draft.manner = replace(draft.manner, unit=unit, header=other, told=True, version=version)
    return Plant("wrong-unit", "manner", make)


def scaled(scale: float) -> Plant:
    """A part that is not drawn at its true size, and nothing says so."""
    def make(draft: Draft) -> None:
        draft.manner = replace(draft.manner, scale=scale)
    return Plant("scale", "manner", make)
