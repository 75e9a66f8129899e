"""What follows from the part as it stands, made when first asked for."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cached_property
from typing import TYPE_CHECKING, Any, Protocol

from sketcher.board.dimensions.dimension_lines import DimLines, are_few
from sketcher.board.dimensions.kept_signs import KeptSigns
from sketcher.board.dimensions.shown_center_lines import CenterLine, center_lines, is_busy, is_live
from sketcher.board.dimensions.sign_places import Glyph
from sketcher.board.job import QUICK, Job, Worker
from sketcher.board.places.moving_pieces import Pieces
from sketcher.board.places.picking import Picker
from sketcher.board.settings import Settings
from sketcher.board.steps.gesture import Gesture
from sketcher.board.steps.notices import Notices
from sketcher.errors import SketcherError
from sketcher.geometry.bounds import Box, bounds_of
from sketcher.part.kinds import KINDS
from sketcher.part.value import Part
from sketcher.solve.solve_report import SolveReport

if TYPE_CHECKING:
    from sketcher.board.dimensions.kept_dimensions import KeptDimensions, Shown

MANY = 100
"""Curves of the whole part, images included, past which nothing that goes through all is quick."""


class CurrentPart(Protocol):
    """What is derived from: the part as it stands, and who works and tells."""

    part: Part
    report: SolveReport
    worker: Worker
    notices: Notices
    settings: Settings
    gesture: Gesture

    @property
    def finds_layout(self) -> bool:
        """Whether layout curves can be picked."""


class Derived:
    """Everything computed from a part and its report.

    Parameters
    ----------
    standing : CurrentPart
        Whose part it is; asked anew each time, for the part is another one after every step.
    """

    def __init__(self, standing: CurrentPart) -> None:
        self._of = standing
        self._picker: tuple[tuple[Part, bool], Picker] | None = None
        self._pieces: Pieces | None = None
        self._inspection: tuple[Part, Any] | None = None
        self._crowded: tuple[str, ...] = ()
        self._in_view: tuple[Part, float, Box] | None = None
        self._centers: tuple[Part, tuple[CenterLine, ...]] | None = None
        self._signs = KeptSigns()

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
            known = self._of.worker.finish(self.inspecting())
            self.take_inspection(self._of.part, known)
        return known

    def known_inspection(self) -> Any | None:
        """Return the inspection of the current part where it has been made."""
        kept = self._inspection
        return kept[1] if kept is not None and kept[0] is self._of.part else None

    def inspecting(self) -> Job[Any]:
        """Return the job of inspecting the current part."""
        from sketcher.inspect.inspection import inspect_part

        return Job("Inspection", inspect_part, (self._of.part, self._of.report), self.quick)

    def take_inspection(self, part: Part, inspection: Any) -> bool:
        """Keep the inspection of a part; return False when that is not the current one any more."""
        if part is not self._of.part:
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
            return parameter_values(self._of.part)
        except SketcherError:
            return {}

    def picker(self) -> Picker:
        """Return the picker for the part as it stands, made when first asked for."""
        key = (self._of.part, self._of.finds_layout)
        if self._picker is None or self._picker[0][0] is not key[0] or self._picker[0][1] != key[1]:
            self._picker = (key, Picker(*key, self.pieces().all))
        return self._picker[1]

    def pieces(self) -> Pieces:
        """Return the curves of the whole part; while it moves, those that stay are kept."""
        if self._pieces is None:
            self._pieces = Pieces.of(self._of.part)
        elif self._pieces.part is not self._of.part:
            self._pieces = self._pieces.after(self._of.part)
        return self._pieces

    @cached_property
    def _dimensions(self) -> KeptDimensions:
        from sketcher.board.dimensions.kept_dimensions import KeptDimensions  # all of the drafting

        return KeptDimensions()

    @property
    def _has_dimensions(self) -> bool:
        part = self._of.part
        return bool(part.patterns) or any(
            KINDS[binding.kind].quantity is not None for binding in part.bindings.values())

    def dimensions(self, px: float) -> tuple[DimLines, ...]:
        """Return the dimensions as they stand on the sheet; `px` is one pixel in the part's unit.

        Of a part with very many those that are known; see `know_dimensions`.
        """
        if not self._has_dimensions:
            return ()
        moving = self._extent if self._of.gesture.goes_on else None
        return self._dimensions.at_hand(self._shown(px), self._of.worker, moving)

    def keep_in_view(self, px: float, window: Box | None) -> None:
        """Let texts of the part as it stands keep within what is seen of it, at this zoom.

        Parameters
        ----------
        px : float
            One pixel in the part's unit.
        window : tuple of float or None
            Lower and upper corner in the part's unit; None where that does not count any more.
        """
        self._in_view = None if window is None else (self._of.part, px, window)

    def _extent(self) -> Box | None:
        """Return the box around the outline of the whole part."""
        outline = [piece.curve for piece in self.pieces().all if piece.role == "outline"]
        return bounds_of(outline) if outline else None

    def know_dimensions(self, px: float, told: Callable[[], None]) -> None:
        """See to it that all dimensions are known and stand well; `told` is called then.

        Those that are known keep their places while a gesture goes on, however slow it is.
        """
        of = self._of
        if not self._has_dimensions or (of.gesture.goes_on and are_few(of.part)):
            return

        def known() -> None:
            told()
            self._tell_crowded(px)

        self._dimensions.know(self._shown(px), of.worker, known, of.notices.tell_failed)

    def _tell_crowded(self, px: float) -> None:
        """Tell which dimensions have no room at this zoom, once as long as they are the same."""
        crowded = self._dimensions.badly(self._shown(px))
        if crowded and crowded != self._crowded:
            names = ", ".join(crowded[:6]) + (", ..." if len(crowded) > 6 else "")
            self._of.notices.say(f"No room for {names} at this zoom: zoom in, or drag their texts "
                                 "to where they can be read.")
        self._crowded = crowded

    def _shown(self, px: float) -> Shown:
        from sketcher.board.dimensions.kept_dimensions import Shown

        of = self._of
        centers = self.center_lines_at_hand() if of.settings["show_centers"] else ()
        seen = self._in_view
        within = seen[2] if seen and seen[0] is of.part and seen[1] == px else None
        return Shown(of.part, of.report, px, of.settings["text_size"], centers, within)

    def center_lines(self) -> tuple[CenterLine, ...]:
        """Return the center lines of the finished drawing; none of a part with very many holes."""
        if self._centers is None or self._centers[0] is not self._of.part:
            part = self._of.part
            self._centers = (part, () if is_busy(part) else center_lines(part))
        return self._centers[1]

    def know_center_lines(self, told: Callable[[], None]) -> None:
        """See to it that the center lines are known; `told` is called when they come to be."""
        part = self._of.part
        if self._centers is not None and self._centers[0] is part:
            return

        def done(lines: tuple[CenterLine, ...]) -> None:
            if part is self._of.part:
                self._centers = (part, lines)
                told()

        if is_busy(part):
            done(())
        else:
            self._of.worker.start(Job("Center lines", center_lines, (part,), self.quick), done,
                              self._of.notices.tell_failed)

    def center_lines_at_hand(self) -> tuple[CenterLine, ...]:
        """Return the center lines if they are known or quickly made; none while a large part moves.

        What paints the part asks for these; `center_lines` makes them once it stands still.
        """
        known = self._centers is not None and self._centers[0] is self._of.part
        return self.center_lines() if known or is_live(self._of.part) else ()

    def glyphs(self) -> tuple[Glyph, ...]:
        """Return the signs of the bindings without a value, made when first asked for."""
        return self._signs.every(self._of.part, self._of.report)

    def signs(self, chosen: frozenset[str] | None) -> tuple[Glyph, ...]:
        """Return the signs that are shown: of trouble and of chosen ids, all of them for None."""
        of = self._of
        return self._signs.shown(of.part, of.report, chosen, of.gesture.goes_on)

    def signs_with_room(self, chosen: frozenset[str] | None, px: float) -> tuple[Glyph, ...]:
        """Return the signs that are shown where none covers words or another; see `signs`.

        `px` is one pixel in the part's unit.
        """
        signs = self.signs(chosen)
        dims = self.dimensions(px) if signs else ()
        return self._signs.placed(signs, dims, px, self._of.settings["text_size"],
                                  self._of.gesture.goes_on)
