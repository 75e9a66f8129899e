"""Typing over what is selected: which dimension a row of the readout stands for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from sketcher.board.dimensions.shown_value import set_shown
from sketcher.board.places.pending_bindings import Tie, Typed, read_typed, typed_tie
from sketcher.board.places.zero import zero_point
from sketcher.board.readout.held_values import QUANTITIES
from sketcher.board.steps.bench import Bench
from sketcher.board.steps.refusals import begun
from sketcher.part.curve_questions import center_of, ends_of
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.kinds import KINDS, measure
from sketcher.part.value import Part

TWINS = {"radius": "diameter", "diameter": "radius"}
"""Kinds that say the same of a round: of two the one typed last stands."""


def name_to_binding(
    part: Part, ids: tuple[str, ...], name: str
) -> tuple[str, tuple[str, ...]] | None:
    """Return kind and operands of the dimension that a row of the selection stands for."""
    if len(ids) == 1:
        return _one_binding(part, ids[0], name)
    if len(ids) == 2:
        return _two_binding(part, ids, name)
    return None


def _one_binding(part: Part, item: str, name: str) -> tuple[str, tuple[str, ...]] | None:
    if item in part.points:
        kind = {"x": "run", "y": "rise"}.get(name)
        return (kind, ("@zero", item)) if kind else None
    curve = part.curves[item]
    center = center_of(curve)
    if center is None:
        kind = {"length": "distance", "angle": "angle", "run": "run", "rise": "rise"}.get(name)
        if kind is None:
            return None
        return kind, (ends_of(curve) if kind in ("run", "rise") else (item,))
    if name in ("radius", "diameter"):
        return name, (item,)
    kind = {"x": "run", "y": "rise"}.get(name)
    return (kind, ("@zero", center)) if kind else None


def _two_binding(
    part: Part, ids: tuple[str, ...], name: str
) -> tuple[str, tuple[str, ...]] | None:
    points = [n for n in ids if n in part.points]
    if len(points) == 2:
        return (name, ids) if name in ("distance", "run", "rise") else None
    lines = [n for n in ids if n in part.curves and part.curves[n].kind == "line"]
    if name == "angle" and len(lines) == 2:
        return "angle", ids
    if name != "distance":
        return None
    if lines and len(lines) + len(points) == 2:
        return "offset", ids
    centers = [c for n in ids if n in part.curves and (c := center_of(part.curves[n])) is not None]
    other = lines + points + centers
    if len(other) != 2 or other[0] == other[1]:
        return None
    return ("offset" if lines else "distance"), tuple(other)


def hold_selected(bench: Bench, name: str, text: str) -> bool:
    """Make or change the dimension that a row of the selection stands for; return whether it is.

    Raises
    ------
    SketcherError
        When the text cannot be understood, or the dimension is refused.
    """
    part, ids = bench.part, bench.selection.geometry(bench.part)
    dimension = lone_dimension(bench)
    if dimension is not None and part.bindings[dimension].kind == name:
        return _set(bench, dimension, text)
    found = name_to_binding(part, ids, name)
    if found is None:
        return False
    quantity = QUANTITIES.get(name, "length")
    typed = read_typed(text, quantity, part, bench.shown_unit, bench.derived.values())
    outcome = bench.do(begun(_said(name, typed_tie(*found, typed), typed), part),
                       _holding(bench, *found, typed), tells=False)
    if outcome.error is not None:
        raise outcome.error
    return True


def lone_dimension(bench: Bench) -> str | None:
    """Return the dimension that is selected, where nothing else is."""
    bindings, ids = bench.part.bindings, bench.selection.ids
    if len(ids) != 1 or ids[0] not in bindings:
        return None
    return ids[0] if KINDS[bindings[ids[0]].kind].quantity is not None else None


def _set(bench: Bench, name: str, text: str) -> bool:
    """Give a dimension a typed value."""
    part = bench.part
    quantity = KINDS[part.bindings[name].kind].quantity or "length"
    typed = read_typed(text, quantity, part, bench.shown_unit, bench.derived.values())
    outcome = bench.do(f"Value of {name}", lambda part: set_shown(part, name, typed.text),
                       tells=False)
    if outcome.error is not None:
        raise outcome.error
    return True


def _said(name: str, tie: Tie, typed: Typed) -> str:
    """Return what holds from now on: ``distance p2 to p7 is 62``, ``X of p3 is 0``."""
    if "@zero" in tie.of:
        return f"{name} of {tie.of[-1]} is {typed.text}"
    phrase = KINDS[tie.kind].phrase(tie.of)
    return phrase if tie.value is None else f"{phrase} is {tie.value}"


def _holding(
    bench: Bench, kind: str, of: tuple[str, ...], typed: Typed
) -> Callable[[Part], Part | Edited]:
    """Return the edit that sets the dimension, or makes it; one that says the same gives way."""
    from sketcher.board.steps.drawing_step import Sketch

    def edit(part: Part) -> Part | Edited:
        tie = typed_tie(kind, of, typed)
        name = _driving(bench, part, kind, of)
        if name is not None and tie.value is not None:
            draft = Draft(part)
            draft.change_binding(name, value=tie.value)
            return draft.done()
        gone = _driving(bench, part, TWINS.get(kind, ""), of)
        draft = Draft(part)
        if gone is not None:
            draft.remove(gone)
        sketch = Sketch(draft.done(), bench.zero)
        sketch.ties((tie,), "")
        made = sketch.finish(bench.solve)
        if gone is None:
            return made
        was = part.bindings[gone]
        return Edited(made, f"{_said(kind, tie, typed)}, in place of {was.kind} {was.value}.")

    return edit


def _driving(bench: Bench, part: Part, kind: str, of: tuple[str, ...]) -> str | None:
    """Return the driving dimension of a kind between operands, where the part has one."""
    zero = zero_point(part, bench.zero)
    meant = _ends(part, (zero if end == "@zero" and zero is not None else end for end in of))
    return next((name for name, binding in part.bindings.items() if binding.kind == kind
                 and binding.drives and _ends(part, binding.of) == meant), None)


def driven_angle(bench: Bench, part: Part, ids: tuple[str, ...]) -> float | None:
    """Return the angle that drives a selected line, in degrees as the drawing says it, or None."""
    found = name_to_binding(part, ids, "angle") if len(ids) == 1 else None
    name = None if found is None else _driving(bench, part, *found)
    return None if name is None else measure(part, part.bindings[name])


def _ends(part: Part, of: Iterable[str]) -> list[str]:
    """Return operands so that a line by itself and its two ends are the same."""
    names = tuple(of)
    if len(names) == 1 and names[0] in part.curves and part.curves[names[0]].kind == "line":
        names = ends_of(part.curves[names[0]])
    return sorted(names)


def first_row(bench: Bench, names: Sequence[str]) -> str:
    """Return the row of the selection where typing begins, of those that take a value.

    That of a dimension which drives it already, its size before its place; a circle is else asked
    for its diameter, as paper prints it, everything for its first row.
    """
    part, ids = bench.part, bench.selection.geometry(bench.part)
    for name in [n for n in names if n not in "xy"] or names:
        found = name_to_binding(part, ids, name)
        if found is not None and _driving(bench, part, *found) is not None:
            return name
    if "diameter" in names and len(ids) == 1 and part.curves[ids[0]].kind == "circle":
        return "diameter"
    return names[0] if names else ""
