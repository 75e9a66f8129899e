"""What a DXF holds, as plain values: curves in the file's own numbers, layers, words, header."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from sketcher.geometry.curves import XY, Curve
from sketcher.geometry.spline import Spline
from sketcher.part.value import Unit, frozen


@dataclass(frozen=True, slots=True)
class FileCurve:
    """A curve of a file.

    Parameters
    ----------
    curve : Curve
        In the file's own numbers, world coordinates.
    entity : int
        Number of the entity that it came from, from 1 in file order; its curves follow each other.
    layer : str
        The layer on which it is seen.
    """

    curve: Curve
    entity: int
    layer: str = "0"


@dataclass(frozen=True, slots=True)
class FileSpline:
    """A free curve of a file: a spline or an ellipse, as `FileCurve` otherwise."""

    curve: Spline
    entity: int
    layer: str = "0"


@dataclass(frozen=True, slots=True)
class FileLayer:
    """A layer: its entities by type, and why it is not seen (``off``, ``frozen``), or empty."""

    name: str
    counts: Mapping[str, int]
    hidden: str = ""


@dataclass(frozen=True, slots=True)
class FileWords:
    """A text or the text of a dimension, with the number that it says, if it says one."""

    text: str
    at: XY
    kind: Literal["text", "dimension"] = "text"
    value: float | None = None


@dataclass(frozen=True, slots=True)
class DxfContent:
    """What a DXF holds.

    Parameters
    ----------
    source : str
        Name of the file.
    curves : tuple of FileCurve
        Lines, arcs and circles of the visible layers, blocks resolved, in file order.
    unit : Unit or None
        In which the header says the numbers come out once they are multiplied by `factor`; None
        when it does not say.
    factor : float
        From the file's numbers to `unit` (centimetres: 10).
    layers : tuple of FileLayer
        All of them that hold something.
    left_out : mapping of str to int
        Entities without an edge, or that cannot be read as one, by type.
    mended : tuple of str
        What was wrong with the file and could be mended, or was dropped.
    words : tuple of FileWords
        Texts and dimensions: hints.
    splines : tuple of FileSpline
        The free curves beside `curves`.
    decimals : int or None
        To how many the coordinates are written, zeros at the end among them; None when they are
        written in full, or in the binary form.
    version : str
        Of the format, as the header says it: ``AC1015``.
    hints : mapping of str to int
        Variables of the header that tell of the unit, as far as it has them: ``$MEASUREMENT`` is 0
        for inches and 1 for mm, ``$LUNITS`` 3, 4 and 5 are inches (DXF reference).
    """

    source: str
    curves: tuple[FileCurve, ...]
    unit: Unit | None = None
    factor: float = 1.0
    layers: tuple[FileLayer, ...] = ()
    left_out: Mapping[str, int] = field(default_factory=frozen)
    mended: tuple[str, ...] = ()
    words: tuple[FileWords, ...] = ()
    splines: tuple[FileSpline, ...] = ()
    decimals: int | None = None
    version: str = ""
    hints: Mapping[str, int] = field(default_factory=frozen)
