"""Where on a sheet the views of a drawing lie: the part and its details, none on another."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import dist

from sketcher.drafting.primitives import items_box
from sketcher.drafting.view_contents import Contents
from sketcher.drafting.views.detail_views import DetailView
from sketcher.geometry.bounds import Box, boxes_meet
from sketcher.geometry.curves import XY

APART = 8.0  # mm between two views: more than a row of dimensions, common practice, no source
LOOSE = 1e-6


@dataclass(frozen=True, slots=True)
class ArrangedViews:
    """By how many mm each view is moved, the part first, and the box around all of them."""

    moves: tuple[XY, ...]
    box: Box


def arranged(contents: Contents, area: Box) -> ArrangedViews | None:
    """Return where the views lie in a box of the sheet, together in its middle; None for no room.

    The part is tried in the middle and at the edges of the box, each detail beside what is there:
    as near to its ring as can be, or on the side that a person has chosen.
    """
    main = contents.box
    if not _fits(main, area):
        return None
    best: tuple[float, list[XY], Box] | None = None
    for across, up in ((0.5, 0.5), (0.0, 0.5), (0.5, 1.0), (0.5, 0.0), (1.0, 0.5), (0.0, 1.0),
                       (1.0, 1.0), (0.0, 0.0), (1.0, 0.0)):
        move = (area[0] - main[0] + across * _spare(main, area, 0),
                area[1] - main[1] + up * _spare(main, area, 1))
        found = _beside(contents, move, area)
        if found is not None and (best is None or found[0] < best[0] - LOOSE):
            best = (found[0], [move, *found[1]], found[2])
        if not contents.details:
            break
    if best is None:
        return None
    _, moves, box = best
    dx, dy = (0.5 * (area[k] + area[k + 2] - box[k] - box[k + 2]) for k in (0, 1))
    return ArrangedViews(tuple((x + dx, y + dy) for x, y in moves), moved_box(box, dx, dy))


def moves_in(contents: Contents, area: Box) -> tuple[XY, ...]:
    """Return by how many mm each view is moved: as arranged, or in the middle for want of room."""
    found = arranged(contents, area)
    if found is not None:
        return found.moves
    boxes = [contents.box, *map(box_of_detail, contents.details)]
    return tuple((0.5 * (area[0] + area[2] - b[0] - b[2]), 0.5 * (area[1] + area[3] - b[1] - b[3]))
                 for b in boxes)


def box_of_detail(detail: DetailView) -> Box:
    """Return the box around a detail with its caption."""
    drawn, caption = detail.drawn.box, items_box(detail.caption())
    return _around([drawn, caption])


def moved_box(box: Box, dx: float, dy: float) -> Box:
    """Return a box moved by mm."""
    return (box[0] + dx, box[1] + dy, box[2] + dx, box[3] + dy)


def _beside(
    contents: Contents, move: XY, area: Box
) -> tuple[float, list[XY], Box] | None:
    """Put the details beside the part; what that costs, their moves, and the box around all."""
    main = moved_box(contents.box, *move)
    taken, moves, cost = [main], [], 0.0
    for detail in contents.details:
        box = box_of_detail(detail)
        ring = contents.view.shifted(*move).point(detail.ring.center)
        found = min(((dist(_middle(moved_box(box, *at)), ring), at)
                     for at in _spots(box, taken, area)
                     if _is_free(moved_box(box, *at), taken, area)
                     and _is_on(detail.ring.side, moved_box(box, *at), main)), default=None)
        if found is None:
            return None
        cost += found[0]
        moves.append(found[1])
        taken.append(moved_box(box, *found[1]))
    return cost, moves, _around(taken)


def _spots(box: Box, taken: Sequence[Box], area: Box) -> Iterator[XY]:
    """Give moves that put a box against the edges of what is there, or level with its middle."""
    ways = []
    for k in (0, 1):
        size = box[k + 2] - box[k]
        at = {area[k], area[k + 2] - size, 0.5 * (area[k] + area[k + 2] - size)}
        for other in taken:
            at |= {other[k + 2] + APART, other[k] - APART - size, other[k], other[k + 2] - size,
                   0.5 * (other[k] + other[k + 2] - size)}
        ways.append(sorted(at))
    for x in ways[0]:
        for y in ways[1]:
            yield (x - box[0], y - box[1])


def _is_free(box: Box, taken: Sequence[Box], area: Box) -> bool:
    if any(box[k] < area[k] - LOOSE or box[k + 2] > area[k + 2] + LOOSE for k in (0, 1)):
        return False
    wide = (box[0] - APART + LOOSE, box[1] - APART + LOOSE,
            box[2] + APART - LOOSE, box[3] + APART - LOOSE)
    return not any(boxes_meet(wide, other) for other in taken)


def _is_on(side: str, box: Box, main: Box) -> bool:
    return {"right": box[0] >= main[2], "left": box[2] <= main[0], "above": box[1] >= main[3],
            "below": box[3] <= main[1]}.get(side, True)


def side_of(at: XY, main: Box) -> str:
    """Return the side of the part on which a place lies, or to which it is nearest."""
    beyond = {"right": at[0] - main[2], "left": main[0] - at[0], "above": at[1] - main[3],
              "below": main[1] - at[1]}
    return max(beyond, key=lambda side: beyond[side])


def _fits(box: Box, area: Box) -> bool:
    return all(box[k + 2] - box[k] <= area[k + 2] - area[k] for k in (0, 1))


def _spare(box: Box, area: Box, k: int) -> float:
    return area[k + 2] - area[k] - (box[k + 2] - box[k])


def _middle(box: Box) -> XY:
    return (0.5 * (box[0] + box[2]), 0.5 * (box[1] + box[3]))


def _around(boxes: Sequence[Box]) -> Box:
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    return (min(x0), min(y0), max(x1), max(y1))
