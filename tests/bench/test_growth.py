"""Cost grows with the work: a plate of 961 pattern holes beside one of 100, in one run.

Run apart: ``pytest -s tests/bench/test_growth.py``; it prints the ratios. Process time counts, so
that other programs do not. 961 holes are 9.6 times as many; 14 leaves room for logarithms.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from time import process_time

import pytest

from sketcher.drafting.features import shown_pieces
from sketcher.drafting.view_contents import contents_of
from sketcher.geometry.arrangement import Arrangement
from sketcher.part.value import GridPattern, Part, frozen
from sketcher.part.whole import whole
from tests.inspected import inspected
from tests.plates import Row, looked_at, plate, rectangle

FEW, MANY = 10, 31
MOST = 14.0


def perforated(rows: int) -> Part:
    """Plate with a grid of holes in reach of many others, of which one is drawn."""
    points, lines = rectangle(5.0 * rows + 20.0, 5.0 * rows + 20.0)
    return plate({**points, "c": (12.0, 12.0)}, {**lines, "h": ("c", 1.5)}, thickness=20.0,
                 patterns=frozen({"n": GridPattern(("h",), ("5", "5"), (rows, rows))}))


def reflected(rows: int) -> Part:
    """As many holes, half of them by a mirror, each of the other half drawn."""
    size = 5.0 * rows + 20.0
    points = {"a": (0.0, 0.0), "p2": (size, 0.0), "p3": (size, size), "b": (0.0, size)}
    points |= {f"c{k}": (12.0 + 5.0 * (k % rows), 12.0 + 5.0 * (k // rows))
               for k in range(rows * rows // 2)}
    curves: dict[str, Row] = {"e1": ("a", "p2"), "e2": ("p2", "p3"), "e3": ("p3", "b"),
                              "ax": ("a", "b")}
    curves |= {f"h{k}": (f"c{k}", 1.5) for k in range(rows * rows // 2)}
    return plate(points, curves, axis="ax", roles={"ax": "axis"}, thickness=20.0)


def regions(part: Part) -> int:
    """How many regions its curves make, each asked for its boundary."""
    arrangement = Arrangement([(p.id, p.curve) for p in whole(part)])
    return sum(len(arrangement.boundary(face)) for face in range(len(arrangement.faces)))


def drawn(part: Part) -> object:
    listed = part.having(drawing=replace(part.drawing, scale="1:1"))
    return contents_of(listed, shown_pieces(listed), 1.0, 3.5)


TASKS: dict[str, Callable[[Part], object]] = {
    "inspection": looked_at,
    "inspection with its solve": inspected,
    "cutting advice": lambda part: looked_at(part).cutting,
    "arrangement": regions,
    "drawing": drawn,
}


def seconds(task: Callable[[Part], object], part: Part) -> float:
    task(part)
    best = float("inf")
    for _ in range(3):
        start = process_time()
        task(part)
        best = min(best, process_time() - start)
    return best


@pytest.mark.parametrize("make", [perforated, reflected])
@pytest.mark.parametrize("name", TASKS)
def test_961_holes_cost_at_most_14_times_100(
    name: str, make: Callable[[int], Part]
) -> None:
    few, many = (seconds(TASKS[name], make(rows)) for rows in (FEW, MANY))
    print(f"{name}, {make.__name__}: {1e3 * few:.1f} ms, {1e3 * many:.1f} ms: {many / few:.1f} x")
    assert many <= MOST * few
