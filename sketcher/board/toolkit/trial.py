"""What an edit would do, shown before it is done.

A trial runs the edit on the part as it stands and compares pieces, images included; so preview and
result cannot differ. What was typed stays ready for the next place.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable

from sketcher.board.job import NotNow
from sketcher.board.preview import Ghost
from sketcher.board.steps.bench import Bench
from sketcher.errors import EditError, SketcherError
from sketcher.interrupt import Stopped
from sketcher.part.edited import Edited
from sketcher.part.mirror import same_place
from sketcher.part.part_size import part_size
from sketcher.part.value import Part
from sketcher.part.whole import Piece, drawn_pieces, whole

Proposal = Callable[[Part], Edited]

UNSEEN = 1e-7
"""Share of the part's size by which a curve may move without being shown: what a solve leaves."""
MOST = 1000
"""Pattern instances of which a change is shown before it is made; further ones go unshown, for
nobody can look at each while the pointer moves."""


class Trial:
    """Tries the edit of a tool on the part as it stands; the last answer is kept.

    Parameters
    ----------
    bench : Bench
        Its part is what the edit is tried on; it stays as it is.
    """

    def __init__(self, bench: Bench) -> None:
        self._bench = bench
        self._kept: tuple[Part, Hashable, Edited | SketcherError, tuple[Ghost, ...]] | None = None
        self._stopped = False
        self._cut: tuple[Part, tuple[Piece, ...]] | None = None

    def of(self, question: Hashable, edit: Proposal) -> Edited | SketcherError:
        """Return what an edit would make, or why it cannot; `question` tells edits apart."""
        part = self._bench.part
        if self._kept is None or self._kept[0] is not part or self._kept[1] != question:
            self._stopped = False
            try:
                edited = edit(part)
                shown = ghosts(self._before(), edited.part)
                self._kept = (part, question, edited, shown)
            except SketcherError as error:
                self._kept = (part, question, error, ())
            except NotNow:  # in the middle of a painting: whoever asks in an event will know
                return EditError("preview", "it is not known yet", "wait a moment")
            except Stopped:
                self._stopped = True
                self._kept = (part, question, EditError(
                    "preview", "it was stopped before it was known", "ask again"), ())
        return self._kept[2]

    def ask_again(self) -> None:
        """Forget an answer that was stopped before it was known."""
        if self._stopped:
            self._kept, self._stopped = None, False

    def _before(self) -> Iterable[Piece]:
        """Return the pieces as they stand, cut off where those of the next part are."""
        pieces = self._bench.derived.picker().pieces
        if len(pieces) <= MOST:
            return pieces
        part = self._bench.part
        if self._cut is None or self._cut[0] is not part:
            self._cut = part, _pieces(part)
        return self._cut[1]

    def committed(self, part: Part) -> Edited:
        """Return what the edit asked for last made of a part, without making it once more.

        Raises
        ------
        SketcherError
            When it cannot be made.
        """
        assert self._kept is not None
        asked, _, made, _ = self._kept
        assert asked is part
        if isinstance(made, SketcherError):
            raise made
        return made

    @property
    def ghosts(self) -> tuple[Ghost, ...]:
        """What the last edit asked for would change, in its reflection and its patterns too."""
        return self._kept[3] if self._kept is not None else ()


def ghosts(before: Iterable[Piece], after: Part) -> tuple[Ghost, ...]:
    """Return the pieces that would leave, then those that would be new or changed."""
    was = {piece.id: piece for piece in before}
    now = {piece.id: piece for piece in _pieces(after)}
    reach = UNSEEN * part_size(after)
    leaves = [Ghost(p.curve, p.role, "leaves")
              for name, p in was.items() if not _same(p, now.get(name), reach)]
    new = [Ghost(p.curve, p.role, "new" if p.drawn else "image")
           for name, p in now.items() if not _same(p, was.get(name), reach)]
    return (*leaves, *new)


def _same(piece: Piece, other: Piece | None, reach: float) -> bool:
    if other is None or other.role != piece.role:
        return False
    return other.curve == piece.curve or same_place(other.curve, piece.curve, reach)


def _pieces(part: Part) -> tuple[Piece, ...]:
    try:
        return whole(part, MOST)
    except SketcherError:  # an axis without length, a step that cannot be read
        return drawn_pieces(part)
