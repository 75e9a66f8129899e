"""Cost of an import grows with its curves: plates of 100, 300, 1,000 and 2,000 in one run.

Run apart: ``pytest -s tests/bench/test_intake_growth.py``; it prints seconds and ratios. Process
time counts, so that other programs do not. A step that is three times as large may cost four and a
half times as much, which leaves room for logarithms and not for a square.
"""

from __future__ import annotations

from math import ceil, sqrt
from pathlib import Path
from random import Random
from time import process_time

import pytest

from tests.damage.spoiled_dxf import write
from tests.damage.strokes import Ring, Spoiled, Straight
from tests.damage.taking import taken_in

LIMITS = {300: 5.0, 2000: 60.0}
"""Seconds that a drawing of so many curves may take."""
SPARE = 1.5
"""How much more than the curves the cost may grow."""


def scattered(curves: int) -> Spoiled:
    """A rectangle with holes of five sizes at uneven places, so that no pattern shortens it."""
    random = Random(curves)
    rows = ceil(sqrt(curves - 4))
    size = 10.0 * rows + 10.0
    holes = [(Ring((10.0 + 10.0 * (k % rows) + 0.5 * random.randrange(5),
                    10.0 + 10.0 * (k // rows) + 0.5 * random.randrange(5)),
                   random.choice((1.0, 1.25, 1.5, 2.0, 2.5))),) for k in range(curves - 4)]
    ends = [(0.0, 0.0), (size, 0.0), (size, size), (0.0, size)]
    edges = tuple(Straight(a, b) for a, b in zip(ends, ends[1:] + ends[:1], strict=True))
    return Spoiled((edges, *holes))


def seconds(curves: int, folder: Path) -> float:
    path = folder / f"plate-{curves}.dxf"
    write(scattered(curves), path)
    start = process_time()
    found = taken_in(path, folder / "out.profile.json")
    spent = process_time() - start
    assert [part["freedoms"] for part in found.record["parts"]] == [0]
    return spent


@pytest.mark.parametrize(("few", "many"), [(100, 300), (300, 1000), (1000, 2000)])
def test_cost_grows_with_the_curves(few: int, many: int, tmp_path: Path) -> None:
    seconds(50, tmp_path)
    short, long = seconds(few, tmp_path), seconds(many, tmp_path)
    print(f"{few} curves {short:.2f} s, {many} curves {long:.2f} s: {long / short:.1f} x")
    assert long <= SPARE * many / few * short
    assert long <= LIMITS.get(many, long)
