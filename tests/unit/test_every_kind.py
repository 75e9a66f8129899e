"""Every kind in every place that shows kinds: file, ledger, scene, order, screen, sheet, record.

A kind is found by looking at its folder; without a specimen here the first test fails.
"""

from __future__ import annotations

import re
from dataclasses import replace
from math import hypot, isfinite
from pathlib import Path

import ezdxf
import pytest

from sketcher.board.board import Board
from sketcher.board.dimensions.desk_layout import lay_out_on_desk
from sketcher.board.ledger.ledger_rows import ledger_rows
from sketcher.drafting.measured import measured
from sketcher.drafting.paper_view import View
from sketcher.drafting.record import record
from sketcher.exchange.sheet_file import write_sheet
from sketcher.lesson.order import construction_order
from sketcher.part import dimension_form
from sketcher.part.file_text import read, write
from sketcher.part.kind_base import Kind
from sketcher.part.kind_sign import Sign
from sketcher.part.kinds import KINDS, fitting, wanted
from sketcher.part.value import Part
from sketcher.solve.solve_report import SolveReport
from tests.every_kind import SPECIMENS, Specimen, bare, begun, plate
from tests.inspected import inspected
from tests.sheet_reader import read_svg

every = pytest.mark.parametrize("specimen", SPECIMENS, ids=lambda s: f"{s.kind} {' '.join(s.of)}")
ON_PAPER = [s for s in SPECIMENS if s.value is not None
            and "layout" not in {c.role for n, c in bare().curves.items() if n in s.of}]
printed = pytest.mark.parametrize("specimen", ON_PAPER, ids=lambda s: f"{s.kind} {' '.join(s.of)}")


def test_every_kind_has_a_specimen() -> None:
    assert {s.kind for s in SPECIMENS} == set(KINDS)
    assert {s.kind for s in SPECIMENS if s.value is not None} == {
        name for name, kind in KINDS.items() if kind.quantity}


def test_every_kind_has_a_sign_of_its_own() -> None:
    signs = [kind.sign for kind in KINDS.values()]
    assert len(set(signs)) == len(signs)
    for sign in signs:
        assert sign != Sign()
        for stroke in sign.strokes:
            assert len(stroke) > 1
            assert all(abs(v) <= 1.0 for at in stroke for v in at)
        assert all(max(abs(x), abs(y)) + r <= 1.01 for x, y, r in (*sign.rings, *sign.dots))


@every
def test_it_is_offered_for_its_operands(specimen: Specimen) -> None:
    assert specimen.kind in fitting(bare(), specimen.of)


@every
def test_a_file_gives_it_back(specimen: Specimen) -> None:
    for drives in (True, False) if specimen.value is not None else (True,):
        part = plate(specimen, drives)
        assert read(write(part).encode()).bindings == part.bindings


@every
def test_its_row_in_the_ledger(specimen: Specimen) -> None:
    (row,) = ledger_rows(Board(plate(specimen, drives=specimen.value is None)).bench)
    assert (row.id, row.kind) == ("b", specimen.kind)
    assert set(row.ids) == set(specimen.of)
    assert all(name in row.of for name in specimen.of)
    if specimen.value is not None:
        assert row.actual == pytest.approx(specimen.value, abs=1e-8)
        assert row.state == "ok"


@every
def test_its_sign_or_its_dimension_on_the_scene(specimen: Specimen) -> None:
    board = Board(plate(specimen))
    glyphs = board.bench.derived.glyphs()
    lines = lay_out_on_desk(board.part, SolveReport(), 0.1).lines
    if specimen.value is None:
        assert not lines
        assert {(g.binding, g.kind) for g in glyphs} == {("b", specimen.kind)}
        assert all(isfinite(v) for g in glyphs for v in g.at)
        assert all(hypot(*g.away) == pytest.approx(1.0) for g in glyphs)
    else:
        assert not glyphs
        (dimension,) = lines
        assert dimension.text == specimen.lettered
        assert dimension.arrows
        assert dimension.curves


@every
def test_a_step_of_the_construction_says_it(specimen: Specimen) -> None:
    steps = construction_order(begun(specimen))
    (step,) = [step for step in steps if "b" in step.bindings]
    assert not step.text.startswith("Not used")
    assert not any("allows" in step.text for step in steps), [s.text for s in steps]


@printed
def test_the_inspection_and_the_record_have_its_row(specimen: Specimen) -> None:
    part = plate(specimen)
    (row,) = inspected(part).as_dict()["dimensions"]
    assert (row["kind"], row["of"], row["within"]) == (specimen.kind, list(part.bindings["b"].of),
                                                       True)
    assert row["actual"] == pytest.approx(specimen.value, abs=1e-8)
    (told,) = record(part)
    assert told.nominal == pytest.approx(specimen.value, abs=1e-8)
    assert told.what == KINDS[specimen.kind].label
    assert told.lower is not None  # a general tolerance holds for it


def test_every_kind_is_on_paper_and_layout_alone_is_not() -> None:
    assert {s.kind for s in ON_PAPER} == {name for name, kind in KINDS.items() if kind.quantity}
    (left,) = [s for s in SPECIMENS if s.value is not None and s not in ON_PAPER]
    assert measured(plate(left), View(1.0)) == ()


@printed
@pytest.mark.parametrize("practice", ["ISO", "ASME"])
def test_a_sheet_is_read_back(specimen: Specimen, practice: str, tmp_path: Path) -> None:
    # ezdxf measures a DIMENSION by its defining points, the XML parser reads the lettering.
    part = plate(specimen)
    part = part.having(drawing=replace(part.drawing, practice=practice, scale="1:1"))
    write_sheet(part, tmp_path / "sheet.dxf")
    (dimension,) = ezdxf.readfile(tmp_path / "sheet.dxf").modelspace().query("DIMENSION")
    assert dimension.get_measurement() == pytest.approx(specimen.value, abs=1e-6)
    assert dimension.dxf.text == "<>"  # the reader puts in what it measures
    write_sheet(part, tmp_path / "sheet.svg")
    texts = [t.text for t in read_svg(tmp_path / "sheet.svg").lettering
             if t.source == "dimension:b"]
    assert texts == [specimen.lettered]
    number = re.sub("[^0-9.]", "", texts[0])
    assert float(number) == pytest.approx(wanted(part, part.bindings["b"]), abs=0.005)


class Strange(Kind):
    """A kind whose dimension has a form that nobody draws."""

    name, quantity, forms = "strange", "length", (("line",),)

    def dimension(self, part: Part, of: object) -> object:
        """Return what is no form."""
        return "spiral"


def test_an_unknown_form_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    part = plate(next(s for s in SPECIMENS if s.kind == "distance"))
    strange = {**KINDS, "distance": Strange()}
    for place in ("drafting.measured", "board.dimensions.desk_measures"):
        monkeypatch.setattr(f"sketcher.{place}.KINDS", strange)
    with pytest.raises(TypeError, match="no way to draw a dimension of the form str"):
        measured(part, View(1.0))
    with pytest.raises(TypeError, match="no way to draw a dimension of the form str"):
        lay_out_on_desk(part, SolveReport(), 0.1)


def test_a_length_without_extent_has_no_form() -> None:
    part = bare()
    part = part.having(points={**part.points, "c2": part.points["c1"]})
    assert KINDS["distance"].dimension(part, ("c1", "c2")) is None
    assert isinstance(KINDS["run"].dimension(part, ("c1", "c2")), dimension_form.Linear)
