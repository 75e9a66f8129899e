"""One part is one piece: what lies off the plate or inside its holes is told and not counted."""

from __future__ import annotations

from math import pi

import pytest

from sketcher.inspect.inspection import Inspection
from sketcher.part.value import Binding, GridPattern, Mirror, Part, frozen
from tests.plates import codes, looked_at, plate, polygon, rectangle

POINTS, LINES = rectangle(40.0, 20.0)


def detached(inspection: Inspection) -> dict[str, tuple[float, float] | None]:
    """First curve and place of every finding about something detached."""
    return {f.ids[0]: f.at for f in inspection.findings if f.code == "detached"}


def counted(inspection: Inspection) -> set[str]:
    """Curves of the contours that count."""
    return {name for loop in inspection.profile.plate for name in loop.ids}


def test_a_hole_off_the_plate() -> None:
    part = plate({**POINTS, "c": (60.0, 10.0)}, {**LINES, "h": ("c", 4.0)})
    inspection = looked_at(part)
    assert codes(inspection) == ["detached"]
    finding = inspection.findings[0]
    assert finding.ids == ("h",)
    assert finding.at == (60.0, 10.0)
    assert "Ø8 mm" in finding.text
    assert "(60, 10)" in finding.text
    profile = inspection.profile
    assert profile.area == 800.0
    assert profile.perimeter == 120.0
    assert profile.moments is not None
    assert profile.moments.centroid == pytest.approx((20.0, 10.0), rel=1e-15)
    assert profile.bounds == (0.0, 0.0, 40.0, 20.0)
    assert profile.mass == pytest.approx(800.0 * 3.0 * 7850e-9, rel=1e-12)


def test_a_ring_inside_a_hole_is_no_second_outside() -> None:
    part = plate({**POINTS, "c": (20.0, 10.0)}, {**LINES, "h": ("c", 4.0), "r": ("c", 2.0)})
    inspection = looked_at(part)
    assert codes(inspection) == ["detached"]
    assert inspection.findings[0].ids == ("r",)
    assert inspection.profile.detached[0].within == ("h",)
    assert inspection.profile.area == pytest.approx(800.0 - 16.0 * pi, rel=1e-15)


def test_the_inspection_file_keeps_telling_them() -> None:
    part = plate({**POINTS, "c": (60.0, 10.0), "d": (20.0, 10.0)},
                 {**LINES, "off": ("c", 4.0), "h": ("d", 4.0)})
    told = looked_at(part).as_dict()["profile"]
    found = {loop["curves"][0]: (loop["hole"], loop["detached"]) for loop in told["loops"]}
    assert found == {"off": (False, True), "h": (True, False), "pe1": (False, False)}


def test_a_detached_piece_with_holes_of_its_own_is_one_finding() -> None:
    more, others = rectangle(10.0, 10.0, at=(50.0, 0.0), prefix="q")
    part = plate({**POINTS, **more, "c": (55.0, 5.0), "d": (52.0, 2.0)},
                 {**LINES, **others, "h": ("c", 2.0), "k": ("d", 0.5)})
    inspection = looked_at(part)
    assert codes(inspection) == ["detached"]
    assert set(inspection.findings[0].ids) == {*others, "h", "k"}
    assert "10 x 10 mm" in inspection.findings[0].text
    assert counted(inspection) == set(LINES)


def test_islands_in_holes_in_islands() -> None:
    """Each island is a piece of its own; a hole hangs on the island around it."""
    points = {**POINTS, "c": (20.0, 10.0)}
    circles = {f"r{k}": ("c", float(k)) for k in (8, 6, 4, 2)}
    inspection = looked_at(plate(points, {**LINES, **circles}))
    assert codes(inspection) == ["detached", "detached"]
    assert [set(f.ids) for f in inspection.findings] == [{"r6", "r4"}, {"r2"}]
    # What the inner island lies in is a hole of something detached, not of the plate.
    assert [piece.within for piece in inspection.profile.detached] == [("r8",), ()]
    assert inspection.profile.area == pytest.approx(800.0 - 64.0 * pi, rel=1e-15)


def test_the_largest_outside_is_the_plate_wherever_it_stands_in_the_file() -> None:
    small = {"c": ("o", 5.0)}
    points = {**POINTS, "o": (-20.0, 10.0)}
    for curves in ({**small, **LINES}, {**LINES, **small}):
        inspection = looked_at(plate(points, curves))
        assert list(detached(inspection)) == ["c"]
        assert inspection.profile.area == 800.0


def test_halves_that_end_short_of_the_axis_are_two_plates() -> None:
    """Of two equal plates the drawn one counts, whatever rounding says of their areas."""
    points, lines = rectangle(1.0 / 3.0, 20.0, at=(0.1, 0.0))
    points |= {"a": (0.0, 0.0), "b": (0.0, 20.0), "c": (0.25, 10.0)}
    curves = {"h": ("c", 0.05), **lines, "ax": ("a", "b")}
    inspection = looked_at(plate(points, curves, axis="ax", roles={"ax": "axis"}))
    assert codes(inspection) == ["detached"]
    assert set(inspection.findings[0].ids) == {"h'", *(f"{name}'" for name in lines)}
    assert inspection.profile.detached[0].copied
    assert inspection.profile.bounds[0] == 0.1
    assert inspection.profile.area == pytest.approx(20.0 / 3.0 - 0.0025 * pi, rel=1e-13)


def test_of_equal_plates_the_drawn_one_counts_however_the_axis_slants() -> None:
    """The image of a plate can come out larger in the last digit."""
    larger = 0
    for k in range(12):
        points, lines = polygon((0.1, 0.0), (7.3, 0.3), (6.1 + 0.1 * k, 4.7), (0.3, 3.9))
        points |= {"a": (-1.0, 0.0), "b": (-4.0 - 0.7 * k, 9.0)}
        part = plate(points, {**lines, "ax": ("a", "b")}, axis="ax", roles={"ax": "axis"})
        profile = looked_at(part).profile
        drawn, image = sorted(profile.loops, key=lambda loop: "'" in loop.ids[0])
        assert image.detached
        assert not drawn.detached
        larger += image.area > drawn.area
    assert larger > 0  # else nothing was tried


def test_a_round_plate_drawn_twice_is_one_plate() -> None:
    points = {"c": (0.0, 0.0), "u": (30.0, 0.0), "v": (-30.0, 0.0)}
    arcs = {"y": ("u", "v", "c", "ccw"), "z": ("v", "u", "c", "ccw")}
    assert set(codes(looked_at(plate(points, {"h": ("c", 30.0), **arcs})))) == {"overlap"}


def test_two_axes_leave_one_plate_of_four() -> None:
    points, lines = rectangle(10.0, 5.0, at=(1.0, 1.0))
    points |= {"a": (0.0, 0.0), "b": (0.0, 9.0), "c": (9.0, 0.0)}
    part = plate(points, {**lines, "up": ("a", "b"), "across": ("a", "c")},
                 roles={"up": "axis", "across": "axis"}).having(
        mirrors=(Mirror("up"), Mirror("across")))
    inspection = looked_at(part)
    assert codes(inspection) == ["detached"] * 3
    assert counted(inspection) == set(lines)


def test_a_pattern_of_a_whole_outline_leaves_one_plate() -> None:
    pattern = GridPattern(tuple(LINES), ("50", "30"), (2, 2))
    inspection = looked_at(plate(POINTS, LINES, patterns=frozen({"n": pattern})))
    assert codes(inspection) == ["detached"] * 3
    assert all(piece.copied for piece in inspection.profile.detached)
    assert counted(inspection) == set(LINES)


def test_a_pattern_that_runs_off_the_plate() -> None:
    pattern = GridPattern(("h",), ("10", "0"), (6, 1))
    part = plate({**POINTS, "c": (5.0, 10.0)}, {**LINES, "h": ("c", 2.0)},
                 patterns=frozen({"n": pattern}))
    inspection = looked_at(part)
    assert list(detached(inspection)) == ["h#4", "h#5"]
    assert inspection.profile.area == pytest.approx(800.0 - 16.0 * pi, rel=1e-14)
    assert not any(piece.copied for piece in inspection.profile.detached)


def test_what_meets_the_plate_is_told_by_the_meeting() -> None:
    """How deep a contour lies that crosses another is not to be trusted: no second finding."""
    for x in (-3.0, 0.0, 2.0):
        part = plate({**POINTS, "c": (x, 10.0)}, {**LINES, "h": ("c", 4.0)})
        assert set(codes(looked_at(part))) == {"crossing"}
    touching = plate({**POINTS, "c": (-4.0, 10.0)}, {**LINES, "h": ("c", 4.0)})
    assert codes(looked_at(touching)) == ["crossing"]


def test_what_meets_only_other_detached_things_is_detached() -> None:
    part = plate({**POINTS, "c": (60.0, 10.0), "d": (63.0, 10.0)},
                 {**LINES, "h": ("c", 4.0), "k": ("d", 4.0)})
    inspection = looked_at(part)
    assert codes(inspection) == ["crossing", "crossing", "detached"]
    assert set(inspection.findings[-1].ids) == {"h", "k"}
    assert inspection.profile.area == 800.0


def test_an_island_that_touches_the_wall_of_its_hole() -> None:
    part = plate({**POINTS, "c": (20.0, 10.0), "d": (22.0, 10.0)},
                 {**LINES, "h": ("c", 4.0), "r": ("d", 2.0)})
    assert codes(looked_at(part)) == ["crossing"]


def test_a_hole_drawn_twice_is_not_detached() -> None:
    points = {**POINTS, "c": (20.0, 10.0), "u": (24.0, 10.0), "v": (16.0, 10.0)}
    arcs = {"y": ("u", "v", "c", "ccw"), "z": ("v", "u", "c", "ccw")}
    inspection = looked_at(plate(points, {**LINES, "h": ("c", 4.0), **arcs}))
    assert set(codes(inspection)) == {"overlap"}


def test_strays_do_not_join_what_is_apart() -> None:
    part = plate({**POINTS, "c": (60.0, 10.0), "s": (30.0, 10.0)},
                 {**LINES, "h": ("c", 4.0), "bridge": ("s", "c")})
    assert list(detached(looked_at(part))) == ["h"]


def advised(part: Part) -> set[str]:
    """Curves that cutting advice speaks of."""
    inspection = looked_at(part)
    assert "detached" in codes(inspection)
    return {name for advice in inspection.cutting for name in advice.ids}


def test_cutting_advice_speaks_of_the_plate_alone() -> None:
    """A tiny detached hole near the edge is no small hole and leaves no narrow web."""
    part = plate({**POINTS, "c": (41.0, 10.0)}, {**LINES, "h": ("c", 0.1)})
    assert "h" not in advised(part)
    inside = plate({**POINTS, "c": (20.0, 10.0)}, {**LINES, "h": ("c", 4.0), "r": ("c", 3.9)})
    assert "r" not in advised(inside)
    more, others = rectangle(10.0, 10.0, at=(50.0, 0.0), prefix="q")
    drilled = plate({**POINTS, **more, "c": (55.0, 5.0)}, {**LINES, **others, "h": ("c", 0.2)})
    assert advised(drilled) == set()


def test_no_advice_about_the_size_of_what_is_not_cut() -> None:
    """A fit asked of a hole is beyond the cut; asked of one off the plate it is nobody's matter."""
    fit = Binding("diameter", ("h",), "8", tolerance=(0.01, -0.01))
    for x, rules in ((20.0, {"tolerance"}), (60.0, set())):
        part = plate({**POINTS, "c": (x, 10.0)}, {**LINES, "h": ("c", 4.0)}, fit)
        assert {advice.rule for advice in looked_at(part).cutting} == rules


def test_a_plate_within_a_plate_does_not_turn_material_into_air() -> None:
    """The narrow web beside a hole is a web, whatever lies inside the hole."""
    points = {**POINTS, "c": (20.0, 4.5), "d": (20.0, 4.5)}
    alone = plate(points, {**LINES, "h": ("c", 4.0)})
    filled = plate(points, {**LINES, "h": ("c", 4.0), "r": ("d", 2.0)})
    rules = [[(a.rule, a.ids, a.found) for a in looked_at(part).cutting]
             for part in (alone, filled)]
    assert rules[0]
    assert rules[0] == rules[1]
