"""Put a piece of another part, or of the same one, into a part."""

from __future__ import annotations

from dataclasses import replace

from sketcher.errors import EditError
from sketcher.geometry.curves import XY
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.fragment import in_numbers
from sketcher.part.shift import over
from sketcher.part.splice import finished
from sketcher.part.value import Part, PolarPattern, frozen


def paste(part: Part, piece: Part, step: XY) -> Edited:
    """Add a piece under ids of its own, bound as it was bound within itself.

    A piece in the other unit is converted. Where it comes in the other unit, or a parameter of its
    name has another expression here, its values become plain numbers and patterns stay behind.

    Parameters
    ----------
    part : Part
        The part.
    piece : Part
        What `fragment` returned.
    step : tuple of float
        By how much it moves, in the unit of `part`.

    Returns
    -------
    Edited
        `made` holds the new curves, or the points where there are none.

    Raises
    ------
    EditError
        When the piece is empty.
    SketcherError
        When a value of the piece cannot be converted.
    """
    if not piece.points:
        raise EditError("clipboard", "holds no curve and no point", "copy something first")
    differs = any(part.parameters.get(n, text) != text for n, text in piece.parameters.items())
    plain = differs or piece.unit != part.unit
    left = tuple(piece.patterns) if plain else ()
    if plain:
        piece = in_numbers(piece, part.unit)
    fresh = {n: t for n, t in piece.parameters.items() if n not in part.parameters}
    if fresh:
        part = part.having(parameters=frozen({**part.parameters, **fresh}))
    draft = Draft(part)
    named = {name: draft.point((x + step[0], y + step[1])) for name, (x, y) in piece.points.items()}
    for name, curve in piece.curves.items():
        named[name] = draft.curve(over(curve, named, False))
    for binding in piece.bindings.values():
        draft.binding(replace(binding, of=tuple(named[n] for n in binding.of)))
    for pattern in piece.patterns.values():
        curves = tuple(named[n] for n in pattern.curves)
        draft.pattern(
            replace(pattern, curves=curves, center=named[pattern.center])
            if isinstance(pattern, PolarPattern) else replace(pattern, curves=curves))
    made = [named[name] for name in piece.curves or piece.points]
    said = f"pasted {', '.join(made)}"
    if plain and any(b.value for b in piece.bindings.values()):
        said += f"; values as plain numbers in {part.unit}"
    if left:
        said += f"; without the pattern{'s' if len(left) > 1 else ''} {', '.join(left)}"
    return finished(draft, said, *made)
