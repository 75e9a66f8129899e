"""What the layers draw from: the board, the camera, the look, and paths kept by curve."""

from __future__ import annotations

from dataclasses import dataclass, field

from PySide6.QtCore import QLineF, QRectF
from PySide6.QtGui import QFont, QPainterPath, QTransform

from sketcher.board.board import Board
from sketcher.board.dimhit import dimension_at
from sketcher.board.dimlines import DimLines
from sketcher.board.preview import Pointer
from sketcher.desk.looks import Look
from sketcher.desk.scene.camera import Camera
from sketcher.desk.scene.paths import line_of, path_of
from sketcher.geometry.curves import XY, Curve, Line
from sketcher.part.value import Part
from sketcher.part.whole import Piece
from sketcher.solve.report import SolveReport


@dataclass(slots=True)
class Group:
    """Curves that share one pen: their lines, their paths, and their values for deep zoom."""

    lines: list[QLineF] = field(default_factory=list)
    paths: list[QPainterPath] = field(default_factory=list)
    curves: list[Curve] = field(default_factory=list)
    largest: float = 0.0


def style_of(piece: Piece, report: SolveReport) -> tuple[str, str]:
    """Return the role and the state that decide the pen: images are ``quiet``."""
    if not piece.drawn:
        return piece.role, "quiet"
    return piece.role, report.states.get(piece.id, "bound")


class Sheet:
    """The state of the drawn sheet; the view changes it, the layers read it.

    `lit` are ids that a pane points at; `cursor` is where the arrow keys have put the pointer.
    """

    def __init__(self, board: Board, look: Look, font: QFont) -> None:
        self.board = board
        self.look = look
        self.font = font
        self.camera = Camera()
        self.lit: tuple[str, ...] = ()
        self.cursor: XY | None = None
        self.pieces: tuple[Piece, ...] = ()
        self.groups: dict[tuple[str, str], Group] = {}
        self.by_source: dict[str, list[Curve]] = {}
        self._paths: dict[Curve, QPainterPath] = {}
        self._seen: tuple[Part, SolveReport] | None = None

    @property
    def frame(self) -> QRectF:
        """The viewport."""
        return QRectF(0.0, 0.0, self.camera.width, self.camera.height)

    @property
    def origin(self) -> XY:
        """The point that the readout counts from."""
        return self.board.zero.place(self.board.part)

    def shows(self, what: str) -> bool:
        """Say whether a setting ``show_...`` is on."""
        return bool(self.board.settings[f"show_{what}"])

    @property
    def transform(self) -> QTransform:
        """Part units to pixels."""
        camera = self.camera
        x, y = camera.to_screen((0.0, 0.0))
        return QTransform(camera.scale, 0.0, 0.0, -camera.scale, x, y)

    def refresh(self) -> None:
        """Take over the board's part; does nothing when neither part nor report has changed."""
        part, report = self.board.part, self.board.report
        if self._seen is not None and self._seen[0] is part and self._seen[1] is report:
            return
        same_curves = self._seen is not None and _same_shape(self._seen[0], part)
        self._seen = (part, report)
        if not same_curves:
            self.pieces = self.board.picker().pieces
        kept: dict[Curve, QPainterPath] = {}
        groups: dict[tuple[str, str], Group] = {}
        by_source: dict[str, list[Curve]] = {}
        for piece in self.pieces:
            group = groups.setdefault(style_of(piece, report), Group())
            curve = piece.curve
            by_source.setdefault(piece.source, []).append(curve)
            group.curves.append(curve)
            group.largest = max(group.largest, size_of(curve))
            if isinstance(curve, Line):
                group.lines.append(line_of(curve))
            else:
                path = self._paths.get(curve) or path_of(curve)
                kept[curve] = path
                group.paths.append(path)
        self._paths, self.groups, self.by_source = kept, groups, by_source

    @property
    def px(self) -> float:
        """One pixel in part units, as the board computes it from a pointer's reach."""
        reach: float = self.board.settings["reach"]
        return (reach / self.camera.scale) / reach

    def dims(self) -> tuple[DimLines, ...]:
        """Return every dimension as lines and text at the camera's scale."""
        return self.board.dimensions(self.px)

    def binding_at(self, pointer: Pointer) -> str | None:
        """Return the binding whose dimension or sign is under the pointer."""
        return dimension_at(self.board, pointer)

    def path(self, curve: Curve) -> QPainterPath:
        """Return the kept path of a curve, or a new one."""
        return self._paths.get(curve) or path_of(curve)


def size_of(curve: Curve) -> float:
    """Return a line's length or a round curve's radius."""
    return curve.length if isinstance(curve, Line) else curve.radius


def _same_shape(one: Part, other: Part) -> bool:
    return (
        one.points is other.points and one.curves is other.curves
        and one.mirrors == other.mirrors and one.patterns is other.patterns
        and one.parameters is other.parameters
    )
