"""Undo and redo without limit: the list of the parts themselves.

A part is immutable and shares what an edit left alone, so keeping every one is cheap and going back
is exact by construction.
"""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass

from sketcher.part.value import Part


@dataclass(frozen=True, slots=True)
class Step:
    """One state: the name of the edit that led to it, the part, and the gesture it belongs to."""

    name: str
    part: Part
    merge: Hashable | None = None


class History:
    """The states of one part, where it stands among them, and which of them is saved.

    Parameters
    ----------
    part : Part
        The first state; it counts as saved.
    """

    def __init__(self, part: Part) -> None:
        self._steps = [Step("", part)]
        self._at = 0
        self._saved: int | None = 0

    @property
    def part(self) -> Part:
        """The part as it stands."""
        return self._steps[self._at].part

    @property
    def steps(self) -> tuple[Step, ...]:
        """Every state, the first one included."""
        return tuple(self._steps)

    @property
    def position(self) -> int:
        """Index of the present state in `steps`."""
        return self._at

    @property
    def can_undo(self) -> bool:
        """True when there is a state to go back to."""
        return self._at > 0

    @property
    def can_redo(self) -> bool:
        """True when there is a state to go forward to."""
        return self._at + 1 < len(self._steps)

    @property
    def undo_name(self) -> str | None:
        """Name of the edit that `undo` takes back; None when there is none."""
        return self._steps[self._at].name if self._at else None

    @property
    def redo_name(self) -> str | None:
        """Name of the edit that `redo` makes again; None when there is none."""
        return self._steps[self._at + 1].name if self._at + 1 < len(self._steps) else None

    @property
    def is_saved(self) -> bool:
        """True when the present state is the one last saved."""
        return self._at == self._saved

    def push(self, name: str, part: Part, merge: Hashable | None = None) -> bool:
        """Add a state after the present one; what could be redone is forgotten.

        Parameters
        ----------
        name : str
            What the edit is called in the menu.
        part : Part
            The new state; the very same part changes nothing.
        merge : hashable, optional
            Key of a gesture: a push with the key of the present state replaces it, so that a drag
            is one step however many moves it has.

        Returns
        -------
        bool
            False when nothing changed.
        """
        present = self._steps[self._at]
        if part is present.part:
            return False
        del self._steps[self._at + 1:]
        if self._saved is not None and self._saved > self._at:
            self._saved = None  # the saved state was among those that are forgotten
        if merge is not None and merge == present.merge and self._at:
            # A saved state that is replaced is no longer what the file holds.
            if self._saved == self._at:
                self._saved = None
            self._steps[self._at] = Step(present.name, part, merge)
        else:
            self._steps.append(Step(name, part, merge))
            self._at += 1
        return True

    def end_gesture(self) -> None:
        """Let the next push make a step of its own, whatever its key."""
        step = self._steps[self._at]
        if step.merge is not None:
            self._steps[self._at] = Step(step.name, step.part)

    def undo(self) -> Part:
        """Go one state back and return the part; the first one stays."""
        self._at = max(0, self._at - 1)
        return self.part

    def redo(self) -> Part:
        """Go one state forward and return the part; the last one stays."""
        self._at = min(len(self._steps) - 1, self._at + 1)
        return self.part

    def go(self, position: int) -> Part:
        """Go to a state by its index in `steps` and return the part."""
        self._at = min(max(0, position), len(self._steps) - 1)
        return self.part

    def mark_saved(self) -> None:
        """Note that the present state is what the file holds."""
        self._saved = self._at

    def mark_unsaved(self) -> None:
        """Note that no state is what a file holds (a recovered part)."""
        self._saved = None
