"""Doubts in words and numbers: which bindings, which side was taken, what the other would be."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sketcher.geometry.curves import XY
from sketcher.inspect.findings import Finding
from sketcher.inspect.words import bare_length, listed, spot
from sketcher.part.kinds import KINDS
from sketcher.part.value import Doubt, Part, circle_radii

MOST = 3
"""Places that a sentence names."""


def doubt_findings(part: Part) -> Iterator[Finding]:
    """Yield what the sketch could as well mean."""
    for doubt in part.doubts:
        names = tuple(doubt.sides)
        now = {name: part.bindings[name].side or "" for name in names}
        at = next((part.points[name] for name in doubt.points if name in part.points), None)
        yield Finding(
            "doubtful", f"bindings {', '.join(names)}" if len(names) > 1 else names[0],
            _sides(now), f"{_sides(now)} or {_sides(doubt.sides)}, confirmed", names, at,
            in_words(part, doubt))


def in_words(part: Part, doubt: Doubt) -> str:
    """Return both parts that a sketch could mean in one sentence, with sides and places."""
    if not (doubt.points or doubt.radii):
        now = {name: part.bindings[name].side or "" for name in doubt.sides}
        return (f"the sketch is too rough to tell whether {_sides(now)} is meant "
                f"or {_sides(doubt.sides)}")
    taken = [f"{name} ({_said(part, name)}) {part.bindings[name].side}" for name in doubt.sides]
    return (f"the sketch leaves open whether {listed(taken)} is meant{_here(part, doubt)}, "
            f"or {_sides(doubt.sides)}{_there(part, doubt)}")


def doubt_as_dict(part: Part, doubt: Doubt) -> dict[str, object]:
    """Return one doubt as it stands in the JSON: what was taken, and what the other part has."""
    return {
        "ids": list(doubt.sides),
        "taken": {
            "sides": {name: part.bindings[name].side for name in doubt.sides},
            "points": {name: list(part.points[name]) for name in doubt.points},
            "radii": {name: circle_radii(part)[name] for name in doubt.radii},
        },
        "other": {
            "sides": dict(doubt.sides),
            "points": {name: list(at) for name, at in doubt.points.items()},
            "radii": dict(doubt.radii),
        },
    }


def _sides(sides: Mapping[str, str]) -> str:
    return ", ".join(f"{name} {side}" for name, side in sides.items())


def _said(part: Part, name: str) -> str:
    binding = part.bindings[name]
    value = f" {binding.value}" if binding.value else ""
    return f"{KINDS[binding.kind].noun}{value} of {', '.join(binding.of)}"


def _here(part: Part, doubt: Doubt) -> str:
    radii = circle_radii(part)
    return _places(part, {name: part.points[name] for name in doubt.points},
                   {name: radii[name] for name in doubt.radii})


def _there(part: Part, doubt: Doubt) -> str:
    return _places(part, doubt.points, doubt.radii)


def _places(part: Part, points: Mapping[str, XY], radii: Mapping[str, float]) -> str:
    found = [f"{name} at {spot(at, part.unit)}" for name, at in points.items()]
    found += [f"{name} of radius {bare_length(r, part.unit)}" for name, r in radii.items()]
    more = len(found) - MOST
    shown = found[:MOST] + ([f"{more} more"] if more > 0 else [])
    return f" with {listed(shown)}" if shown else ""
