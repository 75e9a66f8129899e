"""Written detail views read back by pdfplumber, an XML parser and ezdxf: size, letters, numbers.

The plates are those of `tests.corner_plate`.
"""

from __future__ import annotations

import math
from functools import cache

import pdfplumber
import pytest

from sketcher.drafting.sheet import pages
from sketcher.exchange.sheet_file import WRITERS
from sketcher.part.atomic import write_bytes
from sketcher.part.value import frozen
from tests.corner_plate import HOLES, nest, plate, sieve
from tests.sheet_reader import read_pdf, read_svg

MM = 25.4 / 72.0
@cache
def page(practice: str = "ISO"):
    return pages(plate(practice))[0]


def written(practice: str, path):
    WRITERS[path.suffix]([page(practice)], path, write_bytes)
    return path


def lettering(path) -> list[str]:
    """Words of a PDF, a line each, as pdfplumber finds them."""
    with pdfplumber.open(path) as document:
        return [line["text"] for line in document.pages[0].extract_text_lines()]


def test_what_would_print_as_a_dot_is_shown_in_one_detail() -> None:
    """Two holes of 0.8 mm at 1:1 or 2:1 print under 1.5 mm or a hair above: one detail for both."""
    (detail,) = page().details
    assert detail.letter == "A"
    for x, y, r in HOLES[:2]:
        assert math.dist((x, y), detail.center) + r < detail.radius
    assert math.dist(HOLES[2][:2], detail.center) > detail.radius


@pytest.mark.parametrize("practice", ["ISO", "ASME"])
def test_strokes_of_the_detail_are_the_part_at_its_scale(practice: str, tmp_path) -> None:
    written(practice, tmp_path / "s.pdf")
    ink = read_pdf(tmp_path / "s.pdf")
    (detail,) = page(practice).details
    shift = ink.size[1] - page(practice).size[1]
    scale = detail.view.factor
    assert scale * 0.8 >= 2.0  # the smallest prints legibly
    rounds = [d for d in ink.of("wide") if d.center is not None]
    for x, y, r in HOLES[:2]:
        cx, cy = detail.view.point((x, y))
        assert any(math.dist(d.center, (cx, cy + shift)) < 0.02
                   and d.radius == pytest.approx(scale * r, abs=0.01) for d in rounds)
    # Two edges meet at the corner and end at the boundary, which is as wide as the ring by scale.
    mx, my = detail.view.point(detail.center)
    reach = scale * detail.radius
    inside = [d for d in ink.of("wide") if d.center is None
              and math.dist(_middle(d), (mx, my + shift)) < reach]
    assert len(inside) == 2
    far = [max(math.dist(end, (mx, my + shift)) for end in (d.start, d.end)) for d in inside]
    assert far == pytest.approx([reach, reach], abs=0.02)
    corner = detail.view.point((120.0, 75.0))
    for edge in inside:
        assert min(math.dist(end, (corner[0], corner[1] + shift))
                   for end in (edge.start, edge.end)) < 0.02


def _middle(dash) -> tuple[float, float]:
    return (0.5 * (dash.start[0] + dash.end[0]), 0.5 * (dash.start[1] + dash.end[1]))


@pytest.mark.parametrize(("practice", "wanted"), [
    ("ISO", ["A", "A (5:1)"]), ("ASME", ["A", "DETAIL A", "SCALE 4:1"])])
def test_ring_and_detail_carry_one_letter_and_the_scale(practice, wanted, tmp_path) -> None:
    (detail,) = page(practice).details
    assert f"{detail.view.factor:g}:1" in wanted[-1]
    read = read_svg(written(practice, tmp_path / "s.svg"))
    assert sorted(t.text for t in read.lettering if t.source == "detail:A") == wanted
    said = " ".join(lettering(written(practice, tmp_path / "s.pdf")))
    assert all(text in said for text in wanted)


@pytest.mark.parametrize("practice", ["ISO", "ASME"])
def test_each_dimension_is_printed_once_in_all_views(practice: str, tmp_path) -> None:
    read = read_svg(written(practice, tmp_path / "s.svg"))
    said = [t.source for t in read.lettering if t.source.startswith("dimension:")]
    # The second small hole has the size and the height of the first: said once for both.
    wanted = {f"dimension:{name}" for name, b in plate(practice).bindings.items()
              if b.value and name not in ("s2", "y2")}
    assert sorted(said) == sorted(wanted)


@pytest.mark.parametrize("practice", ["ISO", "ASME"])
def test_no_view_lies_on_another(practice: str) -> None:
    """Everything of the detail is apart from everything else by at least 5 mm."""
    one = page(practice)
    (detail,) = one.details
    mx, my = detail.view.point(detail.center)
    reach = detail.view.factor * detail.radius
    for item in one.items:
        if item.source.startswith("curve:") and hasattr(item, "curve"):
            ends = getattr(item.curve, "center", None) or item.curve.start
            apart = math.dist(ends, (mx, my))
            assert apart <= reach + 0.01 or apart > reach + 5.0, item.source


def test_dimensions_of_the_detail_measure_the_part_in_the_dxf_drawing(tmp_path) -> None:
    """ezdxf measures with the factor that the entity carries (DIMLFAC)."""
    import ezdxf

    document = ezdxf.readfile(written("ISO", tmp_path / "s.dxf"))
    (detail,) = page("ISO").details
    own = page("ISO").view.factor / detail.view.factor
    measured = []
    for entity in document.modelspace().query("DIMENSION"):
        factor = entity.override().get("dimlfac", 1.0)
        measured.append((round(entity.get_measurement() * factor, 6), round(factor, 9)))
    for value in (0.8, 8.0, 5.6, 4.0):  # in the detail
        assert (value, round(own, 9)) in measured
    for value in (120.0, 75.0, 20.0, 10.0):
        assert (value, 1.0) in measured
    layers = {e.dxf.layer for e in document.modelspace() if e.dxftype() in ("CIRCLE", "ARC")}
    assert "DETAIL" in layers


def test_a_person_can_do_without_a_detail_or_ask_for_another_scale() -> None:
    off = frozen({"h1": frozen({"off": True}), "h2": frozen({"off": True})})
    assert pages(plate(details=off))[0].details == ()
    large = frozen({"h1": frozen({"scale": "20:1", "side": "left"})})
    one = pages(plate(details=large))[0]
    (detail,) = one.details
    assert detail.view.factor == 20.0
    right = max(max(c.start[0], c.end[0]) for c in (
        i.curve for i in one.items if i.source.startswith("detail:") and hasattr(i, "curve"))
        if hasattr(c, "start"))
    assert right < one.view.point((0.0, 0.0))[0]


def test_a_field_of_tiny_holes_is_its_corners_and_a_detail(tmp_path) -> None:
    """Of 12 x 9 holes the view has four, a line around them, and the detail some as they are."""
    one = pages(sieve(0.6))[0]
    path = tmp_path / "s.pdf"
    WRITERS[".pdf"]([one], path, write_bytes)
    (detail,) = one.details
    rounds = [d for d in read_pdf(path).of("wide") if d.center is not None]
    radius = 0.3 * one.view.factor
    tiny = sorted(d.center for d in rounds if d.radius == pytest.approx(radius, abs=0.01))
    assert len(tiny) == 4
    assert tiny[-1][0] - tiny[0][0] == pytest.approx(11 * 2.5 * one.view.factor, abs=0.02)
    large = 0.3 * detail.view.factor
    assert sum(d.radius == pytest.approx(large, abs=0.01) for d in rounds) >= 4
    said = {d.text for d in one.dimensions}
    assert "108x Ø0.6" in said
    assert any(text.startswith("11x 2.5") for text in said)


def test_a_field_of_holes_that_can_be_seen_is_drawn_in_full() -> None:
    one = pages(sieve(2.0))[0]
    assert one.details == ()
    circles = [i for i in one.items if i.source.startswith("curve:g")]
    assert len(circles) == 108


def test_dimensions_without_room_get_a_detail_of_their_own() -> None:
    """Sixteen sizes in a nest of 13 mm; every hole prints over 1.5 mm, yet not all sizes stand."""
    drawing = {"scale": "1:1", "sheet": "A2"}
    off = frozen({f"g{k}": frozen({"off": True}) for k in range(16)})
    crowded = pages(nest(**drawing, details=off))[0]
    assert crowded.details == ()
    assert crowded.crowded
    relieved = pages(nest(**drawing))[0]
    (detail,) = relieved.details
    # Two of the 34 still stand on something: a detail is enlarged once, not until all have room.
    assert len(relieved.crowded) <= 2 < len(crowded.crowded)
    assert {f"gd{k}" for k in range(16)} <= set(detail.dimensions)
    assert detail.view.factor > relieved.view.factor
