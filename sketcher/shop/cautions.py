"""What is printed with every file for a cutter."""

from __future__ import annotations

from sketcher.inspect.words import length

NOMINAL = "Nominal size: not offset for the kerf. Let the cutter's program do that, once."
"""Of a file without a kerf."""

SAFETY = (
    "Cutters burn and blind: follow the machine's manual, your local codes and fire rules, and "
    "leave to licensed practice what they reserve for it.",
    "Galvanized, painted or plated metal gives off harmful fumes; PVC and unknown plastics must "
    "not be cut thermally at all.",
    "A part that carries load, lifts, holds pressure or guards needs a qualified engineer; only "
    "its geometry was checked here.",
)
"""Of every file."""


def cautions(kerf: float, unit: str) -> tuple[str, ...]:
    """Return the cautions of a cut: who offsets for the kerf, and those of every file.

    Parameters
    ----------
    kerf : float
        For which the file is offset; 0 for nominal size.
    unit : str
        Of its lengths.
    """
    offset = NOMINAL if not kerf else (
        f"Offset for a kerf of {length(kerf, unit)}: switch the kerf of the cutter's program off. "
        "Offset twice, every size is wrong by it.")
    return (offset, *SAFETY)


__all__ = ["NOMINAL", "SAFETY", "cautions"]
