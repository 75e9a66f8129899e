"""A note with letters says what no dimension does; without it the part cannot be made."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketcher.drafting.page import Page
from sketcher.drafting.primitives import Text
from sketcher.drafting.rebuild.rebuilding import rebuild
from sketcher.drafting.sheet import pages
from sketcher.part import store
from sketcher.shipped import shipped
from sketcher.solve import solve


def sheet(practice: str) -> Page:
    part = solve(store.load(shipped("demo_parts", "shift-arm.profile.json"))).part
    return pages(part.having(drawing=replace(part.drawing, practice=practice)))[0]


@pytest.mark.parametrize("practice", ["ISO", "ASME"])
def test_the_shift_arm_is_made_by_its_sheet(practice: str) -> None:
    assert rebuild(sheet(practice)).lacks == ()


@pytest.mark.parametrize("practice", ["ISO", "ASME"])
def test_without_the_note_its_edge_has_no_direction(practice: str) -> None:
    page = sheet(practice)
    page = replace(page, items=tuple(i for i in page.items if not (
        isinstance(i, Text) and "parallel" in i.text.lower())))
    (lack,) = rebuild(page).lacks
    assert lack.cause == "missing"
    assert "angle of the edge e3" in lack.text
