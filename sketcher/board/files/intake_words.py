"""What the page of an intake says: marks of the repairs, their groups, the part in lines."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import degrees

from sketcher.board.files.bringing_in import Brought
from sketcher.exchange.dxf_content import FileLayer
from sketcher.intake.intake_report import DONE_WORDS, axis_words, floor_words, pattern_words
from sketcher.intake.linework import Repair
from sketcher.intake.taken import TakenPart
from sketcher.intake.unit_evidence import UNIT_WORDS
from sketcher.part.value import Unit
from sketcher.quantity.format import length

LETTERS: Mapping[str, str] = {
    "speck": "S", "double": "D", "overlap": "O", "seam": "M", "gap": "G", "chords": "C",
    "curve": "F", "tangent": "T", "turned": "R",
}
"""Letter of a kind beside the number of each repair: what is told by it needs no color."""
STRONG = "! "
"""Begins a line that wants to be looked at."""


@dataclass(frozen=True, slots=True)
class RepairGroup:
    """The repairs of a kind: what a line over them says, and their places in the list of all."""

    kind: str
    title: str
    numbers: tuple[int, ...]


def mark(repair: Repair, number: int) -> str:
    """Return what stands beside a repair on the drawing and in the list, as ``G 4``."""
    return f"{LETTERS.get(repair.kind, repair.kind[:1].upper())} {number}"


def groups(repairs: Sequence[Repair]) -> tuple[RepairGroup, ...]:
    """Return the repairs by kind, in the order of the steps; numbers count from 1."""
    found: dict[str, list[int]] = {}
    for number, repair in enumerate(repairs, 1):
        found.setdefault(repair.kind, []).append(number)
    order = list(LETTERS)
    kinds = sorted(found, key=lambda kind: order.index(kind) if kind in order else len(order))
    return tuple(RepairGroup(kind, _title(kind, repairs[found[kind][0] - 1], len(found[kind])),
                             tuple(found[kind])) for kind in kinds)


def _title(kind: str, first: Repair, count: int) -> str:
    letter = LETTERS.get(kind, kind[:1].upper())
    return f"{letter}  {kind.capitalize()}: {DONE_WORDS.get(kind, first.text)} ({count})"


def small(size: float, unit: Unit) -> str:
    """Write how far something was moved, with two digits; nothing where it was not."""
    return f"{size:.2g} {unit}" if size else ""


def place(repair: Repair, unit: Unit) -> str:
    """Say where in the file a repair is."""
    return ", ".join(length(value, unit, 3 if unit == "mm" else 4) for value in repair.at)


def layer_words(layer: FileLayer) -> str:
    """Say what a layer holds, and why it is not seen."""
    counts = ", ".join(f"{count} {kind}" for kind, count in layer.counts.items()) or "nothing"
    return f"{layer.name}: {counts}" + (f" ({layer.hidden} in the file)" if layer.hidden else "")


def part_words(number: int, part: TakenPart) -> str:
    """Name a part among several: its number, its size, its area."""
    unit = part.part.unit
    wide, high = (length(side, unit) for side in part.size)
    return f"{number}: {wide} x {high} {unit}, area {part.area:.6g} {unit}\N{SUPERSCRIPT TWO}"


def unit_choices(brought: Brought) -> tuple[tuple[Unit, str], ...]:
    """Return both units, each with how sure it is."""
    scores = brought.taken.unit.scores
    units: tuple[Unit, ...] = ("mm", "in")
    return tuple((unit, UNIT_WORDS[unit] + (
        f", score {scores[unit]:.3f}" if unit in scores else "")) for unit in units)


def axis_choices(part: TakenPart) -> tuple[tuple[str, str], ...]:
    """Return the ids of the axes that a part may be reflected about, each in words, then none."""
    return (*((axis.id, axis_words(axis)) for axis in part.offered), ("none", "none: draw it all"))


def state(brought: Brought | None, number: int) -> str:
    """Say in one line what it came to."""
    if brought is None:
        return ""
    parts, repairs = brought.taken.parts, brought.taken.repairs
    if not parts:
        return f"{STRONG}no closed outline and nothing to draw"
    part = parts[number]
    kept = sum(not each.taken for each in repairs)
    made = len(repairs) - kept
    words = [f"{len(parts)} parts" if len(parts) > 1 else "1 part", _bound(part),
             f"{made} repair{'s' * (made != 1)}" + (f", {kept} kept as drawn" if kept else "")]
    wrong = sum(len(each.findings) + len(each.faults) for each in parts)
    if wrong:
        words.append(f"{wrong} finding{'s' * (wrong != 1)}")
    if brought.taken.questions:
        words.append("a question is open")
    return (STRONG if wrong or brought.taken.questions else "") + "; ".join(words)


def _bound(part: TakenPart) -> str:
    freedoms = part.bound.solution.report.freedoms
    return f"{freedoms} freedom{'s' * (freedoms != 1)} left" if freedoms else "bound"


def outcome(brought: Brought, number: int) -> tuple[str, ...]:
    """Return the lines about a part and about what was left out of the file."""
    taken = brought.taken
    lines: list[str] = []
    if taken.parts:
        lines += _outcome(taken.parts[number])
    else:
        lines.append(f"{STRONG}no closed outline and nothing to draw")
    content = taken.content
    if content.left_out:
        counts = ", ".join(f"{count} {kind}" for kind, count in content.left_out.items())
        lines.append(f"without an edge, left out: {counts}")
    if taken.floor.size:
        lines.append(floor_words(taken))
    lines += [f"mended in the file: {problem}" for problem in content.mended]
    return tuple(lines)


def _outcome(part: TakenPart) -> Iterator[str]:
    unit, report = part.part.unit, part.bound.solution.report
    wide, high = (length(side, unit) for side in part.size)
    yield f"{wide} x {high} {unit}, area {part.area:.6g} {unit}\N{SUPERSCRIPT TWO}"
    yield f"outline moved by at most {small(part.bound.largest_move, unit) or 'nothing'}"
    yield ("" if not report.freedoms else STRONG) + _bound(part)
    if report.doubled:
        yield f"{STRONG}redundant: {', '.join(report.doubled)}"
    if abs(part.bound.frame.turn) > 1e-12:
        turn = f"{degrees(part.bound.frame.turn):.4g}\N{DEGREE SIGN}"
        yield f"turned by {turn} in the file, straightened"
    drawn = {0: "the whole is drawn", 1: "one half is drawn"}.get(len(part.axes),
                                                                  "a quarter is drawn")
    yield " and ".join(map(axis_words, part.axes)) + f", {drawn}" if part.axes else (
        f"no axis of symmetry, {drawn}")
    for pattern in part.patterns:
        yield f"pattern: {pattern_words(pattern, unit)}"
    yield from _values(part)
    for fault in part.faults:
        at = ", ".join(length(value, unit) for value in fault.at)
        yield f"{STRONG}{fault.kind} at ({at}) in the file: {fault.text}"
    for finding in part.findings:
        yield f"{STRONG}finding: {finding}"


def _values(part: TakenPart) -> Iterator[str]:
    values = part.bound.values
    odd = [each for each in values if not each.round]
    if values:
        yield f"{len(values) - len(odd)} of {len(values)} values are round"
    for each in odd:
        yield f"not round: {each.binding} is {each.written}"
