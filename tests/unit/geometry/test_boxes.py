"""Boxes that meet, and boxes in boxes, against shapely's predicates of the same boxes."""

from __future__ import annotations

from itertools import product

from shapely.geometry import box as polygon

from sketcher.geometry.bounds import box_within, boxes_meet


def test_meeting_and_lying_within_are_those_of_closed_boxes() -> None:
    sides = [(a, b) for a in range(4) for b in range(a + 1, 4)]
    boxes = [(x0, y0, x1, y1) for (x0, x1), (y0, y1) in product(sides, sides)]
    for a, b in product(boxes, boxes):
        one, other = polygon(*a), polygon(*b)
        assert boxes_meet(a, b) == one.intersects(other)
        assert box_within(a, b) == other.covers(one)
