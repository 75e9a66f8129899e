"""Opening and saving the part on the bench."""

from __future__ import annotations

from pathlib import Path

from sketcher.board.board import Board
from sketcher.board.steps.bench import Bench
from sketcher.board.window_port import Host
from sketcher.part.edits.describe import describe
from sketcher.part.store import SUFFIX, open_file, save
from sketcher.part.value import Part, Unit, begun
from sketcher.quantity.units import UNIT_NAMES


def may_leave(board: Board, host: Host) -> bool:
    """Return whether the part on the bench may go; asks when it has changes that are in no file."""
    if board.bench.give_back is not None:  # what is only tried out is nobody's work
        board.bench.give_back()
    board.bench.gesture.restore()
    if not board.bench.is_changed:
        return True
    answer = host.ask_unsaved(board.part.name)
    if answer == "save":
        return save_part(board.bench, host)
    return answer == "discard"


def new_part(board: Board, host: Host, unit: Unit) -> None:
    """Begin an empty part in a unit."""
    if may_leave(board, host):
        board.load(begun(unit))
        board.bench.say(f"A new part in {UNIT_NAMES[unit]}.", "done")


def open_part(board: Board, host: Host, path: Path) -> bool:
    """Open a file; nothing changes when it cannot be read.

    Raises
    ------
    FileError
        When the file cannot be read or is not a part.
    """
    stored = open_file(path)
    if not may_leave(board, host):
        return False
    board.load(stored.part, stored.path, digest=stored.digest)
    if board.bench.message.severity != "warning":
        board.bench.say(f"{stored.path.name} opened.", "done")
    return True


def save_part(bench: Bench, host: Host, path: Path | None = None) -> bool:
    """Save to the part's file, or to another; asks for one where there is none.

    A file that somebody else changed in the meantime is replaced only after asking.

    Raises
    ------
    FileError
        When the file cannot be written; the old one stays.
    """
    from sketcher.part.store import changed_on_disk

    bench.gesture.restore()
    target = path or bench.path or host.ask_path("Save the part", True, SUFFIX, suggested(bench))
    if target is None:
        return False
    known = bench.digest if target == bench.path else None
    if known is not None and changed_on_disk(target, known):
        question = (f"{target.name} is not the version that this part came from: it was changed "
                    "by another program since. Replace it by the part as it stands here?")
        if not host.confirm("Save", question, "Replace it"):
            return False
        known = None
    _take_name(bench, target)
    digest = save(bench.part, target, known)
    bench.mark_saved(target, digest)
    bench.say(f"Saved as {target.name}.", "done")
    return True


def _take_name(bench: Bench, target: Path) -> None:
    """Name a part that has no name of its own after its file: the sheet's title block prints it."""
    name = target.name.removesuffix(SUFFIX).replace("-", " ").replace("_", " ").strip()
    if bench.path is None and bench.part.name == Part().name and name:
        bench.do("Name", lambda part: describe(part, name=name[0].upper() + name[1:]))


def suggested(bench: Bench, suffix: str = SUFFIX) -> str:
    """Return a file name made of that of the part's file; of its name while it has none."""
    if bench.path is not None:
        return bench.path.name.removesuffix(SUFFIX) + suffix
    letters = (c if c.isalnum() or c in "-_" else "-" for c in bench.part.name.lower())
    name = "-".join(filter(None, "".join(letters).split("-")))
    return f"{name or 'part'}{suffix}"
