"""A dimensioned hand-in of the pump flange, drawn by ezdxf from plain trigonometry.

ezdxf writes and paints the dimensions; nothing of the program's own sheet is in the file. The set
is another than the key's: the ears, of more than half a turn, have their radius, not what is left
around their holes.
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, degrees, radians, sin
from pathlib import Path
from typing import Any

import pytest

from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.marking.hand_in_file import read_hand_in
from sketcher.marking.marking_rule import Undecided
from sketcher.marking.rules import marking_rules
from tests.ready_keys import key_ready
from tests.unit.marking.by_hand import pump_flange

LAYERS = {"edges": "outline", "dims": "dimension", "frame": "sheet"}
STYLE = {"dimtxt": 3.5, "dimexo": 1.5, "dimasz": 3.5, "dimdec": 1, "dimzin": 8, "dimtih": 0,
         "dimtoh": 0, "dimtad": 1, "dimgap": 0.8, "dimscale": 1.0, "dimtxsty": "Standard"}
BLOCK = [("TITLE", "Pump flange"), ("DRAWN BY", "N. N."), ("DATE", "2024-03-05"), ("SCALE", "1:1")]


class Sheet:
    """A drawing that is being made."""

    def __init__(self, edges: float = 0.5, thin: float = 0.25) -> None:
        import ezdxf

        self.document = ezdxf.new("R2010", setup=True)
        self.document.units = 4
        self.model = self.document.modelspace()
        for name, width in (("EDGES", edges), ("DIMS", thin), ("FRAME", thin)):
            self.document.layers.add(name, lineweight=round(100 * width))
        self.document.dimstyles.new("CLASS", dxfattribs=STYLE)
        for curve in pump_flange().values():
            self._edge(curve)
        for a, b in (((-120, -90), (120, -90)), ((120, -90), (120, 90)), ((120, 90), (-120, 90)),
                     ((-120, 90), (-120, -90))):
            self.model.add_line(a, b, dxfattribs={"layer": "FRAME"})

    def _edge(self, curve: Line | Arc | Circle) -> None:
        how = {"layer": "EDGES"}
        if isinstance(curve, Line):
            self.model.add_line(curve.start, curve.end, dxfattribs=how)
        elif isinstance(curve, Circle):
            self.model.add_circle(curve.center, curve.radius, dxfattribs=how)
        else:
            start, end = curve.start_angle, curve.start_angle + curve.sweep
            low, high = (start, end) if curve.sweep > 0.0 else (end, start)
            self.model.add_arc(curve.center, curve.radius, degrees(low), degrees(high),
                               dxfattribs=how)

    def words(self, entries: list[tuple[str, str]]) -> None:
        """A title block: labels, and what is written below each."""
        for k, (label, value) in enumerate(entries):
            for text, y in ((label, -80.0), (value, -86.0)):
                if text:
                    self.model.add_text(text, height=2.5, dxfattribs={"layer": "FRAME"}
                                        ).set_placement((-110.0 + 50.0 * k, y))

    def length(self, y: float, one: tuple[float, float], other: tuple[float, float],
               text: str = "<>") -> None:
        self._put(self.model.add_linear_dim((0.0, y), one, other, text=text, dimstyle="CLASS",
                                            dxfattribs={"layer": "DIMS"}))

    def round(self, center: tuple[float, float], size: float, turn: float, text: str,
              full: bool = True, far: float = 20.0) -> None:
        """A radius or a diameter with its text outside."""
        t = radians(turn)
        where = (center[0] + (size + far) * cos(t), center[1] + (size + far) * sin(t))
        add = self.model.add_diameter_dim if full else self.model.add_radius_dim
        self._put(add(center=center, radius=size, angle=turn, location=where, text=text,
                      dimstyle="CLASS", dxfattribs={"layer": "DIMS"}))

    @staticmethod
    def _put(made: Any) -> None:
        made.render()


def complete(sheet: Sheet) -> None:
    """Every size of the flange once."""
    sheet.length(-62.0, (-62.0, 0.0), (62.0, 0.0))
    sheet.round((62.0, 0.0), 6.5, 40.0, "2X <>")
    sheet.round((62.0, 0.0), 16.0, -30.0, "2X <>", False)
    sheet.round((0.0, 0.0), 44.0, 60.0, "<>", False)
    sheet.round((0.0, 0.0), 18.0, 35.0, "<>", far=48.0)
    sheet.round((0.0, 0.0), 30.0, 125.0, "<>", far=34.0)
    sheet.round((0.0, 30.0), 3.3, 70.0, "6X <>", far=35.0)


def fillets(sheet: Sheet) -> None:
    f1x = (62.0 ** 2 + 64.0 ** 2 - 36.0 ** 2) / (2.0 * 62.0)
    sheet.round((f1x, (64.0 ** 2 - f1x ** 2) ** 0.5), 20.0, 230.0, "4X <>", False, far=-10.0)


def found(sheet: Sheet, folder: Path) -> dict[str, list[str]]:
    """What the rules of dimensions and sheet find, by rule; words and what is wanted of each."""
    sheet.document.saveas(folder / "drawn.dxf")
    hand_in = read_hand_in(folder / "drawn.dxf", LAYERS)  # type: ignore[arg-type]
    comparison = key_ready("pump-flange").compare(hand_in)
    assert comparison.changes == ()
    out = {}
    for name, rule in marking_rules().items():
        if rule.group in ("dimensions", "sheet"):
            decided = rule.decide(comparison)
            if decided and not isinstance(decided, Undecided):
                out[name] = [each.wanted or each.found for each in decided]
    return out


def drawn(*steps: Callable[[Sheet], None], entries: list[tuple[str, str]] = BLOCK,
          edges: float = 0.5) -> Sheet:
    sheet = Sheet(edges)
    for step in steps:
        step(sheet)
    sheet.words(entries)
    return sheet


def test_a_sheet_that_is_complete_in_another_way_costs_nothing(tmp_path: Path) -> None:
    assert found(drawn(complete, fillets), tmp_path) == {}


def typed_over(sheet: Sheet) -> None:
    sheet.length(-72.0, (-62.0, 0.0), (62.0, 0.0), "125")


@pytest.mark.parametrize(("sheet", "wanted"), [
    (lambda: drawn(complete), {"dimension-missing": ["4x R20"]}),
    (lambda: drawn(complete, fillets, lambda s: s.length(-72.0, (-62.0, 0.0), (62.0, 0.0))),
     {"dimension-twice": ["(124)"]}),
    (lambda: drawn(complete, fillets, lambda s: s.round((-62.0, 0.0), 6.5, 140.0, "<>", False)),
     {"radius-for-diameter": ["Ø13"], "dimension-twice": ["(R6,5)"]}),
    (lambda: drawn(complete, fillets, typed_over),
     {"typed-over": ["124"], "dimension-twice": ["(125)"]}),
    (lambda: drawn(complete, fillets, edges=0.25), {"line-widths": ["0.5 mm"]}),
    (lambda: drawn(complete, fillets, entries=[*BLOCK[:2], ("DATE", ""), BLOCK[3]]),
     {"title-block": ["date"]}),
], ids=["missing", "twice", "radius", "typed", "widths", "date"])
def test_each_fault_is_found_and_no_other(
    tmp_path: Path, sheet: Callable[[], Sheet], wanted: dict[str, list[str]]
) -> None:
    assert found(sheet(), tmp_path) == wanted
