"""What the layers draw from: the board, the camera, the look, and paths kept by curve."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QLineF, QRectF
from PySide6.QtGui import QFont, QPainterPath, QRegion, QTransform

from sketcher.board.board import Board
from sketcher.board.dimensions.dimension_lines import DimLines
from sketcher.board.dimensions.sign_places import Glyph
from sketcher.board.places.moving_pieces import Pieces
from sketcher.board.preview import Ghost, Pointer
from sketcher.board.toolkit.dimension_picking import dimension_at
from sketcher.desk.heap import uncollected
from sketcher.desk.looks import Look
from sketcher.desk.scene.camera import Camera
from sketcher.desk.scene.marked_points import MarkedPoints
from sketcher.desk.scene.paths import box_of, line_of, path_of
from sketcher.geometry.bounds import Box, bounds
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line
from sketcher.part.image_id import read_image_id
from sketcher.part.whole import Piece
from sketcher.solve.solve_report import SolveReport, State

if TYPE_CHECKING:
    from numpy.typing import NDArray

REACH = 36.0
"""Pixels from a curve or a point to the edge of all that is painted for it: pens, marks, arrows."""

MANY = 300
"""Curves past which those outside the viewport are left out, and pens are thin."""
HALO = 2.5
"""Pixels from a circle to the ring that stands for its halo where there are very many."""


@dataclass(slots=True)
class Group:
    """Curves that share one pen: lines, circles, paths of arcs, and their values for deep zoom.

    `rows`, `line_rows`, `circle_rows` and `path_rows` tell where each of them stands among the
    sheet's pieces.
    """

    lines: list[QLineF] = field(default_factory=list)
    circles: list[QRectF] = field(default_factory=list)
    paths: list[QPainterPath] = field(default_factory=list)
    curves: list[Curve] = field(default_factory=list)
    rows: list[int] = field(default_factory=list)
    line_rows: list[int] = field(default_factory=list)
    circle_rows: list[int] = field(default_factory=list)
    path_rows: list[int] = field(default_factory=list)


def style_of(piece: Piece, report: SolveReport) -> tuple[str, str]:
    """Return the role and the state that decide the pen: images are ``quiet``."""
    if not piece.drawn:
        return piece.role, "quiet"
    return piece.role, report.states.get(piece.id, "bound")


class SceneState:
    """The state of the drawn sheet; the view changes it, the layers read it.

    `lit` are ids that a pane points at; `tried` curves of a way to mend that is only looked at;
    `cursor` is where the arrow keys have put the pointer, `went` how it last went there since a
    press: ``"by step"``, or ``"to it"``, exactly to a thing.
    While only a part of the viewport is painted, `exposed` holds its boxes in part units, widened
    by `REACH`, shape (n, 4).
    """

    def __init__(self, board: Board, look: Look, font: QFont) -> None:
        self.board = board
        self.look = look
        self.font = font
        self.camera = Camera()
        self.lit: tuple[str, ...] = ()
        self.tried: tuple[Ghost, ...] = ()
        self.cursor: XY | None = None
        self.went = ""
        self.pieces: tuple[Piece, ...] = ()
        self.groups: dict[tuple[str, str], Group] = {}
        self.by_source: dict[str, list[Curve]] = {}
        self.places = MarkedPoints()
        self.exposed: NDArray[np.float64] | None = None
        self._paths: dict[Curve, QPainterPath] = {}
        self._spots: list[tuple[Group, int, int]] = []
        self._sizes = np.zeros(0)
        self._boxes: NDArray[np.float64] | None = None
        self._hit: NDArray[np.bool_] | None = None
        self._seen: tuple[Pieces, Mapping[str, State]] | None = None

    @property
    def frame(self) -> QRectF:
        """The viewport."""
        return QRectF(0.0, 0.0, self.camera.width, self.camera.height)

    @property
    def origin(self) -> XY:
        """The point that the readout counts from."""
        return self.board.bench.zero.place(self.board.part)

    def shows(self, what: str) -> bool:
        """Say whether a setting ``show_...`` is on."""
        return bool(self.board.bench.settings[f"show_{what}"])

    @property
    def transform(self) -> QTransform:
        """Part units to pixels."""
        camera = self.camera
        x, y = camera.to_screen((0.0, 0.0))
        return QTransform(camera.scale, 0.0, 0.0, -camera.scale, x, y)

    @uncollected()
    def refresh(self) -> None:
        """Take over the board's part; only what has moved, where nothing else has changed."""
        pieces, states = self.board.bench.derived.pieces(), self.board.report.states
        seen, self._seen = self._seen, (pieces, states)
        self.places.refresh(self.board.part, self.board.report)
        if seen is not None and seen[1] is states:
            if seen[0] is pieces:
                return
            if seen[0].serial == pieces.follows:
                self._follow(pieces)
                return
        self._regroup(pieces.all, self.board.report)

    def _regroup(self, pieces: tuple[Piece, ...], report: SolveReport) -> None:
        """Sort all curves by pen; paths of curves that are as before are kept."""
        self.pieces = pieces
        kept: dict[Curve, QPainterPath] = {}
        groups: dict[tuple[str, str], Group] = {}
        by_source: dict[str, list[Curve]] = {}
        self._spots = []
        self._boxes = boxes_of([piece.curve for piece in pieces])
        corners = self._boxes[:, :2].tolist()
        for row, piece in enumerate(pieces):
            style = style_of(piece, report)
            group = groups.get(style)
            if group is None:
                group = groups[style] = Group()
            curve = piece.curve
            by_source.setdefault(piece.source, []).append(curve)
            group.curves.append(curve)
            group.rows.append(row)
            if isinstance(curve, Line):
                group.lines.append(line_of(curve))
                group.line_rows.append(row)
                own = len(group.lines) - 1
            elif isinstance(curve, Circle):
                wide = 2.0 * curve.radius
                group.circles.append(QRectF(corners[row][0], corners[row][1], wide, wide))
                group.circle_rows.append(row)
                own = len(group.circles) - 1
            else:
                path = self._paths.get(curve) or path_of(curve)
                kept[curve] = path
                group.paths.append(path)
                group.path_rows.append(row)
                own = len(group.paths) - 1
            self._spots.append((group, len(group.curves) - 1, own))
        self._sizes = sizes_of([piece.curve for piece in pieces], self._boxes)
        self._paths, self.groups, self.by_source = kept, groups, by_source

    def _follow(self, pieces: Pieces) -> None:
        """Put what has moved in the place of what it was."""
        before, self.pieces = self.pieces, pieces.all
        rows = list(pieces.changed)
        curves = [self.pieces[row].curve for row in rows]
        for row, curve in zip(rows, curves, strict=True):
            group, place, own = self._spots[row]
            group.curves[place] = curve
            if isinstance(curve, Line):
                group.lines[own].setLine(*curve.start, *curve.end)
            elif isinstance(curve, Circle):
                group.circles[own] = box_of(curve)
            else:
                self._paths.pop(before[row].curve, None)
                group.paths[own] = self._paths[curve] = path_of(curve)
        boxes = boxes_of(curves)
        self._sizes[rows] = sizes_of(curves, boxes)
        if self._boxes is not None:
            self._boxes[rows] = boxes
        sources = [self.pieces[row].source for row in rows]
        self.by_source.update((source, []) for source in sources)
        for source, curve in zip(sources, curves, strict=True):
            self.by_source[source].append(curve)

    # What is to be painted.

    def expose(self, region: QRegion | None) -> None:
        """Say what part of the viewport is being painted; None for all of it."""
        self.exposed = self._hit = None
        if region is None:
            return
        if (QRegion(self.frame.toAlignedRect()) - region).isEmpty():
            if len(self.pieces) > MANY:
                x0, y0, x1, y1 = self.camera.window
                edge = REACH / self.camera.scale
                window = np.array([[x0 - edge, y0 - edge, x1 + edge, y1 + edge]])
                self._hit = self._meets(self._all_boxes(), window)
            return
        edges = [(*self.camera.to_part((r.x() - REACH, r.y() + r.height() + REACH)),
                  *self.camera.to_part((r.x() + r.width() + REACH, r.y() - REACH)))
                 for r in region]  # type: ignore[attr-defined]
        self.exposed = np.array(edges, float).reshape(-1, 4)
        self._hit = self._meets(self._all_boxes(), self.exposed)

    def around(self) -> Box | None:
        """Return the box around the outline, or all that is drawn; None where there is none.

        Layout may reach far beyond the part: a circle scribed for one arc is larger than it.
        """
        edges = [row for row, piece in enumerate(self.pieces) if piece.role == "outline"]
        boxes = self._all_boxes()
        return frame_of(boxes[edges] if edges else boxes)

    def _all_boxes(self) -> NDArray[np.float64]:
        if self._boxes is None:
            self._boxes = boxes_of([piece.curve for piece in self.pieces])
        return self._boxes

    def _meets(
        self, boxes: NDArray[np.float64], shown: NDArray[np.float64]
    ) -> NDArray[np.bool_]:
        """Say of each box (x0, y0, x1, y1 in part units) whether it meets one of those shown."""
        hit = np.zeros(len(boxes), bool)
        for x0, y0, x1, y1 in shown:
            hit |= ((boxes[:, 0] <= x1) & (boxes[:, 2] >= x0)
                    & (boxes[:, 1] <= y1) & (boxes[:, 3] >= y0))
        return hit

    def shown(self, rows: list[int]) -> Iterable[int]:
        """Return which of some pieces are to be painted, as places in `rows`."""
        if self._hit is None:
            return range(len(rows))
        return np.flatnonzero(self._hit[rows]).tolist()

    def near(self, places: NDArray[np.float64]) -> list[XY]:
        """Return those of some places, shape (n, 2), where a sign is to be painted."""
        if self.exposed is not None and len(places):
            places = places[self._meets(np.hstack((places, places)), self.exposed)]
        return [(x, y) for x, y in places.tolist()]

    def curves_of(self, name: str) -> list[Curve]:
        """Return the curves of a name: of a drawn one with its images, of an image it alone."""
        found = self.by_source.get(name)
        if found is not None or name == read_image_id(name).source:
            return found or []
        return [piece.curve for piece in self.pieces if piece.id == name]

    def largest(self, group: Group) -> float:
        """Return the size of the largest curve of a group."""
        return float(self._sizes[group.rows].max(initial=0.0))

    @property
    def px(self) -> float:
        """One pixel in part units."""
        return self.px_in(self.camera)

    def px_in(self, camera: Camera) -> float:
        """Return a pixel in part units, as the board computes it from a pointer's reach."""
        reach: float = self.board.bench.settings["reach"]
        return (reach / camera.scale) / reach

    def dims(self) -> tuple[DimLines, ...]:
        """Return every dimension as lines and text at the camera's scale."""
        return self.board.bench.derived.dimensions(self.px)

    def signs(self) -> tuple[Glyph, ...]:
        """Return the signs that are shown: all, or those of trouble and of what is chosen."""
        board = self.board
        chosen = None if self.shows("bindings") else frozenset(
            (*self.lit, *board.bench.selection.ids, *board.preview.lit, *board.bench.hover))
        return board.bench.derived.signs_with_room(chosen, self.px)

    def binding_at(self, pointer: Pointer) -> str | None:
        """Return the binding whose dimension or sign is under the pointer."""
        return dimension_at(self.board.bench, pointer)

    def path(self, curve: Curve) -> QPainterPath:
        """Return the kept path of a curve, or a new one."""
        return self._paths.get(curve) or path_of(curve)


def frame_of(boxes: NDArray[np.float64], places: Sequence[XY] = ()) -> Box | None:
    """Return the box around boxes, shape (n, 4), and places; None where there is neither."""
    every = np.vstack((boxes, np.tile(np.array(places, float).reshape(-1, 2), 2)))
    if not len(every):
        return None
    (x0, y0), (x1, y1) = every[:, :2].min(axis=0), every[:, 2:].max(axis=0)
    return float(x0), float(y0), float(x1), float(y1)


def boxes_of(curves: Sequence[Curve]) -> NDArray[np.float64]:
    """Return the boxes of curves, shape (n, 4): x0, y0, x1, y1."""
    boxes = np.zeros((len(curves), 4))
    rounds = [k for k, curve in enumerate(curves) if isinstance(curve, Circle)]
    if rounds:
        table = np.array([(*curves[k].center, curves[k].radius) for k in rounds])  # type: ignore[union-attr]
        boxes[rounds, :2] = table[:, :2] - table[:, 2:]
        boxes[rounds, 2:] = table[:, :2] + table[:, 2:]
    lines = [k for k, curve in enumerate(curves) if isinstance(curve, Line)]
    if lines:
        ends = np.array([(curves[k].start, curves[k].end) for k in lines])  # type: ignore[union-attr]
        boxes[lines, :2], boxes[lines, 2:] = ends.min(axis=1), ends.max(axis=1)
    for k, curve in enumerate(curves):
        if isinstance(curve, Arc):
            boxes[k] = bounds(curve)
    return boxes


def sizes_of(curves: Sequence[Curve], boxes: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return lengths of lines and radii of rounds, from their boxes where these tell."""
    wide, high = (boxes[:, 2:] - boxes[:, :2]).T
    straight = [isinstance(curve, Line) for curve in curves]
    sizes: NDArray[np.float64] = np.where(straight, np.hypot(wide, high), 0.5 * wide)
    for k, curve in enumerate(curves):
        if isinstance(curve, Arc):
            sizes[k] = curve.radius
    return sizes
