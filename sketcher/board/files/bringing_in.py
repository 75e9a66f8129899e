"""A foreign drawing on its way in: what is asked of the intake, and what came of it last.

Reading and taking in are jobs; each new wish begins the second one anew, and what came of the one
before stays shown until then. A wish that the drawing no longer has anything for is dropped.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from sketcher.board.board import Board
from sketcher.board.files.open_and_save import may_leave
from sketcher.board.job import Job, Worker
from sketcher.board.window_port import Host
from sketcher.errors import SketcherError
from sketcher.exchange.dxf_content import DxfContent
from sketcher.exchange.dxf_read import read_dxf
from sketcher.geometry.curves import Curve
from sketcher.intake.linework import Repair, TakenCurve
from sketcher.intake.take_in import take_in
from sketcher.intake.taken import Taken, TakenPart
from sketcher.intake.wishes import Wishes
from sketcher.interrupt import Stopped
from sketcher.part.store import SUFFIX
from sketcher.part.value import Unit


@dataclass(frozen=True, slots=True)
class Brought:
    """What an intake came to, with what a picture of it shows.

    Parameters
    ----------
    wishes : Wishes
        What was asked.
    taken : Taken
    drawn : tuple of TakenCurve
        The file's curves, in the part's unit.
    made : tuple of tuple of Curve
        The whole outline of each part, where the file has it.
    """

    wishes: Wishes
    taken: Taken
    drawn: tuple[TakenCurve, ...]
    made: tuple[tuple[Curve, ...], ...]


def brought_in(content: DxfContent, wishes: Wishes) -> Brought:
    """Take a drawing in and make what its picture shows; for another process."""
    from sketcher.intake.drawn_lines import drawn_lines
    from sketcher.intake.free_curves import as_drawn
    from sketcher.intake.moved import in_file
    from sketcher.part.whole import whole

    taken = take_in(content, wishes)
    drawn = as_drawn(drawn_lines(content, taken.unit, wishes), wishes)
    made = tuple(tuple(in_file(piece.curve, each.bound.frame) for piece in whole(each.part)
                       if piece.role == "outline") for each in taken.parts)
    return Brought(wishes, taken, drawn, made)


class BringingIn:
    """Keeps the wishes of a person, and has the intake done over when one changes.

    Parameters
    ----------
    path : Path
        The drawing.
    worker : Worker
    heard : callable
        Called when anything is different.
    """

    def __init__(self, path: Path, worker: Worker, heard: Callable[[], object]) -> None:
        self.path = path
        self.content: DxfContent | None = None
        self.brought: Brought | None = None
        self.wishes = Wishes()
        self.number = 0
        self.trouble = ""
        self.going = False
        self._worker = worker
        self._heard = heard

    # What came of it.

    @property
    def part(self) -> TakenPart | None:
        """The part that is chosen."""
        if self.brought is None or not self.brought.taken.parts:
            return None
        return self.brought.taken.parts[self.number]

    @property
    def repairs(self) -> tuple[Repair, ...]:
        """All that was repaired, and all that was kept as it is drawn."""
        return self.brought.taken.repairs if self.brought is not None else ()

    @property
    def ready(self) -> bool:
        """Whether there is a part that may be opened, made by all that is wished."""
        return self.part is not None and not self.going and not self.trouble

    def layers_read(self) -> frozenset[str]:
        """Names of the layers that are read."""
        if self.wishes.layers is not None:
            return frozenset(self.wishes.layers)
        return self._seen()

    def _seen(self) -> frozenset[str]:
        layers = self.content.layers if self.content is not None else ()
        return frozenset(layer.name for layer in layers if not layer.hidden)

    # What is asked.

    def begin(self) -> None:
        """Read the file, then take it in; begun again after it was stopped."""
        if self.content is not None:
            self._take()
            return
        self.trouble, self.going = "", True
        job = Job(f"Reading {self.path.name}", read_dxf, (str(self.path),), 0.0)
        self._worker.start(job, self._has_read, self._failed)
        self._heard()

    def stop(self) -> None:
        """Want nothing of it any more."""
        self.going = False
        self._worker.forget(read_dxf)
        self._worker.forget(brought_in)

    def keep(self, names: Collection[str], kept: bool = True) -> None:
        """Leave repairs as they are drawn, each by its name; or have them made after all."""
        keep = set(self.wishes.keep)
        for kind in {each.kind for each in self.repairs if each.name in names} & keep:
            keep.remove(kind)  # the kind as a whole gives way to its repairs one by one
            keep |= {each.name for each in self.repairs if each.kind == kind}
        self._wish(keep=frozenset(keep | set(names) if kept else keep - set(names)))

    def keep_kind(self, kind: str, kept: bool = True) -> None:
        """Leave all repairs of a kind as they are drawn; or have all of them made."""
        names = {each.name for each in self.repairs if each.kind == kind}
        keep = set(self.wishes.keep) - names - {kind}
        self._wish(keep=frozenset(keep | {kind} if kept else keep))

    def measure_in(self, unit: Unit | None) -> None:
        """Say what the file's numbers are; None leaves it to the file."""
        self._wish(unit=unit)

    def reflect_about(self, axis: str | None) -> None:
        """Choose the axis of symmetry by its id, or ``none``; None leaves it to the intake."""
        self._wish(axis=axis)

    def read_layers(self, names: Iterable[str]) -> None:
        """Read these layers alone, hidden ones too."""
        wanted = tuple(sorted(names))
        self._wish(layers=None if frozenset(wanted) == self._seen() else wanted)

    def choose(self, number: int) -> None:
        """Choose a part, counted from 0."""
        if self.brought is not None and 0 <= number < len(self.brought.taken.parts):
            self.number = number
            self._heard()

    def _wish(self, **changes: object) -> None:
        wishes = replace(self.wishes, **changes)  # type: ignore[arg-type]
        if wishes != self.wishes:
            self.wishes = wishes
            self._take()

    # How it goes on.

    def _has_read(self, content: DxfContent) -> None:
        self.content = content
        self._take()

    def _take(self) -> None:
        if self.content is None:
            return
        self.trouble, self.going = "", True
        job = Job(f"Taking in {self.path.name}", brought_in, (self.content, self.wishes), 0.0)
        self._worker.start(job, self._has_taken, self._failed)
        self._heard()

    def _has_taken(self, brought: Brought) -> None:
        self.going = False
        self.brought = brought
        self.number = min(self.number, max(len(brought.taken.parts) - 1, 0))
        self._heard()

    def _failed(self, error: BaseException) -> None:
        self.going = False
        if isinstance(error, Stopped):
            self.trouble = "stopped"
            if self.brought is not None:  # what is shown is what was asked before
                self.wishes, self.trouble = self.brought.wishes, ""
            self._heard()
            return
        if isinstance(error, SketcherError):
            left = without(self.wishes, error.place)
            if left != self.wishes:
                self.wishes = left
                self._take()
                return
        self.trouble = str(error) if isinstance(error, SketcherError) else (
            f"{self.path.name}: the intake broke off ({type(error).__name__}: {error}); nothing "
            "of it was kept")
        self._heard()


def without(wishes: Wishes, place: str) -> Wishes:
    """Return wishes without the one that an error names as its place."""
    option, _, name = place.partition(" ")
    if option == "--keep":
        return replace(wishes, keep=wishes.keep - {name})
    return replace(wishes, axis=None) if option == "--axis" else wishes


def open_taken(board: Board, host: Host, bringing: BringingIn) -> bool:
    """Put the chosen part on the board, as one that is in no file yet; return whether it is there.

    Raises
    ------
    SketcherError
        When what was there before cannot be saved.
    """
    part = bringing.part
    if part is None or not bringing.ready or not may_leave(board, host):
        return False
    board.load(part.part, None, saved=False)
    odd = sum(not value.round for value in part.bound.values)
    said = f"{part.part.name} taken in from {bringing.path.name}; save it under any name."
    if odd:
        said += f" Not round: {odd} of {len(part.bound.values)} values."
    if board.bench.message.severity != "warning":
        board.bench.say(said, "done")
    return True


def export_taken(board: Board, host: Host, bringing: BringingIn) -> str:
    """Write every part into a file of its own; return what was written in words, or nothing.

    Raises
    ------
    SketcherError
        When one cannot be written; before any is written where that can be known.
    """
    from sketcher.exchange.outputs import PART, Outputs, strange
    from sketcher.intake.part_files import part_files, put_parts

    if bringing.brought is None:
        return ""
    title = "Export all parts"
    name = f"{bringing.path.stem}{SUFFIX}"
    path = host.ask_path(title, True, SUFFIX, name)
    if path is None:
        return ""
    taken = bringing.brought.taken
    files = part_files(taken, path)
    own = board.bench.path
    outputs = Outputs((bringing.path, *((own,) if own is not None else ())),
                      remedy="choose another name")
    there = []
    for file in files:
        outputs.add(title, file, PART, ask=False)
        if strange(file, PART):
            there.append(file)
    if there:
        names = ", ".join(file.name for file in there)
        if not host.confirm(title, f"There already: {names}. Replace them?", "Replace them"):
            return ""
        for file in there:
            outputs.allow(file)
    put_parts(taken, files, outputs.put)
    written = outputs.write()
    return f"{len(written)} parts exported: {written[0].name} to {written[-1].name}."
