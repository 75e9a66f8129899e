"""What the sheet prints of dimensions that a part does not have, and the stamp across it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketcher.drafting.as_measured import as_measured
from sketcher.drafting.primitives import Text
from sketcher.drafting.sheet import pages, pages_alone
from sketcher.drafting.stamp import SOURCE
from sketcher.part.value import Binding, Part
from tests.plates import plate, rectangle


def part(*bindings: Binding) -> Part:
    """A plate of 40 by 20 with dimensions that need not be true."""
    points, lines = rectangle(40.0, 20.0)
    return plate(points, lines, *bindings)


def said(drawn: Part) -> set[str]:
    return {dimension.text for dimension in pages(drawn)[0].dimensions}


@pytest.mark.parametrize(("binding", "text"), [
    (Binding("distance", ("pe1",), "41"), "40"),
    (Binding("distance", ("pe1",), "40.0004"), "40"),
    (Binding("distance", ("pe1",), "40.01"), "40"),
    (Binding("distance", ("pe1",), "41", drives=False), "(40)"),
    (Binding("distance", ("pe1",), "40", drives=False), "(40)"),
    (Binding("distance", ("pe1",), drives=False), "(40)"),
])
def test_a_false_number_is_printed_as_measured(binding: Binding, text: str) -> None:
    assert said(part(binding)) == {text}


def test_what_a_part_has_is_left_as_typed() -> None:
    sound = part(Binding("distance", ("pe1",), "20 + 20"))
    assert as_measured(sound) is sound


@pytest.mark.parametrize("codes", [("loose",), ("loose", "gap", "near-tangent", "reference-differs",
                                               "axis-crossing", "detached", "overlap")])
@pytest.mark.parametrize("practice", ["ISO", "ASME"])
def test_the_stamp_lies_behind_and_within_every_page(codes: tuple[str, ...], practice: str) -> None:
    drawn = part(Binding("distance", ("pe1",), "40"))
    drawn = drawn.having(drawing=replace(drawn.drawing, practice=practice, inspection_page=True,
                                         order_page=True))
    made = pages(drawn, None, codes)
    assert len(made) == 3
    for page in (*made, *pages_alone("inspection", drawn, None, codes)):
        stamp = [item for item in page.items if item.source == SOURCE]
        assert list(page.items[:2]) == stamp
        for item in stamp:
            assert isinstance(item, Text)
            assert item.faint
            assert item.height >= 3.0
            for x, y in item.box():
                assert 0.0 < x < page.size[0]
                assert 0.0 < y < page.size[1]
    assert not any(item.source == SOURCE for page in pages(drawn) for item in page.items)
