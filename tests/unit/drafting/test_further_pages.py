"""Pages behind the drawing: the folder is the registry, and each kind is drawn and numbered."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

import sketcher.drafting.further_pages as folder
from sketcher.drafting import sheet as sheet_module
from sketcher.drafting.page_kind import Asked, PageKind
from sketcher.drafting.paper_sizes import sheet_named
from sketcher.drafting.primitives import Text, items_box
from sketcher.drafting.sheet import pages, pages_alone
from sketcher.drafting.title_block import with_block
from sketcher.part.store import load

DEMO = Path(__file__).resolve().parents[3] / "demo_parts"
FILES = sorted(path.stem for path in Path(folder.__file__).parent.glob("*.py")
               if path.stem != "__init__")


def test_every_file_of_the_folder_is_a_kind_of_page() -> None:
    assert len(folder.page_kinds()) == len(FILES) >= 2
    ranks = [kind.rank for kind in folder.page_kinds().values()]
    assert ranks == sorted(set(ranks))


@pytest.mark.parametrize("name", folder.page_kinds())
def test_a_kind_is_drawn_within_its_sheet_and_says_its_name(name: str) -> None:
    part = load(DEMO / "gate-strap.profile.json")
    made = pages_alone(name, part)
    assert made
    for number, page in enumerate(made, 1):
        x0, y0, x1, y1 = items_box(page.items)
        assert 0.0 <= x0 < x1 <= page.size[0]
        assert 0.0 <= y0 < y1 <= page.size[1]
        said = {item.text for item in page.items if isinstance(item, Text)}
        assert f"{number} of {len(made)}" in said
    sheet = with_block(part, sheet_named(made[0].sheet), further=True)
    bodies = list(folder.page_kinds()[name].bodies(Asked(part, sheet)))
    for body in bodies:
        x0, y0, x1, y1 = items_box(body)
        left, _, right, top = sheet.inner
        assert left <= x0 < x1 <= right
        assert sheet.block[3] <= y0 < y1 <= top  # clear of the title block


def test_a_further_kind_takes_its_place_by_rank(monkeypatch: pytest.MonkeyPatch) -> None:
    def figure(asked: Asked) -> list[list]:
        return [[Text("A figure", (asked.sheet.inner[0] + 9.0, asked.sheet.inner[3] - 9.0), 5.0,
                      "sheet:figure")]]

    kinds = {**folder.page_kinds(), "figure": PageKind("figure", 15, lambda part: True, figure)}
    kinds = dict(sorted(kinds.items(), key=lambda pair: pair[1].rank))
    monkeypatch.setattr(sheet_module, "page_kinds", lambda: kinds)
    part = load(DEMO / "gate-strap.profile.json")
    part = part.having(drawing=replace(part.drawing, inspection_page=True, order_page=True))
    names = list(dict.fromkeys(page.name for page in pages(part)))
    assert names == ["drawing", "inspection", "figure", "construction order"]
