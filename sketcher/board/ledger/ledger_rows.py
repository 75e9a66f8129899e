"""The ledger: one row a binding, in the order of the paper drawing, and the parameters above it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, TypeAlias

from sketcher.board.ledger.doubt_question import doubt_reason
from sketcher.board.readout.readout_content import shown
from sketcher.board.steps.bench import Bench, listed
from sketcher.errors import SketcherError
from sketcher.part import kinds
from sketcher.part.kinds import KINDS
from sketcher.part.part_size import part_size
from sketcher.part.value import Binding, Part
from sketcher.quantity.format import angle as angle_text
from sketcher.quantity.format import length as length_text
from sketcher.quantity.parse import names_in

RowState: TypeAlias = Literal["ok", "doubled", "clashing", "doubtful", "off", "unreadable"]
ROUNDED = 1e-12
"""What is less is the rounding of the machine, in millimetres, inches or degrees, and read as 0."""
Field: TypeAlias = Literal["id", "kind", "of", "value", "actual", "residual", "drives",
                           "tolerance", "state"]
NOUNS = {"line": "line", "arc": "arc", "circle": "circle"}
FOLLOWS = "drawn"
"""Stands for the value of a reference dimension that says what it measures."""
REACHED = 1e-9
"""Share of the wanted value (of 1 for small ones) within which a dimension counts as reached."""


@dataclass(frozen=True, slots=True)
class LedgerRow:
    """One binding as the ledger shows it.

    Parameters
    ----------
    id, kind : str
        Id and kind of the binding.
    ids : tuple of str
        Points and curves that it binds.
    of : str
        The same in words: ``line e1, arc a2``.
    said : str
        The whole binding in words: ``e1 square to e4``.
    quantity : str or None
        ``"length"``, ``"angle"`` or None for a kind without a value.
    value : str
        Expression as typed; `FOLLOWS`, or empty for a kind without a value.
    wanted, actual, residual : float or None
        In the part's unit or degrees; the residual of a kind without a value is a length.
    actual_text, residual_text : str
        As shown, in the unit on display.
    drives : bool
        False for a reference dimension.
    tolerance : str
        ``+0.1 -0.2``, ``\N{PLUS-MINUS SIGN}0.1`` or empty.
    state : str
        ``"ok"``; ``"doubled"``; ``"clashing"``, also of a value that cannot be had;
        ``"doubtful"`` while the sketch could as well mean its other side; ``"off"`` for a
        reference dimension that is not what it says, or a binding that does not hold;
        ``"unreadable"`` for a bad expression.
    partners : tuple of str
        Bindings that it clashes with.
    reason : str
        What is wrong, in a sentence; empty when nothing is.
    """

    id: str
    kind: str
    ids: tuple[str, ...]
    of: str
    said: str
    quantity: str | None
    value: str
    wanted: float | None
    actual: float | None
    residual: float | None
    actual_text: str
    residual_text: str
    drives: bool
    tolerance: str
    state: RowState
    partners: tuple[str, ...] = ()
    reason: str = ""

    @property
    def label(self) -> str:
        """What the kind is called where it is read."""
        return KINDS[self.kind].label


@dataclass(frozen=True, slots=True)
class ParameterRow:
    """One parameter: expression, value as text, the bindings and parameters that use it."""

    name: str
    text: str
    value: str
    used_by: tuple[str, ...]
    reason: str = ""


def in_words(part: Part, name: str) -> str:
    """Return what an id is, in words: ``line e1``, ``hole h1``, ``point p3``."""
    if name in part.points:
        return f"point {name}"
    curve = part.curves.get(name)
    if curve is None:
        return name
    if curve.role == "axis":
        return f"axis {name}"
    noun = NOUNS[curve.kind]
    return f"layout {noun} {name}" if curve.role == "layout" else f"{noun} {name}"


def ledger_rows(bench: Bench) -> tuple[LedgerRow, ...]:
    """Return every binding as a row, in the part's order."""
    clashes: dict[str, tuple[str, ...]] = {}
    for clash in bench.report.clashes:
        for name in clash:
            others = tuple(other for other in clash if other != name)
            clashes[name] = tuple(dict.fromkeys((*clashes.get(name, ()), *others)))
    unreached = frozenset(bench.report.unreached)
    doubled = frozenset(bench.report.doubled)
    size = part_size(bench.part)
    return tuple(
        _row(bench, size, name, binding, clashes.get(name), name in doubled,
             name in unreached)
        for name, binding in bench.part.bindings.items()
    )


def _row(
    bench: Bench, size: float, name: str, binding: Binding, clash: tuple[str, ...] | None,
    doubled: bool, unreached: bool,
) -> LedgerRow:
    part, quantity = bench.part, KINDS[binding.kind].quantity
    follows = binding.follows and quantity is not None
    wanted = actual = residual = None
    state: RowState = "ok"
    reason = ""
    try:
        actual = kinds.measure(part, binding)
        wanted = actual if follows else kinds.wanted(part, binding)
        residual = actual - (wanted or 0.0)
    except SketcherError as error:
        state, reason = "unreadable", str(error)
    if clash is not None:
        state = "clashing"
        reason = f"cannot hold together with {listed(clash)}" if clash else "cannot hold at all"
    elif unreached:
        state, reason = "clashing", f"cannot be {binding.value} here"
    elif doubled:
        state, reason = "doubled", "redundant: it follows from the other bindings"
    elif state == "ok" and (doubt := doubt_reason(part, name)):
        state, reason = "doubtful", doubt
    elif state == "ok" and residual is not None and _is_off(
            residual, max(1.0, abs(wanted or 0.0)) if quantity == "angle" else size):
        state = "off"
        reason = "does not hold" if binding.drives else "is not what the drawing says"
    shape = quantity or "length"
    return LedgerRow(
        name, binding.kind, binding.of, ", ".join(in_words(part, n) for n in binding.of),
        KINDS[binding.kind].phrase(binding.of), quantity,
        FOLLOWS if follows else binding.value or "", wanted, actual, residual,
        "" if actual is None or quantity is None else shown(bench, shape, actual),
        "" if residual is None else residual_text(residual), binding.drives,
        tolerance_text(binding, part.unit), state, clash or (), reason,
    )


def _is_off(residual: float, size: float) -> bool:
    """Tell whether a residual is more than what a solve leaves, by the size of what is measured."""
    return abs(residual) > 10.0 * REACHED * size


def residual_text(residual: float) -> str:
    """Return a residual with three digits, and 0 where it is rounding."""
    return "0" if abs(residual) < ROUNDED else f"{residual:+.3g}"


def tolerance_text(binding: Binding, unit: str) -> str:
    """Return a tolerance as the ledger shows it."""
    if binding.tolerance is None:
        return ""
    upper, lower = binding.tolerance

    def text(value: float) -> str:
        if KINDS[binding.kind].quantity == "angle":
            return angle_text(value).rstrip("\N{DEGREE SIGN}")
        return length_text(value, unit)

    if upper == -lower:
        return f"\N{PLUS-MINUS SIGN}{text(upper)}"
    return " ".join(f"{'+' if value > 0 else ''}{text(value)}" for value in (upper, lower))


# Finding and sorting.


def parted(
    rows: Iterable[LedgerRow],
) -> tuple[tuple[str, tuple[LedgerRow, ...]], ...]:
    """Return the rows in their two sections, dimensions and relations, each with its title.

    A section without rows is left out.
    """
    rows = tuple(rows)
    sections = (("Dimensions", tuple(row for row in rows if row.quantity is not None)),
                ("Relations", tuple(row for row in rows if row.quantity is None)))
    return tuple((title, found) for title, found in sections if found)

def filtered(rows: Iterable[LedgerRow], words: str = "", only: str = "") -> tuple[LedgerRow, ...]:
    """Return the rows that hold every word, and that are of one sort.

    Parameters
    ----------
    rows : iterable of LedgerRow
    words : str
        Words that all must occur in id, kind, operands, value or state, in any order.
    only : str
        ``"dimensions"``, ``"relations"``, ``"references"``, ``"trouble"``, a kind's name, or empty
        for all.
    """
    wanted = words.lower().split()
    found = []
    for row in rows:
        text = " ".join((row.id, row.kind, row.label, row.of, row.said, row.value, row.state,
                         row.tolerance)).lower()
        if all(word in text for word in wanted) and _is_of(row, only):
            found.append(row)
    return tuple(found)


def _is_of(row: LedgerRow, only: str) -> bool:
    match only:
        case "":
            return True
        case "dimensions":
            return row.quantity is not None
        case "relations":
            return row.quantity is None
        case "references":
            return not row.drives
        case "trouble":
            return row.state != "ok"
        case _:
            return row.kind == only


def ordered(
    rows: Iterable[LedgerRow], field: Field, descending: bool = False
) -> tuple[LedgerRow, ...]:
    """Return the rows sorted by a field; numbers by size, ids by letter and number."""

    def key(row: LedgerRow) -> tuple[object, ...]:
        if field in ("actual", "residual"):
            value = getattr(row, field)
            return (value is None, abs(value) if field == "residual" and value else value or 0.0)
        if field == "id":
            letters = row.id.rstrip("0123456789")
            return (letters, int(row.id[len(letters):] or 0))
        return (str(getattr(row, field)),)

    return tuple(sorted(rows, key=key, reverse=descending))


def find(rows: Iterable[LedgerRow], ids: Iterable[str]) -> tuple[str, ...]:
    """Return the rows that bind any of some points or curves, or are among the ids themselves."""
    wanted = set(ids)
    return tuple(row.id for row in rows if row.id in wanted or not wanted.isdisjoint(row.ids))


# Parameters.


def parameter_rows(bench: Bench) -> tuple[ParameterRow, ...]:
    """Return every parameter as a row."""
    part = bench.part
    values = bench.derived.values()
    trouble = {} if values or not part.parameters else _trouble(part)
    return tuple(
        ParameterRow(name, text, _value_text(bench, name, values), used_by(part, name),
                     trouble.get(name, ""))
        for name, text in part.parameters.items()
    )


def _value_text(bench: Bench, name: str, values: object) -> str:
    value = values.get(name) if hasattr(values, "get") else None
    if value is None:
        return ""
    dimension = value.dimension
    quantity = "angle" if dimension.angle else "length" if dimension.length == 1 else "number"
    return shown(bench, quantity, value.amount)


def _trouble(part: Part) -> dict[str, str]:
    from sketcher.quantity.parameters import evaluate_all

    try:
        evaluate_all(part.parameters, part.unit)
    except SketcherError as error:
        return {error.place.removeprefix("parameters."): str(error)}
    return {}


def used_by(part: Part, name: str) -> tuple[str, ...]:
    """Return the bindings and parameters whose expressions name a parameter."""
    found = [n for n, text in part.parameters.items() if n != name and _names(text, part, name)]
    found += [n for n, b in part.bindings.items() if b.value and _names(b.value, part, name)]
    return tuple(found)


def _names(text: str, part: Part, name: str) -> bool:
    try:
        return name in names_in(text, part.unit)
    except SketcherError:
        return False
