"""A step that somebody draws by hand: on a part of its own, which holds what was drawn before it.

All that is there is fixed, so that nothing drawn beside it can move it; the paper's numbers of the
steps before stay as reference dimensions. The part itself is put aside meanwhile.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from sketcher.board.board import PICKING, Board
from sketcher.board.steps.lending import PutAside
from sketcher.board.teaching.beats import Beat
from sketcher.board.teaching.lesson_play import LessonPlay
from sketcher.geometry.curves import XY, Arc, Curve, Line
from sketcher.lesson.order_step import OrderStep
from sketcher.part.kinds import KINDS, residual
from sketcher.part.part_size import part_size
from sketcher.part.value import (
    ArcCurve,
    Binding,
    CircleCurve,
    Drawing,
    LineCurve,
    Part,
    PartCurve,
    Role,
    new_id,
)
from sketcher.quantity.format import exact

ROUNDING = 1e-6
"""Share of the part's size, and degrees, within which a number holds."""
SIZES = ("radius", "diameter")
ROLES: dict[str, Role] = {"full": "outline", "axis": "axis", "thin": "layout"}


@dataclass(frozen=True, slots=True)
class TryStart:
    """What somebody begins with.

    Parameters
    ----------
    part : Part
        What was drawn before.
    wanted : tuple of Beat
        What the step draws, each thing as far as it is known then.
    number : int
        Of the step, from 1.
    """

    part: Part
    wanted: tuple[Beat, ...]
    number: int


def try_start(play: LessonPlay) -> TryStart:
    """Return what the step at hand is drawn upon, and what it ought to draw."""
    step, beats = play.passage.step, play.told_by_steps.beats
    before = [beat for beat in beats if beat.step < step and beat.name]
    wanted = tuple(beat for beat in beats if beat.step == step and beat.name)
    begun = _Scaffold(play.part, f"{play.part.name}, step {step + 1} by hand")
    for beat in {beat.name: beat for beat in before}.values():
        begun.put(beat)
    begun.fix()
    begun.refer(play.steps[:step])
    return TryStart(begun.made(), wanted, step + 1)


@dataclass
class _Scaffold:
    """Gathers what is there before a step."""

    part: Part
    name: str
    points: dict[str, XY] = field(default_factory=dict)
    curves: dict[str, PartCurve] = field(default_factory=dict)
    bindings: dict[str, Binding] = field(default_factory=dict)

    def put(self, beat: Beat) -> None:
        """Add what a beat has drawn."""
        if beat.at is not None:
            self.points[beat.name] = beat.at
            return
        for place, curve in enumerate(beat.curves):
            name = beat.name if place == 0 and beat.name in self.part.curves else self._new("i")
            self.curves[name] = self._curve(name, curve, ROLES[beat.weight])

    def _curve(self, name: str, curve: Curve, role: Role) -> PartCurve:
        """Return a curve upon points that are there, and upon new ones where none are."""
        own = self.part.curves.get(name)
        meant: tuple[str, ...] = own.points if own is not None else ()
        if isinstance(curve, Line):
            return LineCurve((self._point(curve.start, meant), self._point(curve.end, meant)), role)
        center = self._point(curve.center, meant)
        if isinstance(curve, Arc):
            ends = self._point(curve.start, meant), self._point(curve.end, meant)
            return ArcCurve(ends, center, "ccw" if curve.ccw else "cw", role)
        return CircleCurve(center, curve.radius, role)

    def _point(self, at: XY, meant: Iterable[str]) -> str:
        for name in meant:
            if self.points.get(name) == at:
                return name
        name = self._new("k")
        self.points[name] = at
        return name

    def _new(self, prefix: str) -> str:
        """Return an id that neither this nor the part has."""
        part = self.part
        return new_id({**part.points, **part.curves, **part.bindings, **part.patterns,
                       **self.points, **self.curves, **self.bindings}, prefix)

    def fix(self) -> None:
        """Hold everything where it is."""
        for name in self.points:
            self.bindings[self._new("b")] = Binding("fixed", (name,))
        for name, curve in self.curves.items():
            if isinstance(curve, CircleCurve):
                said = next(((key, b) for key, b in self.part.bindings.items()
                             if b.kind in SIZES and b.of == (name,) and b.drives), None)
                key, held = said or (
                    self._new("b"), Binding("radius", (name,), exact(curve.radius)))
                self.bindings[key] = held

    def refer(self, steps: Iterable[OrderStep]) -> None:
        """Keep the numbers of the steps before that hold here, as references."""
        there, made = self.points.keys() | self.curves.keys(), self.made()
        near = ROUNDING * part_size(made)
        for step in steps:
            for name in step.bindings:
                binding = self.part.bindings[name]
                if name not in self.bindings and KINDS[binding.kind].quantity is not None \
                        and there.issuperset(binding.of) \
                        and abs(residual(made, binding)) <= near:
                    self.bindings[name] = Binding(binding.kind, binding.of, binding.value,
                                                  binding.side, drives=False)

    def made(self) -> Part:
        """Return it as a part."""
        part = self.part
        return Part(name=self.name, unit=part.unit, material=part.material,
                    parameters=part.parameters, drawing=Drawing(part.drawing.practice)).having(
            points=self.points, curves=self.curves, bindings=self.bindings)


class OwnTry:
    """Puts what a step begins with on the board, and in the end the part again.

    Parameters
    ----------
    board : Board
    play : LessonPlay
        At rest at the step that is to be drawn.
    """

    def __init__(self, board: Board, play: LessonPlay) -> None:
        self.board = board
        self.play = play
        self.start = try_start(play)

    def begin(self) -> None:
        """Put the part aside.

        Raises
        ------
        Stopped
            When something else is waited for; then nothing is put aside.
        """
        board = self.board
        with board.bench.notices.held():
            board.use(PICKING)
            aside = PutAside(board.bench)
            board.load(self.start.part)
            self._aside = aside
            board.bench.give_back = self.end

    @property
    def is_on(self) -> bool:
        """Whether the part is put aside."""
        return self.board.bench.give_back == self.end

    def end(self) -> None:
        """Put the part on the board again; what was drawn is gone."""
        if not self.is_on:
            return
        board = self.board
        with board.bench.notices.held():
            board.tool.leave()
            board.typing.entry = None
            self._aside.put_back(board.bench)
            board.pointer = None
            board.use(PICKING)
