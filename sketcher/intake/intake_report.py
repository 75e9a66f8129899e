"""What an intake comes to as text for a terminal."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import atan2, degrees

from sketcher.intake.linework import FoundPattern, Question, Repair, SymmetryAxis
from sketcher.intake.taken import Taken, TakenPart
from sketcher.intake.unit_evidence import UNIT_WORDS
from sketcher.part.value import Unit
from sketcher.quantity.format import length
from sketcher.shop.carried_kerf import noted_kerf
from sketcher.shop.cut_layers import beside_contours

MOST_AXES = 4
MOST_NAMES = 6
"""Repairs of a kind, faults and values that are listed by name; the record has all of them."""
LEAST_TOLD = 1e-10
"""A move below this is what doubles leave, not what was done."""
DONE_WORDS: Mapping[str, str] = {
    "speck": "without length, taken out", "double": "drawn twice, taken out",
    "overlap": "drawn twice in part", "seam": "one curve in pieces, put together",
    "gap": "ends that nearly met, joined", "chords": "straight pieces made an arc",
    "curve": "a free curve made arcs", "tangent": "joints nearly tangent, made so",
    "turned": "straightened",
}
"""What a kind of repair did, in a few words."""


def intake_report(taken: Taken, files: Sequence[str]) -> str:
    """Return an intake as a person reads it.

    Parameters
    ----------
    taken : Taken
    files : sequence of str
        Where each part was written, in the order of the parts.
    """
    lines = [f"{taken.content.source}: {UNIT_WORDS[taken.unit.unit]}; {taken.unit.why}"]
    if taken.floor.size:
        lines.append(f"  {floor_words(taken)}")
    lines += _layers(taken)
    for number, (part, file) in enumerate(zip(taken.parts, files, strict=True), 1):
        lines += ["", *_part(part, file, number, len(files))]
    if not taken.parts:
        lines += ["", "no outline to draw"]
    lines += ["", *_repairs(taken.repairs, taken.unit.unit)]
    for question in taken.questions:
        lines.append(_asked(question))
    return "\n".join(lines) + "\n"


def floor_words(taken: Taken) -> str:
    """Say what the numbers of a file tell of their noise."""
    known = _move(taken.floor.size, taken.unit.unit)
    return f"{taken.floor.why}: no place is known better than to {known}"


def _layers(taken: Taken) -> Iterator[str]:
    content = taken.content
    beside = beside_contours(layer.name for layer in content.layers)
    for layer in content.layers:
        counts = ", ".join(f"{count} {kind}" for kind, count in layer.counts.items())
        hidden = f" ({layer.hidden}, left out)" if layer.hidden else ""
        aside = " (beside the contours, read with --layers alone)" if layer.name in beside else ""
        yield f"  layer {layer.name}: {counts or 'nothing'}{hidden}{aside}"
    if content.left_out:
        counts = ", ".join(f"{count} {kind}" for kind, count in content.left_out.items())
        yield f"  without an edge, left out: {counts}"
    for problem in content.mended[:MOST_NAMES]:
        yield f"  mended in the file: {problem}"
    if len(content.mended) > MOST_NAMES:
        yield f"  and {len(content.mended) - MOST_NAMES} more mended in the file"


def _part(part: TakenPart, file: str, number: int, of: int) -> Iterator[str]:
    unit, report = part.part.unit, part.bound.solution.report
    which = f" ({number} of {of})" if of > 1 else ""
    yield f"{part.part.name}{which}: {file}"
    wide, high = (length(side, unit) for side in part.size)
    yield (f"  {wide} x {high} {unit}, area {part.area:.6g} {unit}², outline moved by at most "
           f"{_move(part.bound.largest_move, unit)}")
    frame = part.bound.frame
    if abs(frame.turn) > 1e-12:
        yield f"  turned by {degrees(frame.turn):.4g}° in the file, straightened"
    kerf = noted_kerf(part.part)
    if kerf:
        yield (f"  offset for a kerf of {length(kerf, unit)} {unit} by its layers: noted in the "
               "part, which must not be offset again")
    yield f"  symmetry: {_axes(part)}"
    for pattern in part.patterns:
        yield f"  pattern: {pattern_words(pattern, unit)}"
    bound = "bound" if not report.freedoms else f"{report.freedoms} freedoms left"
    doubled = f"redundant: {', '.join(report.doubled)}" if report.doubled else "nothing redundant"
    yield f"  {bound}, {doubled}"
    yield from _values(part)
    for fault in part.faults[:MOST_NAMES]:
        yield (f"  {fault.kind} at ({length(fault.at[0], unit)}, {length(fault.at[1], unit)}) in "
               f"the file: {fault.text}")
    if len(part.faults) > MOST_NAMES:
        yield f"  and {len(part.faults) - MOST_NAMES} more places"
    for finding in part.findings[:MOST_NAMES]:
        yield f"  finding: {finding}"
    if len(part.findings) > MOST_NAMES:
        yield f"  and {len(part.findings) - MOST_NAMES} more findings"


def _axes(part: TakenPart) -> str:
    """Say what is drawn of the part, and which other axes would reflect it."""
    kept = [axis_words(each) for each in part.axes]
    ids = {each.id for each in part.axes}
    others = [each.id for each in part.offered if each.id not in ids]
    drawn = {0: "none, the whole is drawn", 1: "one half is drawn"}.get(len(kept),
                                                                        "a quarter is drawn")
    text = f"{' and '.join(kept)}, {drawn}" if kept else drawn
    if len(others) > MOST_AXES:
        others = [*others[:MOST_AXES - 1], f"{len(others) - MOST_AXES + 1} more"]
    return f"{text}; --axis {' or '.join(others)} would do too" if others else text


def axis_words(each: SymmetryAxis) -> str:
    """Name an axis and the way it lies in the file."""
    angle = degrees(atan2(each.end[1] - each.start[1], each.end[0] - each.start[0])) % 180.0
    way = ("level" if min(angle, 180.0 - angle) < 1e-6 else
           "plumb" if abs(angle - 90.0) < 1e-6 else f"at {angle:.4g}°")
    return f"axis {each.id} ({way})"


def pattern_words(each: FoundPattern, unit: Unit) -> str:
    """Say how many holes a pattern has, and how far apart."""
    if each.kind == "polar":
        center = each.center or (0.0, 0.0)
        return (f"{each.count[0]} equal holes round ({length(center[0], unit)}, "
                f"{length(center[1], unit)}), over {each.step[0]:.6g}°")
    steps = " by ".join(length(step, unit) for step, count in zip(each.step, each.count,
                                                                  strict=True) if count > 1)
    return f"{each.count[0]} x {each.count[1]} equal holes, steps of {steps}"


def _values(part: TakenPart) -> Iterator[str]:
    values = part.bound.values
    if not values:
        return
    odd = [each for each in values if not each.round]
    text = f"  {len(values) - len(odd)} of {len(values)} values are round"
    if odd:
        shown = ", ".join(f"{each.binding} {each.written}"
                          for each in odd[:MOST_NAMES])
        more = f" and {len(odd) - MOST_NAMES} more" if len(odd) > MOST_NAMES else ""
        text += f"; not round: {shown}{more}"
    yield text


def _repairs(repairs: Sequence[Repair], unit: Unit) -> Iterator[str]:
    """Yield the repairs by kind; those that are kept as drawn apart."""
    if not repairs:
        yield "nothing to repair"
        return
    yield "repairs, each of which --keep NAME (or its kind) leaves as it is drawn:"
    for taken in (True, False):
        kinds = list(dict.fromkeys(each.kind for each in repairs if each.taken == taken))
        for kind in kinds:
            of_kind = [each for each in repairs if each.kind == kind and each.taken == taken]
            largest = max(each.size for each in of_kind)
            moved = (f", by {_move(largest, unit)} at most" if largest > LEAST_TOLD and taken
                     else "")
            names = ", ".join(each.name for each in of_kind[:MOST_NAMES])
            more = f" and {len(of_kind) - MOST_NAMES} more" if len(of_kind) > MOST_NAMES else ""
            did = DONE_WORDS.get(kind, of_kind[0].text) if taken else "kept as drawn"
            yield f"  {len(of_kind):4} {kind}: {did}{moved}: {names}{more}"


def _asked(question: Question) -> str:
    answers = " or ".join(f"{question.option} {answer}" for answer in question.answers)
    return f"question: {question.text}. Say {answers}; taken meanwhile: {question.answers[0]}"


def _move(size: float, unit: Unit) -> str:
    """Write a small length with two digits."""
    return f"{size:.2g} {unit}" if size else f"0 {unit}"
