"""What each dimension of the part measures and says, on the sheet.

`measured(part, view)` returns everything that the sheet dimensions, each said once, in values of
`paper_measures`: where it is taken, on paper, its wording, and the bindings that it stands for.
`binding_reader` reads lengths and angles, `round_sizes` radii and diameters, `pattern_steps` the
steps of patterns; `said_once` merges what says the same. The screen, which shows every binding,
uses the same parts.

Nothing here knows where on the paper a dimension comes to stand; that is `layout`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from sketcher.drafting.dimension_text import Wording, wording
from sketcher.drafting.measured.binding_reader import BindingReader, across, points_of
from sketcher.drafting.measured.chamfer_callouts import ChamferCallouts, chamfers_among
from sketcher.drafting.measured.layout_sides import LayoutSides
from sketcher.drafting.measured.numbers import with_balloons
from sketcher.drafting.measured.paper_measures import (
    Measured,
    MeasuredAngle,
    MeasuredLength,
    MeasuredRound,
    Wedge,
)
from sketcher.drafting.measured.pattern_steps import steps_of
from sketcher.drafting.measured.round_sizes import RoundSizes
from sketcher.drafting.measured.said_once import Once
from sketcher.drafting.measured.shown_rounds import ShownRounds
from sketcher.drafting.measured.slot_callouts import SlotCallouts
from sketcher.drafting.measured.wedges import against_level, between_lines, opening, upright
from sketcher.drafting.measured.without_holes import without_holes
from sketcher.drafting.paper_view import View
from sketcher.drafting.slots import slots_among
from sketcher.drafting.traced import Traced
from sketcher.drafting.unsaid import unsaid
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.inspect.detached import without_detached
from sketcher.part.dimension_form import DimensionForm, Radial
from sketcher.part.kinds import KINDS
from sketcher.part.part_size import part_size
from sketcher.part.value import Binding, Part
from sketcher.part.whole import Piece, curve_value, middle, whole

__all__ = ["BindingReader", "Measured", "MeasuredAngle", "MeasuredLength", "MeasuredRound",
           "Wedge", "across", "against_level", "between_lines", "measured", "not_shown", "opening",
           "shown_factor", "steps_of", "upright"]

DOT = 0.01
"""Radius in mm of the round that stands for a place which a leader points at."""

REACH = 0.5
"""Share of the part's size over which two holes are seen to lie on one level, as their center
lines are joined (common practice, no source)."""

SAID = ".said"
"""Behind the id of a condition whose dimension says it."""

NEAR = 1e-6
"""Share of the part's size within which two places are one."""

_last: tuple[Mapping[str, Binding], Mapping[str, object], frozenset[str]] | None = None


def measured(part: Part, view: View) -> tuple[Measured, ...]:
    """Return everything that the sheet dimensions: bindings with a value, then pattern steps.

    What says where something detached lies, or how large it is, is not drawn, nor is the thing.
    """
    pieces = without_detached(whole(part))
    gone = not_shown(part, pieces)
    forms = _forms(part, gone)
    near = NEAR * part_size(part)
    near_on_paper = near * view.factor
    rounds = ShownRounds(part, view, pieces)
    slots = SlotCallouts(part, rounds, slots_among(pieces), near_on_paper)
    sizes = RoundSizes(part, pieces, rounds, slots, {
        name: (b, form) for name, (b, form) in forms.items() if isinstance(form, Radial)})
    reader = BindingReader(part, view, any(piece.image.mirrors for piece in pieces))
    found: list[Measured] = []
    for name, (binding, form) in forms.items():
        read = sizes.of(name) if isinstance(form, Radial) else reader.read(name, binding, form)
        found += (replace(one, stands_for=(name.removesuffix(SAID),)) for one in read) \
            if name.endswith(SAID) else read
    for name, pattern in part.patterns.items():
        if gone.isdisjoint(pattern.curves):
            found += steps_of(part, view, name)
    found += _labels(part, view)
    found = slots.otherwise(found, sizes.sized, lambda name, count, factor: wording(
        part, part.bindings[name], count, factor, ""))
    chamfers = ChamferCallouts(part, view, chamfers_among(pieces, near), near_on_paper)
    edges = [curve for p in pieces if p.role == "outline"
             and isinstance(curve := view.curve(p.curve), Line)]
    centers = [view.point(at) for at in (
        *(p.curve.center for p in pieces if isinstance(p.curve, Circle)),
        *(end for slot in slots.every for end in slot.ends))]
    once = Once(part, near_on_paper, _spare(part), edges, centers,
                REACH * part_size(part) * view.factor)
    said = once.of(chamfers.merged(found))
    if part.drawing.balloons or part.drawing.inspection_page:
        said = with_balloons(said)
    return without_holes(part, view, pieces, said, near_on_paper) if part.drawing.hole_table else (
        said)


def _forms(
    part: Part, gone: frozenset[str]
) -> dict[str, tuple[Binding, DimensionForm | None]]:
    """Return the bindings with a value as the sheet shows them, each with its form."""
    traced = Traced(part)
    sides = LayoutSides(part, traced)
    found: dict[str, tuple[Binding, DimensionForm | None]] = {}
    for name, binding in part.bindings.items():
        kind = KINDS[binding.kind]
        if kind.quantity is None or not gone.isdisjoint(binding.of) or sides.is_idle(binding):
            continue
        shown = traced.shown(binding)
        if shown is not None:
            found[name] = (shown, sides.seated(kind.dimension(part, shown.of)))
    for name, binding in unsaid(part).dimensions.items():
        if gone.isdisjoint(binding.of):
            found[name + SAID] = (binding, KINDS[binding.kind].dimension(part, binding.of))
    return found


def _labels(part: Part, view: View) -> Iterator[MeasuredRound]:
    """Give the letters by which notes name curves and points."""
    for letter, name in unsaid(part).letters.items():
        if name in part.points:
            at: Arc | Circle = Circle(view.point(part.points[name]), DOT)
        else:
            curve = view.curve(curve_value(part, part.curves[name]))
            at = Circle(middle(curve), DOT) if isinstance(curve, Line) else curve
        yield MeasuredRound(f"letter {letter}", at, isinstance(at, Circle), Wording(letter),
                            label=True)


def shown_factor(part: Part, name: str) -> float:
    """Return how many times its binding's value a dimension shows: 2 across an axis, else 1."""
    binding = part.bindings[name]
    form = KINDS[binding.kind].dimension(part, binding.of)
    return BindingReader(part, View(), bool(part.mirrors)).factor(form)


def not_shown(part: Part, pieces: Sequence[Piece]) -> frozenset[str]:
    """Return the drawn curves that are not among the pieces, and the points that only they have."""
    there = {piece.id for piece in pieces}
    gone = {name for name in part.curves if name not in there}
    kept = points_of(part, part.curves.keys() - gone)
    return frozenset(gone | (points_of(part, gone) - kept))


def _spare(part: Part) -> frozenset[str]:
    """Return the bindings that follow from all others; asked once for all scales of a sheet."""
    from sketcher.solve.freedom import freedoms
    from sketcher.solve.system import System

    global _last
    last = _last  # another thread may put its own part there
    if last is not None and last[0] is part.bindings and last[1] is part.points:
        return last[2]
    system = System(part)
    found = frozenset(freedoms(system, system.x0).doubled)
    _last = (part.bindings, part.points, found)
    return found
