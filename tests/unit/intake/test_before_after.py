"""The picture of an intake: the file with marks on the left, the part's sheet on the right."""

from __future__ import annotations

from sketcher.drafting.primitives import Stroke, Text, item_box
from sketcher.exchange.dxf_content import DxfContent, FileCurve
from sketcher.exchange.svg import svg_text
from sketcher.geometry.curves import XY, Circle, Curve, Line
from sketcher.intake.before_after import before_and_after
from sketcher.intake.take_in import take_in
from sketcher.intake.wishes import Wishes


def plate(at: XY, wide: float, high: float, gap: float = 0.0) -> list[Curve]:
    x, y = at
    corners = [(x, y), (x + wide, y), (x + wide, y + high), (x, y + high), (x, y + gap)]
    sides: list[Curve] = [Line(*corners[i:i + 2]) for i in range(4)]
    return [*sides, Circle((x + wide / 4, y + high / 2), 4.5)]


def content(curves: list[Curve]) -> DxfContent:
    return DxfContent("plate", tuple(FileCurve(c, n) for n, c in enumerate(curves, 1)), "mm")


def test_the_file_and_the_sheet_stand_beside_each_other() -> None:
    taken = take_in(content(plate((1000.0, 0.0), 120.0, 75.0, 0.02)))
    [page] = before_and_after(taken, Wishes())
    half = page.size[0] / 2.0
    lines = [item for item in page.items if isinstance(item, Stroke) and item.source == "file:line"]
    assert len(lines) == 5
    assert all(item_box(item)[0] > 0.0 and item_box(item)[2] < half for item in lines)
    rings = [item for item in page.items
             if isinstance(item, Stroke) and item.source == "repair:gap-1-4"]
    assert len(rings) == 1
    texts = {item.text: item for item in page.items if isinstance(item, Text)}
    assert texts["plate, as received"].at[0] < half
    [number] = [item for item in page.items if isinstance(item, Text) and item.text == "1"
                and item.source == "repair:gap-1-4"]
    assert number.at[0] < half
    assert any(text.startswith("1  gap ") for text in texts)
    assert texts["120"].at[0] > half  # the dimension stands on the sheet
    assert "plate, as received" in svg_text(page)


def test_each_part_has_a_page() -> None:
    curves = [*plate((0.0, 0.0), 120.0, 75.0), *plate((200.0, 0.0), 60.0, 45.0)]
    assert len(before_and_after(take_in(content(curves)), Wishes())) == 2


def test_without_a_part_the_drawing_stands_alone() -> None:
    [page] = before_and_after(take_in(content([])), Wishes())
    assert page.size == (210.0, 297.0)
    assert any(isinstance(item, Text) and item.text == "plate, as received" for item in page.items)


def test_a_long_list_is_counted() -> None:
    curves: list[Curve] = [each for i in range(60) for each in 2 * [
        Line((0.0, 10.0 * i), (300.0, 10.0 * i))]]
    page = before_and_after(take_in(content(curves)), Wishes())[0]
    texts = [item.text for item in page.items if isinstance(item, Text)]
    listed = [text for text in texts if "  double" in text]
    assert f"and {60 - len(listed)} more" in texts
