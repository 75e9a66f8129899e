"""A construction on the sheet: what is drawn, the stroke being drawn, and the tool that draws it.

What is drawn stays in a picture, so that a moment costs what its one stroke costs, however much
was drawn before; only a moved camera or a step back has it painted anew.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, dist, floor, radians

from PySide6.QtCore import QPointF, QRect, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen, QPixmap

from sketcher.board.teaching.beats import Beat
from sketcher.board.teaching.lesson_play import LessonPlay, LessonView
from sketcher.desk.looks import Look
from sketcher.desk.scene.camera import Camera
from sketcher.desk.scene.curve_layer import AXIS_DASH, stroke_curves
from sketcher.desk.scene.instruments import (
    HIGH,
    draw_compass,
    draw_pencil,
    draw_protractor,
    draw_straightedge,
)
from sketcher.desk.scene.layer import Layer, card, card_place
from sketcher.desk.scene.names_beside import Called, write_names
from sketcher.desk.scene.pens import pen_on
from sketcher.desk.scene.scene_state import SceneState
from sketcher.geometry.clip import visible
from sketcher.geometry.curves import XY, Arc, Circle, Curve, Line

DOT = 2.4
"""Pixels from a found point to the edge of its dot."""
RING = 6.0
"""Pixels of the ring around a point that is used or found at this moment."""
SEEN = 40
"""Most curves of a step that stand out while it is at hand: those of a large pattern do not."""
NEAR_TOOL = 48.0
"""Pixels from the places of a tool to the edge of all that is painted for it, but for the hinge."""
TURN = 0.5
"""Radians between two pictures up to which an arc stays beside its chord: a tenth of a radius."""
NAMED = 24
"""Most names beside each other; where a sentence has more, only the stroke at hand is named."""
PENS = {"full": 2.2, "axis": 1.2, "thin": 1.0, "helper": 1.0}


class ConstructionLayer(Layer):
    """Paints where a construction stands.

    Parameters
    ----------
    sheet : SceneState
    height : float
    play : LessonPlay
    """

    def __init__(self, sheet: SceneState, height: float, play: LessonPlay) -> None:
        super().__init__(sheet, height)
        self.play = play
        self._picture = QPixmap()
        self._painted = 0
        self._of: tuple[object, ...] = ()

    def draw(self, painter: QPainter) -> None:
        """Paint what stands, what this step drew, and the stroke that goes on."""
        view = self.play.view()
        self._bring_up(painter, view.done)
        painter.drawPixmap(QPointF(0.0, 0.0), self._picture)
        beats, look = self.play.telling.beats, self.sheet.look
        self._used(painter, view)
        for beat in view.helpers:
            self._beat(painter, beat, beat.curves)
        fresh = [b for b in beats[view.fresh:view.done] if b.name and b.weight != "helper"]
        for beat in fresh[-SEEN:] if len(fresh) > SEEN else fresh:
            if not beat.at_once:
                self._beat(painter, beat, beat.curves, look.preview)
        if view.beat is not None:
            self._grow(painter, view.beat, view.share)
        self._names(painter, view)
        if view.beat is not None:
            self._tool(painter, view.beat, view.share)

    def moving(self, view: LessonView, share: float) -> QRect | None:
        """Return the pixels that differ from when a share of the stroke's time was over.

        None where that is not known: all may differ.
        """
        beat = view.beat
        if beat is None or beat.at_once or leaps(beat, share, view.share):
            return None
        places = [place for part in (share, view.share) for place in self._standing(beat, part)]
        xs, ys = zip(*places, strict=True)
        wide = QFontMetricsF(self.sheet.font).horizontalAdvance(beat.note)
        aside = NEAR_TOOL + 0.5 * wide
        return QRect(floor(min(xs) - aside), floor(min(ys) - NEAR_TOOL - HIGH),
                     ceil(max(xs) - min(xs) + 2.0 * aside),
                     ceil(max(ys) - min(ys) + 2.0 * NEAR_TOOL + HIGH))

    def _standing(self, beat: Beat, share: float) -> list[XY]:
        """Return where the tip is, and the needle, in pixels."""
        tip, camera = beat.tip(share), self.sheet.camera
        assert tip is not None
        if not beat.curves or isinstance(beat.curves[0], Line):
            return [camera.to_screen(tip)]
        return camera.all_to_screen(standing(beat, beat.curves[0].center, tip, share))

    # What stands.

    def _bring_up(self, painter: QPainter, done: int) -> None:
        """Have the picture hold the first `done` beats."""
        sheet, ratio = self.sheet, painter.device().devicePixelRatioF()
        of: tuple[object, ...] = (sheet.camera, sheet.look, ratio, self.play.telling)
        if of != self._of or done < self._painted:
            camera: Camera = sheet.camera
            self._picture = QPixmap(round(camera.width * ratio), round(camera.height * ratio))
            self._picture.setDevicePixelRatio(ratio)
            self._picture.fill(Qt.GlobalColor.transparent)
            self._of, self._painted = of, 0
        if done == self._painted:
            return
        brush = QPainter(self._picture)
        brush.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        for beat in self.play.telling.beats[self._painted:done]:
            if beat.name and beat.weight != "helper":
                self._beat(brush, beat, beat.curves)
        brush.end()
        self._painted = done

    def _beat(
        self, painter: QPainter, beat: Beat, curves: Sequence[Curve], colour: str = ""
    ) -> None:
        """Paint the point of a beat, or as much of its curves as is given."""
        look = self.sheet.look
        if beat.at is not None:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(colour or (
                look.guide if beat.weight == "helper" else look.scribe)))
            painter.drawEllipse(QPointF(*self.sheet.camera.to_screen(beat.at)), DOT, DOT)
        elif curves:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(self._pen(painter, look, beat, colour))
            stroke_curves(painter, self.sheet, curves)

    def _pen(self, painter: QPainter, look: Look, beat: Beat, colour: str) -> QPen:
        own = {"full": look.ink, "axis": look.axis, "thin": look.scribe, "helper": look.guide}
        dashes = AXIS_DASH if beat.weight == "axis" else [5.0, 3.0] \
            if beat.weight == "helper" else []
        return pen_on(painter, colour or own[beat.weight], PENS[beat.weight], dashes)

    # What goes on.

    def _used(self, painter: QPainter, view: LessonView) -> None:
        """Light what the stroke at hand is drawn from."""
        if view.beat is None:
            return
        look = self.sheet.look
        for name in view.beat.uses:
            beat = self.play.telling.known(name, view.done)
            if beat is None:
                continue
            painter.setBrush(Qt.BrushStyle.NoBrush)
            if beat.at is not None:
                painter.setPen(QPen(QColor(look.hover), 3.0))
                painter.drawEllipse(QPointF(*self.sheet.camera.to_screen(beat.at)), RING, RING)
            else:
                painter.setPen(pen_on(painter, look.hover, 6.0, cap=Qt.PenCapStyle.RoundCap))
                stroke_curves(painter, self.sheet, beat.curves)

    def _grow(self, painter: QPainter, beat: Beat, share: float) -> None:
        look = self.sheet.look
        if beat.at is None:
            self._beat(painter, beat, beat.grown(share), look.preview)
            return
        x, y = self.sheet.camera.to_screen(beat.at)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(look.preview), 1.6))
        reach = RING + 14.0 * (1.0 - share)
        painter.drawEllipse(QPointF(x, y), reach, reach)
        self._beat(painter, beat, (), look.preview)

    def _tool(self, painter: QPainter, beat: Beat, share: float) -> None:
        """Paint the tool where it stands, and what it is set to."""
        if not beat.curves or beat.at_once:
            return
        look, camera = self.sheet.look, self.sheet.camera
        curve = beat.curves[0]
        tip = beat.tip(share)
        assert tip is not None
        if beat.tool == "compass" and isinstance(curve, Arc | Circle):
            needle, lead = standing(beat, curve.center, tip, share)
            needle, lead = camera.to_screen(needle), camera.to_screen(lead)
            draw_compass(painter, look, needle, lead)
            self._note(painter, beat.note, (0.5 * (needle[0] + lead[0]),
                                            0.5 * (needle[1] + lead[1]) + 24.0))
            return
        if not isinstance(curve, Line):
            return
        if beat.tool == "protractor" and beat.foot is not None:
            middle = camera.to_screen(beat.foot)
            draw_protractor(painter, look, middle, beat.base, radians(beat.degrees))
            self._note(painter, beat.note, (middle[0] + 12.0, middle[1] + 24.0))
        if beat.tool != "protractor" or beat.swung(share) > 0.0:
            self._straightedge(painter, curve)
            draw_pencil(painter, look, camera.to_screen(tip))

    def _straightedge(self, painter: QPainter, line: Line) -> None:
        """Lay the straightedge along what of a line is in view."""
        x0, y0, x1, y1 = self.sheet.camera.window
        for seen in visible(line, (x0, y0, x1, y1)):
            if isinstance(seen, Line):
                ends = self.sheet.camera.all_to_screen((seen.start, seen.end))
                draw_straightedge(painter, self.sheet.look, *ends)

    def _note(self, painter: QPainter, text: str, at: XY) -> None:
        if text:
            look, font = self.sheet.look, self.sheet.font
            place = card_place(QPointF(*at), text, font, self.sheet.frame)
            card(painter, place, text, font, look.card, look.card_text)

    def _names(self, painter: QPainter, view: LessonView) -> None:
        """Write beside each thing that the sentence speaks of what it is called."""
        now, names = view.done + (view.beat is not None), view.names
        if len(names) > NAMED:
            names = () if view.beat is None else (view.beat.name, *view.beat.uses)
        beats = (self.play.telling.known(name, now) for name in names)
        write_names(painter, self.sheet, [
            Called(beat.name, beat.curves, beat.at, beat is view.beat)
            for beat in beats if beat is not None and not beat.at_once])


def leaps(beat: Beat, before: float, now: float) -> bool:
    """Tell whether more was drawn than what lies between the places of the tip."""
    grown, was = beat.grown(now), beat.grown(before)
    if not grown or not was:
        return bool(grown) != bool(was)  # a straightedge comes with the first of its line
    last = grown[-1]
    far = abs(last.length - was[-1].length)
    return len(grown) != len(was) or (not isinstance(last, Line) and far > TURN * last.radius)


def standing(beat: Beat, center: XY, tip: XY, share: float) -> tuple[XY, XY]:
    """Return where needle and lead stand: at what the opening is taken from, then in their places.

    Half of the time before the compass swings it stands there; in the rest it goes over.
    """
    wait = beat.waits / beat.lasts if beat.lasts else 0.0
    if beat.taken is None or share >= wait:
        return center, tip
    over = max(0.0, 2.0 * share / wait - 1.0)
    one, other = beat.taken
    if dist(one, center) > dist(other, center):  # the needle goes the shorter way
        one, other = other, one
    return _between(one, center, over), _between(other, tip, over)


def _between(a: XY, b: XY, share: float) -> XY:
    return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])
