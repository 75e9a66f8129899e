"""The part itself: its name, material, thickness and notes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sketcher.board.action_table import Action
from sketcher.board.board import Board
from sketcher.board.window_port import Host
from sketcher.errors import EditError
from sketcher.inspect.words import listed
from sketcher.part.edits.describe import describe as described
from sketcher.part.materials import density_for, material_named, plate_material, plate_materials
from sketcher.part.printed import FRACTION
from sketcher.part.value import Material, Unit
from sketcher.quantity.format import exact
from sketcher.quantity.spelling import spelled
from sketcher.quantity.written import evaluate_written

INDENT = "  "
NOTES_WORDS = ("Each line of the notes is one note, and the sheet numbers them. A line that begins "
               "with a space goes on with the note above it.")
UNITS = {"mm": "mm", "in": "inches"}


def describe(board: Board, host: Host) -> None:
    """Ask for name, material, thickness, density and notes."""
    part = board.part
    as_shown = notes_text(part.notes)

    def take(found: Mapping[str, str]) -> None:
        material = material_of(board, found)
        name = found["name"].strip() or part.name
        notes = part.notes if found["notes"] == as_shown else notes_of(found["notes"])
        outcome = board.bench.do("Set part properties",
                                 lambda part: described(part, name, material, notes), tells=False)
        if outcome.error is not None:
            raise outcome.error

    shown = density_text(part.material.density)

    def follow(found: Mapping[str, str]) -> Mapping[str, str]:
        """Let the density go with the name until somebody types one."""
        nonlocal shown
        if found["density"] != shown:
            return {}
        shown = density_text(density_for(part.material, found["material"]))
        return {"density": shown}

    words = f"{material_words(part.material.name, part.unit)} {NOTES_WORDS}"
    host.ask_form("Part properties", (
        ("name", "Name", part.name), ("material", "Material", part.material.name),
        ("thickness", f"Thickness ({UNITS[part.unit]})",
         part.material.written or exact(part.material.thickness)),
        ("density", "Density (kg per cubic metre)", shown),
        ("notes", "Notes", as_shown),
    ), words, take, long=("notes",), follow=follow)


def material_words(name: str, unit: Unit) -> str:
    """Return which materials are known, and in what thicknesses the one that is named is kept."""
    known = listed([kind.name for kind in plate_materials() if kind.density is not None])
    kind = plate_material(name)
    sizes = kind.thicknesses(unit) if kind is not None else ()
    usual = f" Shops keep {name} of {listed(sizes)} {unit}." if sizes else ""
    return (f"Known materials are {known}; without one there is neither mass nor advice for the "
            f"cut.{usual}")


def density_text(density: float) -> str:
    """Return a density as the form shows it; nothing for one that is not known."""
    return exact(density) if density else ""


def notes_text(notes: Sequence[str]) -> str:
    """Return notes as they are typed: each begins a line, further lines of one are indented."""
    return "\n".join(note.replace("\n", f"\n{INDENT}") for note in notes)


def notes_of(text: str) -> tuple[str, ...]:
    """Return the notes that were typed; empty lines are none."""
    notes: list[str] = []
    for line in text.splitlines():
        if notes and line[:1].isspace():
            notes[-1] += f"\n{line.strip()}"
        elif line.strip():
            notes.append(line.strip())
    return tuple(note.rstrip() for note in notes)


def material_of(board: Board, found: Mapping[str, str]) -> Material:
    """Return the material that a form describes; no density is that of the material, or none.

    Raises
    ------
    SketcherError
        When thickness or density cannot be read or is not above zero.
    """
    unit = board.part.unit
    thickness = evaluate_written(found["thickness"], "length", unit, board.bench.derived.values())
    density = evaluate_written(found["density"], "number", unit, {}) \
        if found["density"].strip() else None
    for name, amount in (("thickness", thickness), ("density", density)):
        if amount is not None and amount <= 0.0:
            raise EditError(f"material.{name}", "is not above zero", "type a positive number")
    typed = found["thickness"].strip()
    written = typed if FRACTION.match(spelled(typed)) else ""
    return material_named(found["material"].strip(), thickness, density, written)


ACTIONS = (
    Action("file.describe", "Part properties ...", describe, "file", ("Ctrl+I",),
           "Sets name, material, thickness and notes."),
)
