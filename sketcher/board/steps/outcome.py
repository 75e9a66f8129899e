"""What became of an edit: done, refused with the reason, or nothing had to change."""

from __future__ import annotations

from dataclasses import dataclass

from sketcher.errors import SketcherError


@dataclass(frozen=True, slots=True)
class Outcome:
    """True when the part changed.

    Parameters
    ----------
    done : bool
        Whether the part changed.
    error : SketcherError or None
        Why the edit was refused; None when it was done, or when there was nothing to change.
    """

    done: bool
    error: SketcherError | None = None

    def __bool__(self) -> bool:
        return self.done

    @property
    def why(self) -> str:
        """The reason for the field where the input stands; empty when nothing was refused."""
        return "" if self.error is None else self.error.reason
