"""What follows from the part as it stands, made when first asked for; the listeners."""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from typing import Any

from sketcher.board.dimensions.dimension_lines import DimLines
from sketcher.board.dimensions.kept_dimensions import KeptDimensions
from sketcher.board.dimensions.shown_center_lines import CenterLine, center_lines, is_busy, is_live
from sketcher.board.dimensions.sign_places import Glyph, glyphs
from sketcher.board.places.moving_pieces import Pieces
from sketcher.board.places.picking import Picker
from sketcher.board.steps.job import QUICK, AtOnce, Job, Worker
from sketcher.board.steps.notices import Listener, Message, Notices, Reason, Severity
from sketcher.errors import SketcherError
from sketcher.interrupt import Stopped
from sketcher.part.value import Part
from sketcher.solve.solve_report import SolveReport

MANY = 100
"""Curves of the whole part, images included, past which nothing that goes through all is quick."""


class Derived:
    """The part and its report, everything computed from them, and the listeners.

    Parameters
    ----------
    part : Part
        What to begin with.
    """

    def __init__(self, part: Part) -> None:
        self.part = part
        self.report = SolveReport()
        self.message = Message("")
        self.worker: Worker = AtOnce()
        self.notices = Notices(lambda: (self.part, self.report))
        self._picker: tuple[tuple[Part, bool], Picker] | None = None
        self._pieces: Pieces | None = None
        self._inspection: tuple[Part, Any] | None = None
        self._dimensions = KeptDimensions()
        self._centers: tuple[Part, tuple[CenterLine, ...]] | None = None
        self._glyphs: tuple[Part, tuple[Glyph, ...]] | None = None

    # What follows from the part.

    def inspection(self) -> Any:
        """Return the inspection of the current part, made when first asked for.

        Raises
        ------
        Stopped
            When the person did not want to wait for it.
        """
        known = self.known_inspection()
        if known is None:
            known = self.worker.finish(self.inspecting())
            self.take_inspection(self.part, known)
        return known

    def known_inspection(self) -> Any | None:
        """Return the inspection of the current part where it has been made."""
        kept = self._inspection
        return kept[1] if kept is not None and kept[0] is self.part else None

    def inspecting(self) -> Job[Any]:
        """Return the job of inspecting the current part."""
        from sketcher.inspect.inspection import inspect_part

        return Job("Inspection", inspect_part, (self.part, self.report), self.quick)

    def take_inspection(self, part: Part, inspection: Any) -> bool:
        """Keep the inspection of a part; return False when that is not the current one any more."""
        if part is not self.part:
            return False
        self._inspection = (part, inspection)
        return True

    @property
    def quick(self) -> float:
        """Seconds that work on the whole part is tried in place: none where there is much of it."""
        return QUICK if len(self.pieces().all) <= MANY else 0.0

    def values(self) -> Mapping[str, Any]:
        """Return the evaluated parameters; empty when one of them cannot be evaluated."""
        from sketcher.part.wanted import parameter_values

        try:
            return parameter_values(self.part)
        except SketcherError:
            return {}

    @property
    def finds_layout(self) -> bool:
        """Whether layout curves can be picked."""
        return True

    def picker(self) -> Picker:
        """Return the picker for the part as it stands, made when first asked for."""
        key = (self.part, self.finds_layout)
        if self._picker is None or self._picker[0][0] is not key[0] or self._picker[0][1] != key[1]:
            self._picker = (key, Picker(*key, self.pieces().all))
        return self._picker[1]

    def pieces(self) -> Pieces:
        """Return the curves of the whole part; while it moves, those that stay are kept."""
        if self._pieces is None:
            self._pieces = Pieces(self.part)
        elif self._pieces.part is not self.part:
            self._pieces = self._pieces.after(self.part)
        return self._pieces

    def dimensions(self, px: float) -> tuple[DimLines, ...]:
        """Return the dimensions as they stand on the sheet; `px` is one pixel in the part's unit.

        Of a part with very many those that are known; see `know_dimensions`.
        """
        return self._dimensions.at_hand((self.part, self.report, px), self.worker)

    def know_dimensions(self, px: float, told: Callable[[], None]) -> None:
        """See to it that all dimensions are known; `told` is called when they come to be."""
        self._dimensions.know((self.part, self.report, px), self.worker, told, self.tell_failed)

    def center_lines(self) -> tuple[CenterLine, ...]:
        """Return the center lines of the finished drawing; none of a part with very many holes."""
        if self._centers is None or self._centers[0] is not self.part:
            part = self.part
            self._centers = (part, () if is_busy(part) else center_lines(part))
        return self._centers[1]

    def know_center_lines(self, told: Callable[[], None]) -> None:
        """See to it that the center lines are known; `told` is called when they come to be."""
        part = self.part
        if self._centers is not None and self._centers[0] is part:
            return

        def done(lines: tuple[CenterLine, ...]) -> None:
            if part is self.part:
                self._centers = (part, lines)
                told()

        if is_busy(part):
            done(())
        else:
            self.worker.start(Job("Center lines", center_lines, (part,), self.quick), done,
                              self.tell_failed)

    def show_again(self) -> None:
        """Tell that the tool in hand has something else to show, without an event of its own."""
        self._notify("preview")

    def center_lines_at_hand(self) -> tuple[CenterLine, ...]:
        """Return the center lines if they are known or quickly made; none while a large part moves.

        What paints the part asks for these; `center_lines` makes them once it stands still.
        """
        known = self._centers is not None and self._centers[0] is self.part
        return self.center_lines() if known or is_live(self.part) else ()

    def glyphs(self) -> tuple[Glyph, ...]:
        """Return the signs of the bindings without a value, made when first asked for."""
        if self._glyphs is None or self._glyphs[0] is not self.part:
            self._glyphs = (self.part, glyphs(self.part, self.report))
        return self._glyphs[1]

    # Telling.

    def say(self, text: str, severity: Severity = "note", place: str = "") -> None:
        """Say something to the person at the board."""
        self.message = Message(text, severity, place)
        self._notify("message")

    def tell_failed(self, error: BaseException) -> None:
        """Tell why a job made nothing; whoever stopped it knows."""
        if isinstance(error, SketcherError):
            self.say(str(error), "error", error.place)
        elif not isinstance(error, Stopped):
            sys.excepthook(type(error), error, error.__traceback__)

    def listen(self, listener: Listener) -> Callable[[], None]:
        """Call `listener` with every `Change`; the returned function ends that."""
        return self.notices.listen(listener)

    def _notify(self, reason: Reason, before: Part | None = None) -> None:
        self.notices.add(reason, before)
