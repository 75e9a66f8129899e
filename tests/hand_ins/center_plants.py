"""Mistakes in center lines, by rule of marking: how each is drawn."""

from __future__ import annotations

from cmath import phase
from dataclasses import replace
from math import degrees

from tests.hand_ins.book import CenterLine, across, straight
from tests.hand_ins.draft import Draft, Plant
from tests.hand_ins.strokes import Ring, Straight


def unmarked(*names: str) -> Plant:
    """Center lines left out."""
    def make(draft: Draft) -> None:
        for name in names:
            draft.redraw(name)
    return Plant("center-mark-missing", "centers", make)


def pathless() -> Plant:
    """A curved slot without the line along its middle."""
    return replace(unmarked("path"), rule="arc-center-line")


def on_outline() -> Plant:
    """Center lines on the layer of the outline."""
    def make(draft: Draft) -> None:
        draft.manner = replace(draft.manner, center_layer=draft.manner.layer)
    return Plant("center-line-layer", "manner", make)


def unbroken(name: str) -> Plant:
    """A center line without gaps about the plus."""
    def make(draft: Draft) -> None:
        line = draft.line(name)
        draft.redraw(name, CenterLine(name, (Straight(name, line.start, line.end),)))
    return Plant("plus-covered", "centers", make)


def reaching(rule: str, name: str, hole: str, past: float, past_end: float | None = None) -> Plant:
    """A center line that runs so many mm past its hole, at its end by another amount."""
    def make(draft: Draft) -> None:
        line, ring = draft.line(name), draft.hole(hole)
        way = (line.end - line.start) / abs(line.end - line.start)
        more = past if past_end is None else past_end
        draft.redraw(name, straight(name, ring.center - way * (ring.radius + past * draft.mm),
                                    ring.center + way * (ring.radius + more * draft.mm),
                                    [ring], draft.mm))
    return Plant(rule, "centers", make)


def line_twice(name: str) -> Plant:
    """A center line drawn a second time."""
    def make(draft: Draft) -> None:
        draft.redraw(name, draft.line(name), draft.line(name))
    return Plant("center-line-doubled", "centers", make)


def without_axis() -> Plant:
    """A strap without its axis: the eye has its own two lines."""
    def make(draft: Draft) -> None:
        draft.redraw("axis", across("eye up", draft.hole("eye"), 90.0, draft.mm))
    return Plant("axis-missing", "centers", make)


def not_joined(*names: str) -> Plant:
    """Holes of a pattern each with a mark of its own, and no line from one to the next."""
    def make(draft: Draft) -> None:
        for name in names:
            draft.redraw(name)
        rings = [s for s in draft.drawing.strokes
                 if isinstance(s, Ring) and s.name.startswith(("row hole", "bolt"))]
        for ring in rings:
            angles = (0.0, 90.0) if ring.name.startswith("row") else _beside_radial(draft, ring)
            draft.lines += [across(f"{ring.name} {angle:g}", ring, angle, draft.mm)
                            for angle in angles]
    return Plant("pattern-not-joined", "centers", make)


def _beside_radial(draft: Draft, ring: Ring) -> tuple[float, ...]:
    """A bolt has its radial line already; the other one is square to that."""
    return (degrees(phase(ring.center)) + 90.0,)
