"""A student's unfinished drawing beside the paper: ticked, not yet, open; drawn another way or
wrong."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from random import Random

import pytest

from sketcher.board.exercise.attempt import AttemptStanding, judge_attempt, paper_key
from sketcher.board.exercise.paper_probes import GapProbe, SizeProbe
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.part.value import Part
from sketcher.solve.solver import solve
from tests.loose_drawings import (
    demo,
    elsewhere,
    halved,
    lengthened,
    loose,
    mirror_image,
    outline_of,
    turned_by,
    without,
)
from tests.seldom import some_of

EVERY = ("gate-strap", "pump-flange", "roof-gusset", "shelf-bracket", "shift-arm")


def told(key: Part, standing: AttemptStanding, state: str) -> dict[str, str]:
    """What is said of each entry in a state, by the paper's words for it."""
    texts = {entry.id: entry.text for entry in paper_key(key).entries}
    return {texts[e.id]: e.said for e in standing.entries if e.state == state}


def clean(standing: AttemptStanding) -> bool:
    """Whether nothing is called wrong or left over."""
    return not (standing.stray or standing.doubled) and all(
        entry.state != "off" for entry in standing.entries)


@pytest.mark.parametrize("name", EVERY)
def test_every_entry_of_the_paper_is_measured_as_it_is_printed(name: str) -> None:
    # against the part's own bindings, which the sheet prints: what a dimension stands for is
    # measured by its kind (`part.kinds.measure`), here from features alone
    from sketcher.part.kinds import KINDS, measure

    part = demo(name)
    for entry in paper_key(part).entries:
        assert entry.probes, entry.text
        if entry.id in part.bindings:
            binding = part.bindings[entry.id]
            quantity = abs(measure(part, binding))
            times = [entry.wanted[0] / quantity]
            assert KINDS[binding.kind].quantity is not None
            assert min(abs(times[0] - factor) for factor in (1.0, 2.0)) < 1e-9, entry.text


@pytest.mark.parametrize("name", EVERY)
def test_the_part_drawn_elsewhere_from_the_other_end_and_unbound_is_finished(name: str) -> None:
    key = demo(name)
    drawn = loose(elsewhere(outline_of(key), 37.0, -12.5)[::-1], key.unit)
    standing = judge_attempt(key, drawn)
    assert standing.finished
    assert (standing.turn, standing.mirrored, standing.remarks()) == (0.0, False, ())


@pytest.mark.parametrize("name", EVERY)
def test_nothing_is_wrong_while_curves_come_one_by_one(name: str) -> None:
    key = demo(name)
    curves = elsewhere(outline_of(key), -4.0, 9.0)
    before, held = None, 0
    for many in range(1, len(curves) + 1):
        standing = judge_attempt(key, loose(curves[:many], key.unit), before)
        assert clean(standing), curves[many - 1]
        assert standing.holding >= held  # what was ticked stays so
        before, held = standing.pose, standing.holding
    assert held == len(paper_key(key).entries)


@pytest.mark.parametrize("name", EVERY)
def test_nothing_is_wrong_in_whatever_order_curves_come(name: str) -> None:
    key, chance = demo(name), Random(name)
    curves = outline_of(key)
    for _ in range(8):
        some = chance.sample(curves, chance.randint(1, len(curves)))
        away = elsewhere(some, chance.uniform(-300.0, 300.0), chance.uniform(-300.0, 300.0))
        standing = judge_attempt(key, loose(away, key.unit))
        assert clean(standing), some
        assert (standing.turn, standing.mirrored) == (0.0, False)


@pytest.mark.parametrize("name", EVERY)
def test_of_a_round_that_is_wrong_among_half_of_the_others_its_own_size_is_told(name: str) -> None:
    key, chance = demo(name), Random(name)
    ready = paper_key(key)
    sized = {entry.probes[0].feature: entry.id for entry in ready.entries
             if isinstance(entry.probes[0], SizeProbe)}
    holes = [n for n in sized if isinstance(ready.placed[n], Circle)]
    for wrong in holes:
        others = [n for n in ready.outline if n != wrong]
        hole = ready.placed[wrong]
        assert isinstance(hole, Circle)
        drawn = [ready.placed[n] for n in chance.sample(others, (len(others) + 1) // 2)]
        standing = judge_attempt(key, loose([*drawn, Circle(hole.center, 0.9 * hole.radius)],
                                            key.unit))
        off = {entry.id for entry in standing.entries if entry.state == "off"}
        # what is measured from its rim is off as well, and where nothing holds the hole it is open
        assert off - {sized[wrong]} <= {entry.id for entry in ready.entries if any(
            isinstance(probe, GapProbe) and wrong in probe.rounds for probe in entry.probes)}
        assert sized[wrong] in off


@pytest.mark.parametrize("name", some_of(EVERY, ("pump-flange", "shelf-bracket").__contains__))
def test_one_value_drawn_otherwise_is_named_with_what_it_measures(name: str) -> None:
    key = demo(name)
    entries = paper_key(key).entries
    for entry in entries:
        binding = key.bindings.get(entry.id)
        if binding is None or not binding.drives:
            continue
        other = key.having(bindings={
            **key.bindings, entry.id: replace(binding, value=f"({binding.value})*1.1")})
        solution = solve(other)
        if not solution.report.converged or solution.report.clashes:
            continue
        standing = judge_attempt(key, solution.part)
        said = {e.id: e.said for e in standing.entries if e.state == "off"}
        assert "where the paper says" in said.get(entry.id, ""), entry.text
        shown = [e for e in entries if e.id in said and not e.text.startswith("(")
                 and not e.is_touch and not e.text.endswith("R")]
        assert len(shown) == 1, (entry.text, said)  # and of what the paper binds no other


def test_the_size_is_told_as_the_paper_writes_it() -> None:
    key = demo("shelf-bracket")
    other = key.having(bindings={
        **key.bindings, "b9": replace(key.bindings["b9"], value="5 1/4"),
        "b23": replace(key.bindings["b23"], value="1/4")})
    said = told(key, judge_attempt(key, solve(other).part), "off")
    assert said["5"] == "5.25 where the paper says 5"
    assert said["Ø.375 ±.005"] == "Ø.25 where the paper says Ø.375"


def test_a_size_that_is_off_by_less_than_three_decimals_show_is_told_apart() -> None:
    key = demo("gate-strap")
    curves = outline_of(key)
    hole = next(n for n, c in enumerate(curves) if isinstance(c, Circle) and c.radius == 10.0)
    curves[hole] = replace(curves[hole], radius=10.0002)
    assert "Ø20.0004" in told(key, judge_attempt(key, loose(curves)), "off")["Ø20 ±0.1"]


def test_what_is_right_to_a_millionth_of_the_size_holds_and_what_is_not_does_not() -> None:
    key = demo("gate-strap")
    size = paper_key(key).size
    curves = outline_of(key)
    hole = next(n for n, c in enumerate(curves) if isinstance(c, Circle) and c.radius == 10.0)
    for share, holds in ((0.3e-6, True), (3e-6, False)):
        curves[hole] = Circle((0.0, 100.0), 10.0 + 0.5 * share * size)
        assert judge_attempt(key, loose(curves)).finished == holds


# Right, but drawn another way.


def test_an_arc_drawn_as_a_circle_counts_and_is_told_to_be_unfinished() -> None:
    key = demo("shift-arm")
    curves = outline_of(key)
    arc = next(n for n, c in enumerate(curves) if isinstance(c, Arc) and c.radius == 25.0)
    curves[arc] = Circle(curves[arc].center, 25.0)
    standing = judge_attempt(key, loose(curves))
    assert clean(standing)
    assert standing.holding == len(standing.entries)
    assert not standing.finished
    assert standing.remarks() == ("1 curve not yet from end to end as on the paper.",)


def test_an_edge_that_is_too_long_counts_as_that_edge() -> None:
    key = demo("gate-strap")
    ready = paper_key(key)  # edges across the axis are one there: halves would lie on each other
    curves = [lengthened(c, 3.0) if isinstance(c := ready.placed[n], Line) else c
              for n in ready.outline]
    standing = judge_attempt(key, loose(curves))
    assert clean(standing)
    assert standing.holding == len(standing.entries)
    assert standing.uneven
    assert not standing.finished


def test_an_edge_in_two_pieces_is_one_edge() -> None:
    key = demo("gate-strap")
    pieces = [piece for curve in outline_of(key)
              for piece in (halved(curve) if isinstance(curve, Line) else (curve,))]
    assert judge_attempt(key, loose(pieces)).finished


def test_a_half_with_its_reflection_is_the_whole_and_a_half_alone_is_open() -> None:
    key = demo("gate-strap")
    assert judge_attempt(key, key).finished
    half = judge_attempt(key, key.having(mirrors=()))
    assert clean(half)
    assert told(key, half, "open")["4x R8"] == "2 of 4"
    assert "120" in told(key, half, "open")  # its other side is not there to be measured to


def test_holes_of_a_pattern_and_single_ones_count_alike() -> None:
    key = demo("pump-flange")
    curves = outline_of(key)
    assert judge_attempt(key, loose(curves)).finished
    small = [n for n, c in enumerate(curves) if isinstance(c, Circle) and c.radius == 3.3]
    some = judge_attempt(key, loose(without(curves, *small[:2])))
    assert told(key, some, "open")["6x Ø6.6 equally spaced"] == ""
    x, y = curves[small[0]].center
    curves[small[0]] = Circle((x + 2.0, y), 3.3)
    astray = judge_attempt(key, loose(curves))
    assert "where the paper says" in told(key, astray, "off")["6x Ø6.6 equally spaced"]
    assert not astray.finished


def test_a_drawing_bound_by_other_dimensions_counts() -> None:
    # every dimension is gone, all is held by its place alone
    key = demo("roof-gusset")
    assert judge_attempt(key, key.having(bindings={})).finished


def test_what_is_scribed_as_layout_holds_but_is_no_outline_yet() -> None:
    key = demo("shift-arm")
    curves = outline_of(key)
    both = loose(curves[:1])
    laid = loose(curves, role="layout")
    standing = judge_attempt(key, laid)
    assert standing.holding == len(standing.entries)
    assert standing.missing == len(paper_key(key).outline)
    assert not standing.finished
    assert judge_attempt(key, both).missing == len(paper_key(key).outline) - 1


def test_a_part_in_the_other_unit_is_measured_in_the_paper_s() -> None:
    key = demo("gate-strap")
    inches = [_scaled(curve, 1.0 / 25.4) for curve in outline_of(key)]
    assert judge_attempt(key, loose(inches, "in")).finished


def _scaled(curve: Line | Arc | Circle, factor: float) -> Line | Arc | Circle:
    from sketcher.geometry.evaluate import scaled

    return scaled(curve, factor)


# Wrong.


def test_a_wrong_curve_is_no_other_way_of_drawing_the_right_one() -> None:
    key = demo("shift-arm")
    curves = outline_of(key)
    arc = next(n for n, c in enumerate(curves) if isinstance(c, Arc) and c.radius == 25.0)
    curves[arc] = Circle(curves[arc].center, 24.0)
    standing = judge_attempt(key, loose(curves))
    assert told(key, standing, "off")["R25"] == "R24 where the paper says R25"


def test_a_joint_that_is_not_tangent_is_told() -> None:
    key = demo("latch-plate")
    curves = outline_of(key)
    arc = next(n for n, c in enumerate(curves) if isinstance(c, Arc) and c.radius == 20.0)
    x, y = curves[arc].center
    curves[arc] = Circle((x - 0.5, y), 20.0)
    said = told(key, judge_attempt(key, loose(curves)), "off")
    assert said["edge tangent to R20"] == "not tangent: misses by 0.5"


def test_outline_that_is_none_of_the_papers_keeps_it_from_being_finished() -> None:
    key = demo("gate-strap")
    curves = [*outline_of(key), Circle((0.0, 40.0), 1.0)]
    standing = judge_attempt(key, loose(curves))
    assert (standing.stray, standing.finished) == (1, False)
    assert "1 outline curve is none of the paper's." in standing.remarks()


def test_an_edge_drawn_twice_keeps_it_from_being_finished() -> None:
    key = demo("gate-strap")
    curves = outline_of(key)
    edge = next(curve for curve in curves if isinstance(curve, Line))
    standing = judge_attempt(key, loose([*curves, halved(edge)[0]]))
    assert (standing.doubled, standing.finished) == (1, False)


def test_a_curve_that_lies_wrong_where_no_number_says_so_keeps_it_from_being_finished() -> None:
    key = demo("pump-flange")  # its bolt circle begins on the axis: that is shown, not said
    curves = outline_of(key)
    ring = [n for n, c in enumerate(curves) if isinstance(c, Circle) and c.radius == 3.3]
    turned = turned_by([curves[n] for n in ring], 10.0)
    back = elsewhere(turned, -7.0, 3.0)
    for n, curve in zip(ring, back, strict=True):
        curves[n] = curve
    standing = judge_attempt(key, loose(curves))
    assert not standing.finished


# How it lies.


@pytest.mark.parametrize("turn", [90.0, 180.0, 270.0, 33.0])
def test_a_turned_drawing_is_told_and_finished(turn: float) -> None:
    key = demo("latch-plate" if turn % 90.0 else "shift-arm")
    standing = judge_attempt(key, loose(turned_by(outline_of(key), turn)))
    assert standing.turn == pytest.approx(360.0 - turn)
    assert not standing.mirrored
    assert standing.holding == len(standing.entries) or turn % 90.0  # an angle to level is off then
    assert "turned" in standing.remarks()[0]


def test_a_mirror_image_is_told_and_not_finished() -> None:
    key = demo("shift-arm")
    standing = judge_attempt(key, loose(mirror_image(outline_of(key))))
    assert standing.mirrored
    assert not standing.finished
    assert standing.remarks() == ("It is the mirror image of the paper's part.",)


def test_a_symmetric_part_is_neither_turned_nor_mirrored() -> None:
    key = demo("pump-flange")
    standing = judge_attempt(key, loose(turned_by(mirror_image(outline_of(key)), 180.0)))
    assert (standing.turn, standing.mirrored, standing.finished) == (0.0, False, True)


def test_an_empty_sheet_and_one_with_another_part_have_everything_open() -> None:
    key = demo("shift-arm")
    for drawn in (Part(), loose([Circle((0.0, 0.0), 3.1)])):
        standing = judge_attempt(key, drawn)
        assert {entry.state for entry in standing.entries} == {"open"}


def test_a_rough_sketch_is_told_entry_by_entry() -> None:
    # each curve of the shelf bracket off by about a hundredth of its size, another way each
    key = demo("shelf-bracket")
    curves = [elsewhere([c], 0.03 * ((n * 7) % 5 - 2), 0.03 * ((n * 3) % 5 - 2))[0]
              for n, c in enumerate(outline_of(key))]
    standing = judge_attempt(key, loose(curves, "in"))
    sizes = told(key, standing, "holds")
    assert {"R1/2", "R3/4", "4x Ø9/32", "Ø.375 ±.005"} <= set(sizes)
    assert told(key, standing, "off")["5 1/2"].endswith("where the paper says 5 1/2")


def test_two_holes_alone_are_measured_to_each_other() -> None:
    key = demo("gate-strap")
    holes = [c for c in outline_of(key) if isinstance(c, Circle) and c.radius == 4.5]
    for one, other in combinations(holes, 2):
        standing = judge_attempt(key, loose(elsewhere([one, other], 3.0, 3.0)))
        assert told(key, standing, "holds") == {"2x Ø9": ""}
