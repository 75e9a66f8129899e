"""Where extension lines begin."""

from __future__ import annotations

import numpy as np
import pytest

from sketcher.drafting.layout.runouts import Runouts
from sketcher.geometry.curves import XY, Line

DOWN = (0.0, -1.0)
GAP = 1.5


def past(lines: list[Line], at: XY, upto: float, way: XY = DOWN) -> float:
    pieces = np.array([(*line.start, *line.end) for line in lines], float).reshape(-1, 4)
    return Runouts(lines, pieces).begins(at, way, upto, GAP) - GAP


def test_behind_every_line_in_the_way() -> None:
    edge, axis = Line((0, 0), (0, -10)), Line((0, -20), (0, -25))
    assert past([edge, axis], (0.0, 0.0), 40.0) == pytest.approx(25.0)
    assert past([edge, axis], (0.0, 0.0), 15.0) == pytest.approx(10.0)
    assert past([edge, axis], (0.0, 0.0), 22.0) == pytest.approx(25.0)  # carried all the way


def test_what_is_beside_or_behind_does_not_count() -> None:
    beside, behind = Line((0.1, 0), (0.1, -10)), Line((0, 5), (0, 0))
    nothing = np.zeros((0, 4))
    assert Runouts([beside, behind], nothing).begins((0.0, 0.0), DOWN, 40.0, GAP) == GAP


def test_from_a_rounded_corner_it_begins_at_the_end_of_its_edge() -> None:
    """The sharp corner at (0, 0) is gone: the plumb edge ends 6 above it."""
    plumb, level = Line((0, 30), (0, 6)), Line((6, 0), (30, 0))
    assert past([plumb, level], (0.0, 0.0), 20.0) == pytest.approx(-6.0)
    assert past([plumb, level], (0.0, 0.0), 20.0, (-1.0, 0.0)) == pytest.approx(-6.0)


def test_from_a_place_where_nothing_leads_it_begins_there() -> None:
    assert past([Line((5, 5), (9, 9))], (0.0, 0.0), 20.0) == 0.0
