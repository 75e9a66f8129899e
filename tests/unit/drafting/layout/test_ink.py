"""What ink costs beside ink, against shapely and against orientations pair by pair."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from shapely import affinity

from sketcher.drafting.layout.ink import (
    CROSS,
    CROWDING,
    DIMENSION,
    ELBOW,
    EXTENSION,
    HARD,
    HOLE,
    LEADER,
    MARGIN,
    NEVER,
    OUTLINE,
    PLUS_COVERED,
    SAGITTA,
    Batch,
    Standing,
    chords,
    cut,
    overlap,
)
from sketcher.drafting.layout.paper_ground import Ground, holes, plus_marks
from sketcher.geometry.curves import Arc, Circle, Line

FAR = (1e4, 1e4, 1.0, 0.0, 1.0, 1.0)


def one(kind: int, *ends: float, box: tuple[float, ...] = FAR) -> Batch:
    return Batch(np.array([ends]), np.array([kind]), np.array([0]), np.array([box]))


def stand(*batches: Batch) -> Standing:
    standing = Standing([4] * len(batches))
    for k, batch in enumerate(batches):
        standing.put(k, *batch.only(0))
    return standing


def polygon(box: np.ndarray, margin: float) -> shapely.Polygon:
    x, y, c, s, wide, tall = box
    level = shapely.box(-wide - margin, -tall - margin, wide + margin, tall + margin)
    turned = affinity.rotate(level, float(np.degrees(np.arctan2(s, c))), origin=(0.0, 0.0))
    return affinity.translate(turned, x, y)


def some_boxes(rng: np.random.Generator, count: int) -> np.ndarray:
    turn = rng.uniform(0.0, 2.0 * np.pi, count)
    return np.column_stack([rng.uniform(-20, 20, (count, 2)), np.cos(turn), np.sin(turn),
                            rng.uniform(2, 9, count), rng.uniform(1, 3, count)])


def test_lettering_on_lines_and_on_lettering_as_shapely_says() -> None:
    rng = np.random.default_rng(4)
    boxes, others = some_boxes(rng, 300), some_boxes(rng, 300)
    pieces = rng.uniform(-25, 25, (300, 4))
    on = {k for k in range(300)
          if polygon(boxes[k], MARGIN).intersects(shapely.LineString(pieces[k].reshape(2, 2)))}
    assert set(cut(boxes, pieces, MARGIN).tolist()) == on
    meet = {k for k in range(300) if polygon(boxes[k], 0.0).intersects(polygon(others[k], 0.0))}
    assert set(overlap(boxes, others, 0.0, 0.0).tolist()) == meet
    assert 30 < len(on) < 270
    assert 20 < len(meet) < 280


def test_crossings_agree_with_shapely_pair_by_pair() -> None:
    rng = np.random.default_rng(5)
    a, b = rng.uniform(0, 40, (30, 4)), rng.uniform(0, 40, (20, 4))
    standing = stand(*(one(LEADER, *ends) for ends in b))
    for ends in a:
        batch = one(EXTENSION, *ends)
        cost = standing.costs(batch)[0]
        mine = shapely.LineString(batch.pieces[0].reshape(2, 2))
        for k in range(len(b)):
            crossed = mine.crosses(shapely.LineString(standing.pieces[4 * k].reshape(2, 2)))
            assert (cost[k] % HARD == pytest.approx(CROSS[EXTENSION, LEADER])) == crossed


def test_two_dimensions_cost_the_same_whichever_came_first() -> None:
    rng = np.random.default_rng(6)
    kinds = (DIMENSION, EXTENSION, LEADER, ELBOW)
    for _ in range(200):
        some = []
        for box in some_boxes(rng, 2):
            ends = rng.uniform(-20, 20, 4)
            if rng.random() < 0.5:
                ends[3] = ends[1]  # level lines run side by side
            some.append(one(kinds[rng.integers(4)], *ends, box=tuple(box)))
        there = stand(some[0]).costs(some[1])[0, 0]
        assert there == pytest.approx(stand(some[1]).costs(some[0])[0, 0])


def test_lines_side_by_side_crowd_each_other_only_where_they_share_a_stretch() -> None:
    standing = stand(one(DIMENSION, 0, 0, 30, 0, box=(-1e4, 0.0, 1.0, 0.0, 1.0, 1.0)))
    assert standing.costs(one(DIMENSION, 10, 5, 40, 5))[0, 0] == CROWDING[DIMENSION, DIMENSION]
    assert standing.costs(one(DIMENSION, 10, 6, 40, 6))[0, 0] == 0.0
    assert standing.costs(one(DIMENSION, 30, 0, 60, 0))[0, 0] == 0.0  # a chain in one row


def test_a_line_through_a_hole_is_dear_but_for_the_diameter_that_is_measured() -> None:
    ground = Ground([Line((-50, -50), (50, -50)), Line((50, -50), (50, 50)),
                     Line((50, 50), (-50, 50)), Line((-50, 50), (-50, -50)),
                     Circle((0, 0), 5.0)])
    assert holes(ground.outline) == [False] * 4 + [True]
    through = ground.ink.costs(one(EXTENSION, -20, 3, 20, 3))[0, 0]
    assert through == pytest.approx(2.0 * CROSS[EXTENSION, HOLE])
    assert ground.ink.costs(one(EXTENSION, -20, 6, 20, 6))[0, 0] == 0.0
    assert ground.ink.costs(one(EXTENSION, -20, 5.5, 20, 5.5))[0, 0] == through  # grazes it
    assert ground.ink.costs(one(EXTENSION, -20, 0, 20, 0))[0, 0] == through
    assert ground.ink.costs(one(DIMENSION, -5, 0, 5, 0))[0, 0] == 0.0
    out = ground.ink.costs(one(EXTENSION, -60, 20, 0, 20))[0, 0]
    assert out == pytest.approx(CROSS[EXTENSION, OUTLINE])


def test_lettering_on_the_edge_of_a_circle_and_inside_it() -> None:
    ground = Ground([Line((-50, -50), (50, -50)), Line((50, -50), (50, 50)),
                     Line((50, 50), (-50, -50)), Circle((20, -20), 12.0)])
    def cost(x: float, y: float) -> float:
        box = (x, y, 1.0, 0.0, 4.0, 1.5)
        return float(ground.ink.costs(one(EXTENSION, 900, 900, 901, 900, box=box))[0, 0])

    assert cost(20, -20) == 0.0  # clear inside
    assert cost(32, -20) == NEVER  # on the edge
    assert cost(20, -30) == NEVER


def test_a_mark_is_found_where_two_short_dashes_cross_and_must_not_be_covered() -> None:
    dashes = [Line((-1.5, 0), (1.5, 0)), Line((0, -1.5), (0, 1.5)), Line((4, 0), (20, 0)),
              Line((30, -1), (30, 1))]
    assert plus_marks(dashes) == [((0.0, 0.0), 1.5)]
    ground = Ground([], marks=plus_marks(dashes))
    assert ground.ink.costs(one(EXTENSION, -9, 1.0, 9, 1.0))[0, 0] == PLUS_COVERED
    assert ground.ink.costs(one(EXTENSION, -9, 1.4, 9, 1.4))[0, 0] == 0.0


@pytest.mark.parametrize("radius", [0.02, 1.0, 20.0, 900.0])
def test_chords_stay_near_their_arc(radius: float) -> None:
    arc = Arc((0.0, 0.0), (radius, 0.0), (-radius, 0.0))
    for x0, y0, x1, y1 in chords(arc):
        middle = np.hypot(0.5 * (x0 + x1), 0.5 * (y0 + y1))
        assert radius - middle <= SAGITTA * 1.001
