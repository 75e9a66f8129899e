"""Which pixels differ from the picture before: while a gesture goes on, few of them do.

The viewport keeps its pixels. What stands still was painted once and stays; what has moved is
painted where it was and where it is, with everything that lies there, in the usual order. So the
picture is at any time the one that a full repaint would give.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import compress
from math import ceil, floor, hypot
from operator import is_not
from typing import TypeVar

from PySide6.QtCore import QRect
from PySide6.QtGui import QFontMetricsF, QRegion

from sketcher.board.dimensions.dimension_lines import DimLines
from sketcher.board.dimensions.sign_places import Glyph
from sketcher.board.dimensions.sign_room import SIGN
from sketcher.board.places.moving_pieces import Pieces
from sketcher.desk.scene.dims_layer import arrow_length, text_font
from sketcher.desk.scene.scene_state import REACH, SceneState
from sketcher.geometry.bounds import Box, bounds
from sketcher.geometry.curves import XY
from sketcher.part.value import Part

MOST = 40
"""With more boxes than this, all is painted: many small clips cost more than they save."""
SHARE = 0.5
"""With more than this share of the viewport to be painted, all of it is."""

T = TypeVar("T", DimLines, Glyph)
Overlay = tuple[tuple[DimLines, ...], tuple[Glyph, ...]]


class Repaint:
    """Remembers what the picture was made of, and compares.

    Parameters
    ----------
    sheet : SceneState
    """

    def __init__(self, sheet: SceneState) -> None:
        self.sheet = sheet
        self._still: tuple[object, ...] = ()
        self._pieces: Pieces | None = None
        self._overlay: Overlay | None = None

    def region(self, loupe: object) -> QRegion | None:
        """Return what has to be painted since this was asked last; None for everything.

        Parameters
        ----------
        loupe : object
            What is under the loupe.
        """
        sheet, board = self.sheet, self.sheet.board
        still, pieces = self._signature(loupe), board.bench.derived.pieces()
        was, before = self._still, self._pieces
        self._still, self._pieces = still, pieces
        if still != was or before is None:
            self._overlay = None
            return None
        if pieces is before:
            return QRegion()
        if pieces.follows != before.serial or len(pieces.changed) > MOST:
            self._overlay = None
            return None
        overlay, self._overlay = self._overlay, (sheet.dims(), sheet.signs())
        if overlay is None:
            return None
        boxes = self._moved(before, pieces)
        boxes += [dim_box(self.sheet, dim) for dim in _differing(overlay[0], self._overlay[0])]
        boxes += [self._sign_box(sign) for sign in _differing(overlay[1], self._overlay[1])]
        return self._covering(boxes)

    def _signature(self, loupe: object) -> tuple[object, ...]:
        """Return all that the picture is made of but places of points and curves."""
        sheet, board = self.sheet, self.sheet.board
        part, report = board.part, board.report
        return (
            sheet.camera, sheet.look, sheet.font, sheet.lit, sheet.cursor, sheet.origin, loupe,
            board.bench.hover, board.bench.selection.ids, board.preview,
            board.bench.settings.changed(), board.bench.shown_unit, part.unit, part.bindings,
            part.parameters, part.patterns, part.mirrors, part.drawing, report.states,
            report.loose, report.doubled, report.troubled, report.converged,
            board.bench.derived.center_lines_at_hand() if sheet.shows("centers") else (),
        )

    def _moved(self, before: Pieces, now: Pieces) -> list[Box]:
        boxes = [bounds(pieces.all[k].curve) for k in now.changed for pieces in (before, now)]
        for (x0, y0), (x1, y1) in _moved_points(before.part, now.part):
            boxes += [(x0, y0, x0, y0), (x1, y1, x1, y1)]
        return boxes

    def _sign_box(self, glyph: Glyph) -> Box:
        px = self.sheet.px
        x, y = glyph.place(px)
        half = SIGN * px
        return (x - half, y - half, x + half, y + half)

    def _covering(self, boxes: list[Box]) -> QRegion | None:
        """Return the pixels of boxes in part units, widened by `REACH`."""
        if len(boxes) > 2 * MOST:
            return None
        camera, region = self.sheet.camera, QRegion()
        frame = self.sheet.frame.toAlignedRect()
        for box in boxes:
            left, top = camera.to_screen((box[0], box[3]))
            right, low = camera.to_screen((box[2], box[1]))
            x0, y0 = max(left - REACH, -1.0), max(top - REACH, -1.0)
            x1, y1 = min(right + REACH, camera.width + 1.0), min(low + REACH, camera.height + 1.0)
            if x0 < x1 and y0 < y1:
                region += QRect(floor(x0), floor(y0), ceil(x1) - floor(x0), ceil(y1) - floor(y0))
        region &= frame
        area = sum(rect.width() * rect.height() for rect in region)  # type: ignore[attr-defined]
        return None if area > SHARE * frame.width() * frame.height() else region


def dim_box(sheet: SceneState, dim: DimLines) -> Box:
    """Return a box in part units around a dimension: lines, arrowheads and text."""
    metrics = QFontMetricsF(text_font(sheet))
    reach = (0.5 * hypot(metrics.horizontalAdvance(dim.text + "  MM") + 6, metrics.height())
             * sheet.px)
    x, y = dim.anchor
    boxes = [(x - reach, y - reach, x + reach, y + reach)]
    boxes += [bounds(curve) for curve in (*dim.extensions, *dim.curves)]
    for arrow in dim.arrows:
        (x, y), reach = arrow.tip, 2.0 * arrow_length(sheet) * sheet.px
        boxes.append((x - reach, y - reach, x + reach, y + reach))
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    return (min(x0), min(y0), max(x1), max(y1))


def _moved_points(before: Part, now: Part) -> Iterable[tuple[XY, XY]]:
    was, new = before.points.values(), now.points.values()
    return compress(zip(was, new, strict=True), map(is_not, was, new))


def _differing(before: tuple[T, ...], now: tuple[T, ...]) -> Iterable[T]:
    """Return what is in only one of two tuples."""
    return () if before is now else set(before) ^ set(now)
