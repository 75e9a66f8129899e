"""What a class is marked by and what a person said of it, on the disk with each ruling."""

from __future__ import annotations

from pathlib import Path

from sketcher.board.board import Board
from sketcher.board.files.marking_copies import MarkingCopies
from sketcher.errors import SketcherError
from sketcher.marking.hand_rulings import HandRuling
from sketcher.marking.marking_file import ClassMarking, save_marking
from sketcher.marking.marks import PointsByHand
from sketcher.marking.rubric import Rubric
from sketcher.part.value import frozen


class KeptMarking:
    """Keeps what is chosen and said: in its file, or in a copy while it has none.

    Parameters
    ----------
    board : Board
        Whose part is the key where no file is chosen.
    copies : MarkingCopies or None
    """

    def __init__(self, board: Board, copies: MarkingCopies | None) -> None:
        self.board = board
        self.copies = copies
        self.key: Path | None = None
        self.variants: Path | None = None
        self.folder: Path | None = None
        self.roster: Path | None = None
        self.rubric = Rubric()
        self.path: Path | None = None
        self.unkept = ""
        self._copied: set[Path] = set()  # folders whose copy holds what was ruled here
        self._rulings: dict[str, tuple[HandRuling, ...]] = {}
        self._by_hand: dict[str, tuple[PointsByHand, ...]] = {}
        self._saved = self._kept()

    @property
    def has_part(self) -> bool:
        """Whether the part on the board can be a key."""
        return any(curve.role == "outline" for curve in self.board.part.curves.values())

    @property
    def is_changed(self) -> bool:
        """Whether anything was ruled, or a rubric made, that is in no file."""
        kept = self._kept()
        saved = self._saved
        return (kept.rulings, kept.by_hand, kept.rubric) != (
            saved.rulings, saved.by_hand, saved.rubric)

    @property
    def can_be_saved(self) -> bool:
        """Whether a file would hold anything new."""
        return self._kept() != self._saved

    def _kept(self) -> ClassMarking:
        return ClassMarking(self.key or self.board.bench.path, self.folder, self.roster,
                            self.rubric, frozen(self._rulings), frozen(self._by_hand),
                            self.variants)

    def _take_up(self, marking: ClassMarking) -> None:
        self.key = None if marking.key == self.board.bench.path else marking.key
        self.variants, self.folder, self.roster = marking.variants, marking.folder, marking.roster
        self.rubric, self._rulings = marking.rubric, dict(marking.rulings)
        self._by_hand = dict(marking.by_hand)

    @property
    def left_behind(self) -> ClassMarking | None:
        """What was ruled of this folder and came into no file; None where nothing was."""
        if self.copies is None or self.folder is None or self.path is not None or self.is_changed:
            return None
        return self.copies.left_behind(self.folder)

    def forget_copy(self) -> None:
        """Drop the copies of what was ruled here; one that was not taken up stays."""
        if self.copies is not None:
            for folder in self._copied:
                self.copies.discard(folder)
        self._copied.clear()

    def _keep(self) -> None:
        """Have what was ruled on the disk: in its file, or in a copy while it has none."""
        self.unkept = ""
        if not self.is_changed:
            return
        kept = self._kept()
        try:
            if self.path is not None:
                save_marking(kept, self.path)
                self._saved = kept
            elif self.copies is not None and self.folder is not None:
                self.copies.keep(self.folder, kept)
                self._copied.add(self.folder)
        except SketcherError as error:
            self.unkept = f"What is ruled could not be kept. {error}"
