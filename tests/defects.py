"""Defective part files: name, content, and what the one error must name.

Shared by the tests of the reader and of the commands. `SOUND` is the sound file that each
defect spoils in one place.
"""

from __future__ import annotations

import copy
import json
from collections.abc import Callable
from typing import Any, NamedTuple

SOUND: dict[str, Any] = {
    "format": "part-profile",
    "version": 1,
    "name": "Sample",
    "unit": "mm",
    "material": {"name": "steel", "thickness": 3, "density": 7850},
    "parameters": {"wall": "8", "span": "96 + 2*wall"},
    "points": {"p1": [0, 0], "p2": [60, 0], "p3": [60, 20], "c1": [50, 10], "c2": [20, 10]},
    "curves": {
        "e1": {"kind": "line", "ends": ["p1", "p2"], "role": "outline"},
        "a1": {"kind": "arc", "ends": ["p2", "p3"], "center": "c1", "turn": "ccw",
               "role": "outline"},
        "h1": {"kind": "circle", "center": "c2", "radius": 5, "role": "outline"},
        "ax": {"kind": "line", "ends": ["p1", "p3"], "role": "axis"},
    },
    "bindings": {
        "b1": {"kind": "run", "of": ["p1", "p2"], "value": "span", "tolerance": [0.1, -0.1]},
        "b2": {"kind": "level", "of": ["e1"]},
        "b3": {"kind": "radius", "of": ["h1"], "value": "5", "drives": False},
        "b4": {"kind": "angle", "of": ["e1", "ax"], "value": "15"},
    },
    "mirror": {"axis": "ax", "curves": "outline"},
    "patterns": {
        "g1": {"kind": "grid", "curves": ["h1"], "step": ["30", "24"], "count": [2, 1]},
        "r1": {"kind": "polar", "curves": ["h1"], "center": "c1", "count": 6, "span": "360"},
    },
    "notes": ["Deburr all edges."],
}


class Defect(NamedTuple):
    """A file that must be refused: `says` are the words that its one error must contain."""

    name: str
    content: bytes
    says: tuple[str, ...]


def text_of(tree: dict[str, Any]) -> bytes:
    """Content of a file with this tree."""
    return json.dumps(tree, indent=1).encode("utf-8")


def spoiled(change: Callable[[dict[str, Any]], object]) -> bytes:
    """Content of the sound file after a change."""
    tree = copy.deepcopy(SOUND)
    change(tree)
    return text_of(tree)


def put(*path: Any) -> bytes:
    """Content of the sound file with the last of `path` put at the keys before it."""
    *keys, last, value = path
    tree = copy.deepcopy(SOUND)
    at: Any = tree
    for key in keys:
        at = at[key]
    at[last] = value
    return text_of(tree)


def without(*path: Any) -> bytes:
    """Content of the sound file with one entry taken out."""
    *keys, last = path
    tree = copy.deepcopy(SOUND)
    at: Any = tree
    for key in keys:
        at = at[key]
    del at[last]
    return text_of(tree)


def raw(old: bytes, new: bytes) -> bytes:
    """Content of the sound file with bytes replaced; the old ones must be there once."""
    content = text_of(SOUND)
    assert content.count(old) == 1, old
    return content.replace(old, new)


DEFECTS = [
    # The file as a whole.
    Defect("empty", b"", ("empty",)),
    Defect("blank", b" \n\t ", ("empty",)),
    Defect("not-json", b"LINE 0,0 10,0\n", ("line 1, column 1", "not JSON")),
    Defect("truncated", text_of(SOUND)[:-40], ("line", "not JSON")),
    Defect("more-behind", text_of(SOUND) + b"{}", ("not JSON",)),
    Defect("utf-16", text_of(SOUND).decode().encode("utf-16"), ("UTF-16",)),
    Defect("two-marks", b"\xef\xbb\xbf\xef\xbb\xbf" + text_of(SOUND), ("line 1, column 1",)),
    Defect("latin-1", raw(b'"Sample"', b'"Tr\xe4ger"'), ("byte", "UTF-8")),
    Defect("deep", b"[" * 200_000 + b"]" * 200_000, ("nested too deep",)),
    Defect("a-list", b"[]", ("expected an object",)),
    Defect("half-character", raw(b'"Sample"', b'"\\ud800"'), ("name", "control character")),
    Defect("nul", raw(b'"Sample"', b'"a\\u0000b"'), ("name", "control character")),
    # Keys, format, unit.
    Defect("other-format", put("format", "part"), ("format: unknown word 'part'",)),
    Defect("no-format", without("format"), ("format: missing",)),
    Defect("version-2", put("version", 2), ("version: version 2 is unknown",)),
    Defect("version-true", put("version", True), ("version",)),
    Defect("no-version", without("version"), ("version: missing",)),
    Defect("unknown-key", put("colour", "red"), ("colour: unknown key",)),
    Defect("doubled-key", raw(b'"name": "Sample"', b'"name": "A", "name": "B"'),
           ("name: is given twice",)),
    Defect("unit-cm", put("unit", "cm"), ("unit: unknown word 'cm'",)),
    Defect("no-unit", without("unit"), ("unit: missing",)),
    Defect("name-number", put("name", 7), ("name: expected a text",)),
    Defect("thickness-zero", put("material", "thickness", 0), ("material.thickness",)),
    Defect("density-text", put("material", "density", "heavy"), ("material.density",)),
    Defect("material-key", put("material", "grade", "S235"), ("material.grade: unknown key",)),
    # Parameters.
    Defect("circle-of-parameters", put("parameters", {"a": "b", "b": "a"}),
           ("parameters.", "circle", "a -> b")),
    Defect("unknown-parameter", put("parameters", "span", "2*wal"),
           ("parameters.span", "no parameter named 'wal'", "wall")),
    Defect("parameter-number", put("parameters", "wall", 8), ("parameters.wall: expected a text",)),
    Defect("parameter-named-sin", put("parameters", "sin", "1"), ("parameters.sin",)),
    Defect("length-plus-angle", put("parameters", "wall", "8 mm + 15°"),
           ("parameters.wall", "an angle cannot be added to a length")),
    # Points.
    Defect("point-nan", raw(b"50,\n   10", b"NaN,\n   10"), ("points.c1[0]", "NaN")),
    Defect("point-infinite", raw(b"50,\n   10", b"1e999,\n   10"), ("points.c1[0]", "range")),
    Defect("point-huge-whole", raw(b"50,\n   10", b"1" * 5000 + b",\n   10"),
           ("points.c1[0]", "range")),
    Defect("point-text", put("points", "c1", ["50", 10]), ("points.c1[0]: expected a number",)),
    Defect("point-true", put("points", "c1", [True, 10]), ("points.c1[0]: expected a number",)),
    Defect("point-of-three", put("points", "c1", [50, 10, 0]), ("points.c1: expected 2 items",)),
    Defect("point-object", put("points", "c1", {"x": 1}), ("points.c1: expected a list",)),
    Defect("doubled-point", raw(b'"p1": [\n   0,\n   0\n  ]', b'"p1": [0, 0], "p1": [1, 1]'),
           ("points.p1: is given twice",)),
    Defect("id-with-space", put("points", "a b", [0, 0]), ("points.a b", "cannot be an id")),
    Defect("id-of-image", put("points", "p1'", [0, 0]), ("points.p1'", "cannot be an id")),
    Defect("id-shared", put("points", "e1", [0, 0]), ("e1", "taken")),
    # Curves.
    Defect("curve-kind", put("curves", "a1", "kind", "spline"),
           ("curves.a1.kind: unknown kind 'spline'",)),
    Defect("no-curve-kind", without("curves", "a1", "kind"), ("curves.a1.kind: missing",)),
    Defect("no-center", without("curves", "a1", "center"), ("curves.a1.center: missing",)),
    Defect("center-unknown", put("curves", "a1", "center", "c9"),
           ("curves.a1.center: no point named 'c9'",)),
    Defect("end-unknown", put("curves", "e1", "ends", ["p1", "p9"]),
           ("curves.e1.ends[1]: no point named 'p9'",)),
    Defect("one-end", put("curves", "e1", "ends", ["p1"]), ("curves.e1.ends: expected 2 items",)),
    Defect("ends-alike", put("curves", "e1", "ends", ["p1", "p1"]), ("curves.e1.ends", "'p1'")),
    Defect("center-at-end", put("curves", "a1", "center", "p2"), ("curves.a1.center", "'p2'")),
    Defect("turn", put("curves", "a1", "turn", "left"), ("curves.a1.turn: unknown word 'left'",)),
    Defect("role", put("curves", "e1", "role", "hidden"), ("curves.e1.role",)),
    Defect("radius-zero", put("curves", "h1", "radius", 0), ("curves.h1.radius: 0 is too small",)),
    Defect("radius-below", put("curves", "h1", "radius", -5), ("curves.h1.radius",)),
    Defect("line-with-center", put("curves", "e1", "center", "c1"),
           ("curves.e1.center: unknown key",)),
    Defect("curve-text", put("curves", "e1", "p1 p2"), ("curves.e1: expected an object",)),
    # Bindings.
    Defect("binding-kind", put("bindings", "b2", "kind", "flat"), ("bindings.b2.kind", "'flat'")),
    Defect("binding-unknown-id", put("bindings", "b2", "of", ["e7"]),
           ("bindings.b2.of[0]: no point or curve named 'e7'",)),
    Defect("binding-misfit", put("bindings", "b2", "of", ["h1"]), ("bindings.b2.of", "'level'")),
    Defect("binding-of-nothing", put("bindings", "b2", "of", []), ("bindings.b2.of",)),
    Defect("binding-twice", put("bindings", "b1", "of", ["p1", "p1"]), ("bindings.b1.of[1]",)),
    Defect("binding-key", put("bindings", "b2", "weight", 3), ("bindings.b2.weight: unknown key",)),
    Defect("no-operands", without("bindings", "b2", "of"), ("bindings.b2.of: missing",)),
    Defect("no-value", without("bindings", "b1", "value"), ("bindings.b1.value: missing",)),
    Defect("value-too-much", put("bindings", "b2", "value", "3"), ("bindings.b2.value",)),
    Defect("value-number", put("bindings", "b1", "value", 112),
           ("bindings.b1.value: expected a text",)),
    Defect("value-unreadable", put("bindings", "b1", "value", "12 +"), ("bindings.b1.value",)),
    Defect("value-angle", put("bindings", "b1", "value", "15°"),
           ("bindings.b1.value", "an angle, not a length")),
    Defect("value-below-zero", put("bindings", "b1", "value", "8 - wall*2"),
           ("bindings.b1.value", "-8")),
    Defect("value-names-nothing", put("bindings", "b1", "value", "height"),
           ("bindings.b1.value", "height")),
    Defect("value-divides-by-zero", put("bindings", "b1", "value", "1/(wall-8)"),
           ("bindings.b1.value", "zero")),
    Defect("side-word", put("bindings", "b4", "side", "north"), ("bindings.b4.side",)),
    Defect("side-too-much", put("bindings", "b3", "side", "left"), ("bindings.b3.side",)),
    Defect("drives-text", put("bindings", "b3", "drives", "no"), ("bindings.b3.drives",)),
    Defect("tolerance-order", put("bindings", "b1", "tolerance", [-0.1, 0.1]),
           ("bindings.b1.tolerance",)),
    Defect("tolerance-one", put("bindings", "b1", "tolerance", [0.1]),
           ("bindings.b1.tolerance: expected 2 items",)),
    # Mirror, patterns, notes, drawing.
    Defect("axis-unknown", put("mirror", "axis", "e9"), ("mirror.axis: no curve named 'e9'",)),
    Defect("axis-round", put("mirror", "axis", "h1"), ("mirror.axis: 'h1' is not a line",)),
    Defect("mirror-curves", put("mirror", "curves", ["e1", "e9"]),
           ("mirror.curves[1]: no curve named 'e9'",)),
    Defect("mirror-word", put("mirror", "curves", "all"), ("mirror.curves",)),
    Defect("three-mirrors", put("mirror", [{"axis": "ax"}] * 3), ("mirror", "at most 2")),
    Defect("one-axis-twice", put("mirror", [{"axis": "ax"}] * 2), ("mirror[1].axis",)),
    Defect("pattern-kind", put("patterns", "g1", "kind", "spiral"), ("patterns.g1.kind",)),
    Defect("pattern-curve", put("patterns", "g1", "curves", ["h9"]), ("patterns.g1.curves[0]",)),
    Defect("pattern-of-nothing", put("patterns", "g1", "curves", []), ("patterns.g1.curves",)),
    Defect("pattern-count", put("patterns", "g1", "count", [2.5, 1]), ("patterns.g1.count[0]",)),
    Defect("pattern-zero", put("patterns", "r1", "count", 0), ("patterns.r1.count",)),
    Defect("pattern-flood", put("patterns", "g1", "count", [9999, 9999]), ("patterns.g1.count",)),
    Defect("pattern-center", put("patterns", "r1", "center", "h1"), ("patterns.r1.center",)),
    Defect("pattern-step", put("patterns", "g1", "step", ["30 kg", "24"]),
           ("patterns.g1.step[0]",)),
    Defect("notes-text", put("notes", "Deburr."), ("notes: expected a list",)),
    Defect("drawing-key", put("drawing", {"paper": "A4"}), ("drawing.paper: unknown key",)),
    Defect("drawing-practice", put("drawing", {"practice": "house"}), ("drawing.practice",)),
]
