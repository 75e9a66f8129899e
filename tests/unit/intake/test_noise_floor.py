"""Drawings that were computed in single precision: numpy's float32 is the outside that blurs them.

IEEE 754, binary32: 24 bits, so that a number is off by half of its last bit at most.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import ezdxf
import numpy as np
import pytest

from sketcher.exchange.dxf_content import DxfContent
from sketcher.exchange.dxf_read import read_dxf
from sketcher.intake.close import closed
from sketcher.intake.drawn_lines import drawn_lines
from sketcher.intake.intake_record import intake_record
from sketcher.intake.intake_report import intake_report
from sketcher.intake.noise_floor import NoiseFloor, noise_floor
from sketcher.intake.take_in import take_in
from sketcher.intake.taken import Taken
from sketcher.intake.unit_evidence import unit_verdict
from sketcher.intake.wishes import Wishes

CORNERS = ((0.0, 0.0), (180.0, 0.0), (180.0, 62.3), (141.7, 95.1), (0.0, 95.1))
HOLES = ((23.4, 18.7, 6.6), (151.1, 18.7, 6.6), (88.35, 60.15, 24.0))
ODD = 12.3457


def drawing(path: Path, origin: float, single: bool, odd: float = ODD,
            digits: int | None = None) -> DxfContent:
    """Write a plate with a hole at an odd height, each number as single or as double."""
    def written(number: float) -> float:
        number = float(np.float32(number)) if single else number
        return number if digits is None else float(f"{number:.{digits}g}")

    def at(x: float, y: float) -> tuple[float, float]:
        return written(origin + x), written(origin + y)

    document = ezdxf.new("R2000")
    document.header["$INSUNITS"] = 4
    space = document.modelspace()
    for start, end in pairwise((*CORNERS, CORNERS[0])):
        space.add_line(at(*start), at(*end))
    for x, y, diameter in (*HOLES, (100.0, odd, 9.0)):
        space.add_circle(at(x, y), written(diameter / 2.0))
    document.saveas(path)
    return read_dxf(path)


def not_round(taken: Taken) -> list[float]:
    (part,) = taken.parts
    assert not part.bound.solution.report.freedoms
    return [value.measured for value in part.bound.values if not value.round]


@pytest.mark.parametrize("origin", [0.0, 1000.0])
def test_all_but_the_odd_value_of_a_single_drawing_is_round(tmp_path: Path, origin: float) -> None:
    taken = take_in(drawing(tmp_path / "in.dxf", origin, single=True))
    (odd,) = not_round(taken)
    largest = np.float32(origin + 180.0)
    assert taken.floor.size == 0.5 * float(np.spacing(largest))
    assert odd == pytest.approx(ODD, abs=2.0 * taken.floor.size)
    (part,) = taken.parts
    written = {value.written for value in part.bound.values if value.round}
    assert {"180", "95.1", "18.7", "6.6", "24", "9"} <= written


@pytest.mark.parametrize("digits", [9, 17])
def test_nine_digits_show_single_precision_as_all_do(tmp_path: Path, digits: int) -> None:
    content = drawing(tmp_path / "in.dxf", 0.0, single=True, digits=digits)
    assert noise_floor(content, 0.0).size == 2.0**-17  # 180 lies between 2^7 and 2^8


@pytest.mark.parametrize("digits", [None, 9, 12])
def test_a_drawing_in_doubles_is_not_blurred(tmp_path: Path, digits: int | None) -> None:
    taken = take_in(drawing(tmp_path / "in.dxf", 1000.0 / 3.0, single=False, digits=digits))
    assert taken.floor.size == 0.0
    assert "single" not in intake_report(taken, ["out"])


def test_figures_in_halves_are_alike_in_any_precision(tmp_path: Path) -> None:
    document = ezdxf.new("R2000")
    space = document.modelspace()
    for x in np.arange(20) * 1.0 + 1.0 / 128.0:
        space.add_circle((x, 2.0 * x + 5.0 / 16.0), 0.25)
    document.saveas(tmp_path / "in.dxf")
    assert noise_floor(read_dxf(tmp_path / "in.dxf"), 0.0).size == 0.0


def test_report_and_record_tell_it(tmp_path: Path) -> None:
    taken = take_in(drawing(tmp_path / "in.dxf", 1000.0, single=True))
    told = "written in single precision: no place is known better than to 6.1e-05 mm"
    assert told in intake_report(taken, ["out"])
    assert intake_record(taken, ["out"])["noise"] == {
        "value": 2.0**-14, "why": "written in single precision"}


def strips(path: Path, steps: list[float], blur: float) -> DxfContent:
    """Write level lines of given lengths anywhere, their ends off by at most `blur`."""
    rng = np.random.default_rng(5)
    document = ezdxf.new("R2000")
    for number, step in enumerate(steps):
        x = rng.uniform(0.0, 200.0)
        start, end = rng.uniform(-blur, blur, 2)
        document.modelspace().add_line((x + start, 2.0 * number), (x + step + end, 2.0 * number))
    document.saveas(path)
    return read_dxf(path)


@pytest.mark.parametrize("blur", [1e-6, 1e-5])
def test_lengths_that_repeat_tell_the_noise_of_what_was_moved(tmp_path: Path, blur: float) -> None:
    """Of differences of two even errors nine in ten are within 1.37 of them (by integration)."""
    content = strips(tmp_path / "in.dxf", [6.35, 12.7, 29.464, 88.9] * 12, blur)
    assert 0.9 * blur < noise_floor(content, 0.0).size < 1.7 * blur


def test_lengths_that_are_strewn_tell_nothing(tmp_path: Path) -> None:
    dense = (50.0 + 1e-4 * np.arange(60)).tolist()
    assert noise_floor(strips(tmp_path / "in.dxf", dense, 1e-5), 0.0).size == 0.0


def teeth(path: Path, blur: float) -> DxfContent:
    """Write a polyline of 300 sides, and a plate of 24 lines whose ends miss each other."""
    rng = np.random.default_rng(8)
    document = ezdxf.new("R2000")
    document.header["$INSUNITS"] = 4
    turn = np.arange(300) * 2.0 * np.pi / 300.0
    far = 50.0 + 3.0 * np.sin(7.0 * turn) + turn
    ring = np.column_stack([200.0 + far * np.cos(turn), far * np.sin(turn)])
    document.modelspace().add_lwpolyline(ring.tolist(), close=True)
    steps = [(5.0 * k, 30.0 + 7.5 * (k % 2)) for k in range(12)]
    corners = [(x, y) for k, (x, y) in enumerate(steps) for x in (x, x + 5.0)]
    corners = [(60.0, 0.0), (0.0, 0.0), *corners]
    for start, end in pairwise((*corners, corners[0])):
        document.modelspace().add_line(np.array(start) + rng.uniform(-blur, blur, 2),
                                       np.array(end) + rng.uniform(-blur, blur, 2))
    document.saveas(path)
    return read_dxf(path)


def floor_where_ends_miss(path: Path, blur: float) -> NoiseFloor:
    content = teeth(path, blur)
    lines = drawn_lines(content, unit_verdict(content, Wishes()), Wishes())
    return closed(replace(lines, floor=NoiseFloor(), noise=0.0), Wishes()).floor


@pytest.mark.parametrize("blur", [1e-6, 5e-6])
def test_ends_that_miss_each_other_tell_the_noise_beside_a_long_polyline(
    tmp_path: Path, blur: float
) -> None:
    """They meet halfway, so that none moved by more than it was off, sqrt(2) of the blur."""
    floor = floor_where_ends_miss(tmp_path / "in.dxf", blur)
    assert 0.5 * blur < floor.size < 1.42 * blur
    assert floor.why == "ends that meet differ in their last digits"


def test_ends_that_meet_and_wide_gaps_tell_nothing(tmp_path: Path) -> None:
    for blur in (0.0, 2e-3):
        assert floor_where_ends_miss(tmp_path / "in.dxf", blur).size == 0.0
