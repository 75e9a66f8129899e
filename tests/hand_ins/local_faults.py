"""Faults at one place of an outline, beside wrong values: the drawing, and what it hides."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from random import Random

from tests.hand_ins.drawer import Drawing
from tests.hand_ins.strokes import Bow, Plate, Ring, Straight, moved


@dataclass(frozen=True)
class Spoiled:
    """A drawing with one fault.

    Parameters
    ----------
    drawing : Drawing
    hides : frozenset of str
        Strokes that no longer show where the values put them.
    elsewhere : Plate or None
        Where a stroke was moved: the outline as it then is, to be asked whether values explain it.
    """

    drawing: Drawing
    hides: frozenset[str] = frozenset()
    elsewhere: Plate | None = None


def none(plate: Plate, random: Random) -> Spoiled:
    return Spoiled(Drawing(list(plate.loops)))


def extra_circle(plate: Plate, random: Random) -> Spoiled:
    """One hole too many, somewhere on the plate."""
    radius = random.uniform(0.015, 0.04) * plate.size
    return Spoiled(Drawing(list(plate.loops), [Ring("extra", _somewhere(plate, random), radius)]))


def stray(plate: Plate, random: Random) -> Spoiled:
    """A short line that belongs to nothing."""
    at = _somewhere(plate, random)
    way = complex(random.uniform(-1.0, 1.0), random.uniform(-1.0, 1.0))
    line = Straight("stray", at, at + way / abs(way) * random.uniform(0.04, 0.2) * plate.size)
    return Spoiled(Drawing(list(plate.loops), [line]))


def without(plate: Plate, name: str) -> Spoiled:
    """A plate whose hole of that name is not drawn."""
    loops = [loop for loop in plate.loops if loop[0].name != name]
    return Spoiled(Drawing(loops), frozenset({name}))


def with_moved(plate: Plate, name: str, by: complex) -> Spoiled:
    """A plate whose hole of that name lies elsewhere."""
    loops = [tuple(moved(stroke, lambda z: z + by) for stroke in loop) if loop[0].name == name
             else loop for loop in plate.loops]
    return Spoiled(Drawing(loops), frozenset({name}), Plate(tuple(loops)))


def missing_hole(plate: Plate, random: Random) -> Spoiled:
    """A circle that was forgotten."""
    return without(plate, random.choice(_rings(plate)).name)


def moved_hole(plate: Plate, random: Random) -> Spoiled:
    """A circle a little off its place."""
    hole = random.choice(_rings(plate))
    by = complex(random.uniform(-1.0, 1.0), random.uniform(-1.0, 1.0))
    by *= random.uniform(0.01, 0.05) * plate.size / abs(by)
    if random.random() < 0.4:
        by = complex(by.real) if random.random() < 0.5 else complex(0.0, by.imag)
    return with_moved(plate, hole.name, by)


def missing_edge(plate: Plate, random: Random) -> Spoiled:
    """An edge that was forgotten."""
    lost = random.choice(_edges(plate))
    loops = [tuple(each for each in loop if each is not lost) for loop in plate.loops]
    whole = [loop for loop, was in zip(loops, plate.loops, strict=True) if len(loop) == len(was)]
    loose = [each for loop in loops if loop not in whole for each in loop]
    return Spoiled(Drawing(whole, loose), frozenset({lost.name}))


def gap(plate: Plate, random: Random) -> Spoiled:
    """An edge that ends too early."""
    short = random.choice(_edges(plate))
    length = abs(short.end - short.start)
    share = min(random.uniform(0.002, 0.01) * plate.size / length, 0.3)
    cut = replace(short, end=short.at(1.0 - share))
    loops = [tuple(cut if each is short else each for each in loop) for loop in plate.loops]
    return Spoiled(Drawing(loops))


FAULTS: dict[str, Callable[[Plate, Random], Spoiled]] = {
    "none": none, "extra circle": extra_circle, "missing hole": missing_hole,
    "missing edge": missing_edge, "moved hole": moved_hole, "gap": gap, "stray": stray}


def _rings(plate: Plate) -> list[Ring]:
    return [each for each in plate.strokes if isinstance(each, Ring)]


def _edges(plate: Plate) -> list[Straight | Bow]:
    """The straight edges; the arcs of a plate that has none."""
    straight: list[Straight | Bow] = [s for s in plate.strokes if isinstance(s, Straight)]
    return straight or [s for s in plate.strokes if isinstance(s, Bow)]


def _somewhere(plate: Plate, random: Random) -> complex:
    """A place within the outline's box."""
    places = [z for stroke in plate.loops[0] for z in stroke.numbers]
    return complex(random.uniform(min(z.real for z in places), max(z.real for z in places)),
                   random.uniform(min(z.imag for z in places), max(z.imag for z in places)))
