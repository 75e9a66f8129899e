"""What a person asks of an intake."""

from __future__ import annotations

from dataclasses import dataclass

from sketcher.part.value import Unit


@dataclass(frozen=True, slots=True)
class Wishes:
    """What a person asks of an intake; None leaves it to the file.

    Parameters
    ----------
    unit : Unit, optional
        What the file's numbers are, whatever its header says.
    gap : float, optional
        Ends that are at most so far apart are joined, in the part's unit.
    chord : float, optional
        How far an arc may lie from the chords or the free curve that it replaces, in the part's
        unit.
    grid : float, optional
        Step of the round figures, in the part's unit.
    axis : str, optional
        ``none``, or the id of an axis of symmetry as the report lists them.
    layers : tuple of str, optional
        The layers to read, hidden or not; None reads all that are seen.
    keep : frozenset of str
        Repairs that are not made, each by its name or by its kind.
    """

    unit: Unit | None = None
    gap: float | None = None
    chord: float | None = None
    grid: float | None = None
    axis: str | None = None
    layers: tuple[str, ...] | None = None
    keep: frozenset[str] = frozenset()

    def makes(self, kind: str, name: str = "") -> bool:
        """Whether a repair of a kind, and of a name, is to be made."""
        return kind not in self.keep and name not in self.keep
