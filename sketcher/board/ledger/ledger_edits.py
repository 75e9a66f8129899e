"""Changing the ledger's rows: each function returns why it was refused, or an empty text."""

from __future__ import annotations

import re
from dataclasses import dataclass

from sketcher.board.dimensions.shown_value import set_shown
from sketcher.board.ledger.ledger_rows import FOLLOWS
from sketcher.board.steps.bench import Bench, Edit
from sketcher.errors import SketcherError
from sketcher.part import kinds
from sketcher.part.edits.add_binding import add_binding
from sketcher.part.edits.remove_binding import remove_binding
from sketcher.part.edits.remove_parameter import remove_parameter
from sketcher.part.edits.rename import rename
from sketcher.part.edits.rename_parameter import rename_parameter
from sketcher.part.edits.reorder_binding import reorder_binding
from sketcher.part.edits.set_drives import set_drives
from sketcher.part.edits.set_parameter import set_parameter
from sketcher.part.edits.set_spacing import set_spacing
from sketcher.part.edits.set_tolerance import set_tolerance
from sketcher.part.edits.set_value import set_value
from sketcher.part.kinds import KINDS
from sketcher.part.value import Part
from sketcher.quantity.written import evaluate_written

YES, NO = {"drives", "driving", "yes", "true", "1"}, {"reference", "ref", "no", "false", "0"}


def tried(bench: Bench, name: str, edit: Edit) -> str:
    """Do an edit; return why it was refused, or an empty text when it was done or changed nothing.

    The reason is for the field where the input stands; the status line stays as it was.
    """
    return bench.do(name, edit, tells=False).why


def set_cell(bench: Bench, row: str, field: str, text: str) -> str:
    """Change one field of a row.

    Parameters
    ----------
    bench : Bench
    row : str
        Id of the binding, or of a number of a pattern (``g1.step1``), which has a value alone.
    field : str
        ``"id"``, ``"value"``, ``"drives"`` or ``"tolerance"``.
    text : str
        What was typed.

    Returns
    -------
    str
        Why it was refused; empty when it was taken.
    """
    text = text.strip()
    if field == "id":
        return tried(bench, f"Rename {row}", lambda part: rename(part, row, text))
    if field == "value":
        binding = bench.part.bindings.get(row)
        drives = binding is None or binding.drives
        if not text and drives:
            return "a dimension needs a value; type the one that the paper prints"
        if not drives and text in ("", FOLLOWS):
            return tried(bench, f"Let {row} follow", lambda part: set_value(part, row, ""))
        if "." in row:
            return tried(bench, f"Set {row} to {text}", lambda part: set_spacing(part, row, text))
        return tried(bench, f"Set {row} to {text}", lambda part: set_value(part, row, text))
    if field == "drives":
        word = text.lower()
        if word not in YES | NO:
            return "type drives or reference"
        return set_driving(bench, row, word in YES)
    if field == "tolerance":
        return _set_tolerance(bench, row, text)
    return "this column cannot be changed"


def set_as_shown(bench: Bench, row: str, text: str) -> str:
    """Change a value where it stands on the desk: across an axis it is meant for the whole.

    Returns
    -------
    str
        Why it was refused; empty when it was taken.
    """
    text = text.strip()
    if row not in bench.part.bindings or not text:
        return set_cell(bench, row, "value", text)
    return tried(bench, f"Set {row} to {text}", lambda part: set_shown(part, row, text))


def set_driving(bench: Bench, row: str, drives: bool) -> str:
    """Make a dimension drive, or make it a reference dimension."""
    what = "drive" if drives else "a reference dimension"
    return tried(bench, f"Make {row} {what}", lambda part: set_drives(part, row, drives))


def _set_tolerance(bench: Bench, row: str, text: str) -> str:
    binding = bench.part.bindings.get(row)
    if binding is None:
        return "there is no such row any more"
    quantity = KINDS[binding.kind].quantity
    if quantity is None:
        return f"'{binding.kind}' has no value that could have a tolerance"
    try:
        tolerance = read_tolerance(text, quantity, bench.part)
    except SketcherError as error:
        return error.reason
    return tried(bench, f"Set the tolerance of {row}",
                 lambda part: set_tolerance(part, row, tolerance))


def read_tolerance(text: str, quantity: str, part: Part) -> tuple[float, float] | None:
    """Return upper and lower deviation from text; None for an empty text.

    One value counts for both directions (``0.1`` or ``\N{PLUS-MINUS SIGN}0.1``); two are the upper
    and the lower one, apart by a space or a slash (``+0.1 -0.05``, ``+0.1/0``).

    Raises
    ------
    SketcherError
        When a value cannot be understood.
    """
    text = text.strip()
    if not text:
        return None
    if text[0] == "\N{PLUS-MINUS SIGN}" or text.startswith("+-"):
        text = text.removeprefix("\N{PLUS-MINUS SIGN}").removeprefix("+-")
        amount = abs(evaluate_written(text.strip(), quantity, part.unit))
        return (amount, -amount)
    values = [evaluate_written(word.lstrip("+"), quantity, part.unit)
              for word in re.split(r"\s*/\s*(?=[+-]|0\b)|\s+(?=[+-]|0\b)", text)]
    if len(values) == 1:
        return (abs(values[0]), -abs(values[0]))
    if len(values) == 2:
        return (max(values), min(values))
    raise SketcherError("tolerance", "has more than two values", "give the upper and the lower one")


def drop(bench: Bench, *rows: str) -> str:
    """Take rows away."""
    return tried(bench, f"Drop {', '.join(rows)}", lambda part: remove_binding(part, *rows))


def reorder(bench: Bench, row: str, position: int) -> str:
    """Move a row to a position in the ledger."""
    return tried(bench, f"Move {row}", lambda part: reorder_binding(part, row, position))


# New rows.


@dataclass(frozen=True, slots=True)
class FittingKind:
    """A kind that fits the selection: its name, hint, and what a new dimension would measure."""

    kind: str
    hint: str
    quantity: str | None
    measured: float | None = None

    @property
    def label(self) -> str:
        """What the kind is called on its button."""
        return KINDS[self.kind].label


def fitting_kinds(bench: Bench) -> tuple[FittingKind, ...]:
    """Return the kinds that fit what is selected, those without a value first."""
    part, ids = bench.part, bench.selection.geometry(bench.part)
    found = []
    for name in kinds.fitting(part, ids) if ids else ():
        kind = KINDS[name]
        try:
            binding = kinds.bind(part, name, ids)
            measured = kinds.measure(part, binding) if kind.quantity else None
        except SketcherError:
            continue  # a value that cannot be measured here: parallel lines have no angle
        found.append(FittingKind(name, kind.hint, kind.quantity, measured))
    return tuple(sorted(found, key=lambda choice: choice.quantity is not None))


def make(bench: Bench, kind: str, value: str | None = None, drives: bool = True) -> str:
    """Make a binding of the selection, in the order of picking."""
    ids = bench.selection.geometry(bench.part)
    before = set(bench.part.bindings)
    reason = tried(bench, f"Bind {kind}",
                   lambda part: add_binding(part, kind, ids, value or None, drives))
    if not reason:
        bench.select([name for name in bench.part.bindings if name not in before])
    return reason


# Parameters.


def set_parameter_cell(bench: Bench, name: str, field: str, text: str) -> str:
    """Change a parameter's name or expression."""
    text = text.strip()
    if field == "name":
        return tried(bench, f"Rename {name}", lambda part: rename_parameter(part, name, text))
    return tried(bench, f"Set {name}", lambda part: set_parameter(part, name, text))


def add_parameter(bench: Bench, name: str, text: str) -> str:
    """Add a parameter."""
    name = name.strip()
    if name in bench.part.parameters:
        return f"there is a parameter named {name} already; change that one"
    return tried(bench, f"Add {name}", lambda part: set_parameter(part, name, text.strip()))


def drop_parameter(bench: Bench, name: str) -> str:
    """Take a parameter away."""
    return tried(bench, f"Drop {name}", lambda part: remove_parameter(part, name))
