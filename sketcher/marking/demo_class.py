"""An invented class to try marking on: hand-ins of the gate strap, each with faults of its own.

Drawn by the program's own center lines and DXF writer, so they show marking at work and prove
nothing of it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache

from sketcher.drafting.center_marks import center_marks
from sketcher.drafting.page import Page
from sketcher.drafting.paper_view import View
from sketcher.drafting.primitives import Stroke
from sketcher.geometry.curves import Line
from sketcher.inspect.sketched import solve_sketch
from sketcher.marking.poses import Pose
from sketcher.marking.rubric import Rubric
from sketcher.marking.rubric_file import rubric_text
from sketcher.part import file_text
from sketcher.part.value import Binding, Part
from sketcher.part.whole import whole
from sketcher.quantity.units import MM_PER_INCH
from sketcher.shipped import shipped
from sketcher.solve import solve_with

KEY_FILE, RUBRIC_FILE, ROSTER_FILE = "key.profile.json", "class.rubric.json", "roster.csv"
HAND_INS = "hand-ins"
KEY = "gate-strap.profile.json"
LAYERS = {"VISIBLE": "KONTUR", "CENTER": "MITTE"}
ODD = Pose(shift=(13.847261539, 7.291553187))
"""Where somebody began to draw without a look at the coordinates."""

Strokes = tuple[Stroke, ...]


@dataclass(frozen=True, slots=True)
class DemoHandIn:
    """A hand-in of the class: its file, what is wrong with it, and the file's content."""

    file: str
    faults: str
    content: bytes


@cache
def demo_key() -> Part:
    """Return the key, solved."""
    return solve_sketch(file_text.read(shipped("demo_parts", KEY).read_bytes())).part


def demo_hand_ins() -> tuple[DemoHandIn, ...]:
    """Return the hand-ins of the class, each with what is wrong with it."""
    key = demo_key()
    drawn = _drawn(key)
    copied = _moved(_gap(drawn, "e5"), ODD)
    in_inches = _moved(drawn, Pose(scale=1.0 / MM_PER_INCH))
    return (
        DemoHandIn("01-strap.dxf", "nothing", _dxf(drawn)),
        DemoHandIn("02-strap.dxf", "the large hole is Ø22, not Ø20",
                   _dxf(_drawn(_with_value("b20", "22")))),
        DemoHandIn("03-strap.dxf", "the height of the large hole is 104, not 100",
                   _dxf(_drawn(_with_value("b19", "104")))),
        DemoHandIn("04-strap.dxf", "a gap of 0.3 mm at the window", _dxf(copied)),
        DemoHandIn("05-strap.dxf", "turned by 90°, a small hole without center lines",
                   _dxf(_moved(_without(drawn, "center:h2'"), Pose(turn=90.0)))),
        DemoHandIn("06-strap.dxf", "a small hole is missing",
                   _dxf(_without(drawn, "curve:h2'", "center:h2'"))),
        DemoHandIn("07-strap.dxf", "drawn in inches, and the file says millimetres",
                   _dxf(in_inches)),
        DemoHandIn("08-strap.dxf", "a line left over from the construction, and one drawn twice",
                   _dxf((*drawn, *_strokes("e2", drawn), Stroke(
                       Line((-70.0, 14.0), (70.0, 14.0)), "visible", "construction")))),
        DemoHandIn("09-strap.dxf", "as 04, which it is a copy of, but for a center line",
                   _dxf(_without(copied, "center:h1"))),
        DemoHandIn("10-strap.profile.json", "the small hole has no diameter",
                   _part_file(_unbound(key, "b24"))),
        DemoHandIn("11-strap.profile.json", "a value was worked out by hand",
                   _part_file(_with_value("b5", "60.0003"))),
        DemoHandIn("12-strap.dxf", "the file was cut short",
                   _dxf(drawn)[:700]),
        DemoHandIn("13-strap.dxf", "nothing: other layer names, another datum",
                   _dxf(_moved(drawn, Pose(shift=(200.0, -40.0))), LAYERS)),
    )


def demo_files() -> Mapping[str, bytes]:
    """Return key, rubric and roster by their names; the roster has numbers and no names."""
    numbers = "".join(f"{number:02d},,{'A' if number < 8 else 'B'}\n" for number in range(1, 15))
    return {
        KEY_FILE: file_text.write(demo_key()).encode("utf-8"),
        RUBRIC_FILE: rubric_text(Rubric()).encode("utf-8"),
        ROSTER_FILE: f"number,name,group\n{numbers}".encode(),
    }


def _with_value(binding: str, value: str) -> Part:
    return solve_with(demo_key(), {}, {binding: value}).part


def _unbound(part: Part, binding: str) -> Part:
    kept: dict[str, Binding] = {name: b for name, b in part.bindings.items() if name != binding}
    return part.having(bindings=kept)


def _part_file(part: Part) -> bytes:
    return file_text.write(part).encode("utf-8")


def _drawn(part: Part) -> Strokes:
    """Return outline and center lines of a part at its true size."""
    pieces = whole(part)
    outline = [Stroke(piece.curve, "visible", f"curve:{piece.id}")
               for piece in pieces if piece.role == "outline"]
    marks = center_marks(part, View(), pieces)
    return (*outline, *(stroke for mark in marks for stroke in mark.strokes))


def _dxf(strokes: Strokes, layers: Mapping[str, str] | None = None) -> bytes:
    from sketcher.exchange.dxf_bytes import dxf_bytes
    from sketcher.exchange.dxf_sheet import dxf_document

    page = Page("drawing", (420.0, 297.0), "ISO", strokes, view=View())
    document = dxf_document(page)
    for name, other in (layers or {}).items():
        document.layers.get(name).rename(other)
    return dxf_bytes(document)


def _moved(strokes: Strokes, pose: Pose) -> Strokes:
    return tuple(replace(stroke, curve=pose.curve(stroke.curve)) for stroke in strokes)


def _without(strokes: Strokes, *begun: str) -> Strokes:
    """Return strokes but those of some sources, or of what hangs on them."""
    return tuple(stroke for stroke in strokes
                 if not any(stroke.source == each or stroke.source.startswith(f"{each}/")
                            for each in begun))


def _strokes(name: str, strokes: Sequence[Stroke]) -> Iterator[Stroke]:
    return (stroke for stroke in strokes if stroke.source == f"curve:{name}")


def _gap(strokes: Strokes, name: str, wide: float = 0.3) -> Strokes:
    """Return strokes with one line shortened at its end."""
    [stroke] = _strokes(name, strokes)
    line = stroke.curve
    assert isinstance(line, Line)
    share = 1.0 - wide / line.length
    end = (line.start[0] + share * (line.end[0] - line.start[0]),
           line.start[1] + share * (line.end[1] - line.start[1]))
    short = replace(stroke, curve=Line(line.start, end))
    return tuple(short if each is stroke else each for each in strokes)
