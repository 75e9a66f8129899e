"""What an intake comes to as a record for programs: plain values, ready for JSON."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import degrees
from typing import Any

from sketcher.geometry.curves import XY
from sketcher.intake.linework import FoundPattern, Question, Repair, SymmetryAxis
from sketcher.intake.taken import Taken, TakenPart
from sketcher.shop.carried_kerf import noted_kerf

VERSION = 1
"""Rises when a field changes its meaning or goes."""


def intake_record(taken: Taken, files: Sequence[str]) -> dict[str, Any]:
    """Return an intake as plain values: lengths in the part's unit, angles in degrees.

    Parameters
    ----------
    taken : Taken
    files : sequence of str
        Where each part was written, in the order of the parts.

    Returns
    -------
    dict
        ``version``, ``source``, ``unit``, ``noise``, ``layers``, ``ignored``, ``mended``,
        ``parts``, ``repairs`` (those that touched no part), ``questions``, ``sound``. Places of
        repairs and faults are in the file, scaled to the part's unit; those of axes and patterns in
        the part.
    """
    content, unit = taken.content, taken.unit
    told = {repair for part in taken.parts for repair in part.repairs}
    return {
        "version": VERSION,
        "source": content.source,
        "unit": {"value": unit.unit, "factor": float(unit.factor), "why": unit.why,
                 "scores": {name: float(score) for name, score in unit.scores.items()}},
        "noise": {"value": float(taken.floor.size), "why": taken.floor.why},
        "layers": [{"name": layer.name, "entities": _counts(layer.counts), "hidden": layer.hidden}
                   for layer in content.layers],
        "ignored": _counts(content.left_out),
        "mended": list(content.mended),
        "parts": [_part(part, file) for part, file in zip(taken.parts, files, strict=True)],
        "repairs": [_repair(each) for each in taken.repairs if each not in told],
        "questions": [_question(each) for each in taken.questions],
        "sound": taken.sound,
    }


def _part(part: TakenPart, file: str) -> dict[str, Any]:
    bound, report = part.bound, part.bound.solution.report
    frame = bound.frame
    return {
        "file": file,
        "name": part.part.name,
        "size": _xy(part.size),
        "area": float(part.area),
        "kerf": noted_kerf(part.part),
        "repairs": [_repair(each) for each in part.repairs],
        "axis": [each.id for each in part.axes],
        "axes": [_axis(each) for each in part.offered],
        "patterns": [_pattern(each) for each in part.patterns],
        "freedoms": int(report.freedoms),
        "doubled": list(report.doubled),
        "clashes": [list(clash) for clash in report.clashes],
        "largest_move": float(bound.largest_move),
        "not_round": [each.binding for each in bound.values if not each.round],
        "values": [{"binding": each.binding, "measured": float(each.measured),
                    "written": each.written, "round": bool(each.round)}
                   for each in bound.values],
        "place": {"turn": degrees(frame.turn), "origin": _xy(frame.origin)},
        "findings": list(part.findings),
        "faults": [{"kind": each.kind, "at": _xy(each.at), "size": float(each.size),
                    "ids": [int(e) for e in each.entities], "text": each.text}
                   for each in part.faults],
    }


def _repair(each: Repair) -> dict[str, Any]:
    return {"kind": each.kind, "name": each.name, "at": _xy(each.at), "size": float(each.size),
            "ids": [int(entity) for entity in each.entities], "text": each.text,
            "taken": bool(each.taken)}


def _axis(each: SymmetryAxis) -> dict[str, Any]:
    return {"id": each.id, "start": _xy(each.start), "end": _xy(each.end),
            "differs": float(each.differs)}


def _pattern(each: FoundPattern) -> dict[str, Any]:
    return {"kind": each.kind, "count": [int(n) for n in each.count], "step": _xy(each.step),
            "angle": float(each.angle), "center": _xy(each.center) if each.center else None,
            "members": sorted({int(e) for member in each.members for e in member.entities})}


def _question(each: Question) -> dict[str, Any]:
    return {"option": each.option, "text": each.text, "answers": list(each.answers)}


def _counts(counts: Mapping[str, int]) -> dict[str, int]:
    return {name: int(count) for name, count in counts.items()}


def _xy(at: XY) -> list[float]:
    return [float(at[0]), float(at[1])]
