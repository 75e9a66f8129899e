"""The file format: UTF-8 JSON, stable key order, one entry a line, so that a diff reads well.

A part is kept in ``NAME.profile.json``. A byte order mark is read over, never written. Numbers are
the shortest text that reads back as the same double. Everything below is checked when a file is
read (`sketcher.part.check`); the first defect is one `FileError` with the path of keys to it
(``curves.a1.center: no point named 'c9'``), and nothing is half read. Keys, in their order:

``format``, ``version``
    ``"part-profile"`` and ``1``; both needed.
``name``, ``unit``, ``material``
    Text; ``"mm"`` or ``"in"`` (needed); `name`, `thickness` in the unit (a fraction as a
    text), `density` in kg/m3. Left out: no material, 3 mm or 1/8 in, the density of the name.
``parameters``
    Name to expression (text).
``points``
    Id to ``[x, y]`` in the unit, y up.
``curves``
    Id to ``{"kind": "line", "ends": [p, p]}``, ``{"kind": "arc", "ends": [p, p], "center": p,
    "turn": "ccw" or "cw"}`` (the way from the first end to the second) or ``{"kind": "circle",
    "center": p, "radius": r}``; each with ``"role"``: ``outline`` (left out means this), ``layout``
    or ``axis``.
``bindings``
    Id to ``{"kind", "of": [ids]}`` and, where it has them, ``"value"`` (expression as typed,
    positive), ``"side"``, ``"drives": false`` (a reference dimension; without a value it follows:
    it says what it measures) and ``"tolerance": [upper, lower]``. The order is that of the ledger.
    A side that is left out is searched when the part is first solved.
``doubts``
    List of ``{"sides": {binding: other side}, "points": {id: [x, y]}, "radii": {id: r}}``: other
    parts that the sketch could mean, nobody has said which. Left out when there are none.
``mirror``
    ``{"axis": id of a line, "curves": "outline" or [ids]}``, a list of one or two of them, or left
    out.
``patterns``
    Id to ``{"kind": "grid", "curves", "step": [across, up], "count": [columns, rows], "angle"}`` or
    ``{"kind": "polar", "curves", "center", "count", "span"}``; steps, angle and span are
    expressions.
``notes``
    List of texts.
``drawing``
    Settings of the sheet that differ from their defaults (fields of `sketcher.part.value.Drawing`).

Ids are a letter or _, then letters, digits, _ or -, at most 64; one id names one thing among
points, curves, bindings and patterns. Expressions are those of `sketcher.quantity.parse`. Values
come to at least 0, radii, diameters and distances to more. Numbers stay within 1e9, texts within
10,000 characters, a file within 64 MiB, a pattern within 10,000 instances.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import fields
from json.encoder import encode_basestring
from math import isfinite
from typing import Any

from sketcher.errors import EditError, FileError
from sketcher.part.check import FORMAT, VERSION, part_of
from sketcher.part.node import parsed
from sketcher.part.value import (
    ArcCurve,
    Binding,
    CircleCurve,
    Doubt,
    Drawing,
    LineCurve,
    Material,
    Mirror,
    Part,
    PartCurve,
    Pattern,
    PolarPattern,
)

MAX_BYTES = 64 * 1024 * 1024
BYTE_ORDER_MARK = "\ufeff"
"""Some editors put it in front; it is read over and never written."""
UTF_16_MARKS = (b"\xff\xfe", b"\xfe\xff")


def read(data: bytes | str) -> Part:
    """Return the part that a file's content describes.

    Parameters
    ----------
    data : bytes or str
        The whole content.

    Raises
    ------
    FileError
        For anything that is not a part: one error, naming the place.
    """
    if isinstance(data, bytes):
        if len(data) > MAX_BYTES:
            raise FileError("", f"the file has {len(data)} bytes", f"at most {MAX_BYTES} are read")
        if data[:2] in UTF_16_MARKS:
            raise FileError("byte 0", "the file is UTF-16", "save it as UTF-8")
        try:
            data = data.decode("utf-8")
        except UnicodeDecodeError as error:
            raise FileError(f"byte {error.start}", "not UTF-8", "save it as plain UTF-8") from None
    return part_of(parsed(data.removeprefix(BYTE_ORDER_MARK)))


def write(part: Part) -> str:
    """Return the content of a part's file, with a line break at its end."""
    blocks = [
        f'"format": {_json(FORMAT)}',
        f'"version": {VERSION}',
        f'"name": {_json(part.name)}',
        f'"unit": {_json(part.unit)}',
        f'"material": {_json(_material(part.material))}',
        _table("parameters", part.parameters),
        _table("points", {name: list(xy) for name, xy in part.points.items()}),
        _table("curves", {name: _curve(curve) for name, curve in part.curves.items()}),
        _table("bindings", {name: _binding(binding) for name, binding in part.bindings.items()}),
        *_doubts(part.doubts),
        *_mirrors(part.mirrors),
        _table("patterns", {name: _pattern(pattern) for name, pattern in part.patterns.items()}),
    ]
    if part.notes:
        lines = ",\n  ".join(_json(note) for note in part.notes)
        blocks.append(f'"notes": [\n  {lines}\n ]')
    changed = _changed(part.drawing)
    if changed:
        blocks.append(_table("drawing", changed))
    return "{\n " + ",\n ".join(blocks) + "\n}\n"


def check_writable(part: Part) -> None:
    """Raise an EditError when a part could be written but not be read again."""
    try:
        read(write(part))
    except FileError as error:
        raise EditError(error.place, error.problem, error.remedy) from None


def number(value: float) -> str:
    """Return the shortest text that reads back as the very same float.

    Raises
    ------
    FileError
        For infinity and not-a-number, which a file cannot hold.
    """
    if not isfinite(value):
        raise FileError("", f"{value} cannot be written", "undo the last step")
    text = repr(float(value))
    return text.removesuffix(".0") if text != "-0.0" else text


def _json(value: Any) -> str:
    if isinstance(value, str):
        return encode_basestring(value)
    if isinstance(value, bool) or value is None or isinstance(value, int):
        return json.dumps(value)
    if isinstance(value, float):
        return number(value)
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{_json(key)}: {_json(v)}" for key, v in value.items()) + "}"
    return "[" + ", ".join(map(_json, value)) + "]"


def _table(name: str, entries: Mapping[str, Any]) -> str:
    if not entries:
        return f'"{name}": {{}}'
    lines = ",\n  ".join(f"{_json(key)}: {_json(value)}" for key, value in entries.items())
    return f'"{name}": {{\n  {lines}\n }}'


def _fields(value: Any) -> dict[str, Any]:
    return {field.name: getattr(value, field.name) for field in fields(value)}


def _material(material: Material) -> dict[str, Any]:
    entry = _fields(material)
    written = entry.pop("written")
    if not material.density:
        del entry["density"]
    return entry | ({"thickness": written} if written else {})


def _curve(curve: PartCurve) -> dict[str, Any]:
    entry: dict[str, Any] = {"kind": curve.kind}
    if isinstance(curve, LineCurve | ArcCurve):
        entry["ends"] = curve.ends
    if isinstance(curve, ArcCurve | CircleCurve):
        entry["center"] = curve.center
    if isinstance(curve, ArcCurve):
        entry["turn"] = curve.turn
    if isinstance(curve, CircleCurve):
        entry["radius"] = curve.radius
    return entry | {"role": curve.role}


def _binding(binding: Binding) -> dict[str, Any]:
    entry: dict[str, Any] = {"kind": binding.kind, "of": binding.of}
    if binding.value is not None:
        entry["value"] = binding.value
    if binding.side is not None:
        entry["side"] = binding.side
    if not binding.drives:
        entry["drives"] = False
    if binding.tolerance is not None:
        entry["tolerance"] = binding.tolerance
    return entry


def _doubts(doubts: tuple[Doubt, ...]) -> Iterator[str]:
    if doubts:
        entries = [{key: value for key, value in _fields(doubt).items() if value}
                   for doubt in doubts]
        yield '"doubts": [\n  ' + ",\n  ".join(map(_json, entries)) + "\n ]"


def _mirrors(mirrors: tuple[Mirror, ...]) -> Iterator[str]:
    entries = [{"axis": mirror.axis, "curves": mirror.curves} for mirror in mirrors]
    if len(entries) == 1:
        yield f'"mirror": {_json(entries[0])}'
    elif entries:
        yield '"mirror": [\n  ' + ",\n  ".join(map(_json, entries)) + "\n ]"


def _pattern(pattern: Pattern) -> dict[str, Any]:
    entry: dict[str, Any] = {"kind": pattern.kind, "curves": pattern.curves}
    if isinstance(pattern, PolarPattern):
        return entry | {"center": pattern.center, "count": pattern.count, "span": pattern.span}
    return entry | {"step": pattern.step, "count": pattern.count, "angle": pattern.angle}


def _changed(drawing: Drawing) -> dict[str, Any]:
    default = _fields(Drawing())
    return {name: value for name, value in _fields(drawing).items() if value != default[name]}
