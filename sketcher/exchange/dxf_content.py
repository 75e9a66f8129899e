"""What a DXF holds, as plain values: curves in the file's own numbers, layers, words, header."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from sketcher.geometry.curves import XY, Curve, Line
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
    """A text or the text of a dimension.

    Parameters
    ----------
    text : str
    at : (x, y)
        Where it is put in.
    kind : str
    value : float or None
        The number that it says, if it says one.
    number : int
        Of the entity, as in `FileCurve.entity`.
    layer : str
    height : float or None
        Of its letters, in the file's numbers; None for that of a dimension, which tells its own.
    turn : float
        Degrees.
    """

    text: str
    at: XY
    kind: Literal["text", "dimension"] = "text"
    value: float | None = None
    number: int = 0
    layer: str = "0"
    height: float | None = None
    turn: float = 0.0


@dataclass(frozen=True, slots=True)
class FileEntity:
    """How an entity is drawn, what it inherits from its layer resolved.

    Parameters
    ----------
    number : int
        As in `FileCurve.entity`.
    kind : str
        Type by the DXF reference: ``LINE``.
    layer : str
    dashes : tuple of float
        Pattern in the file's own numbers, scales of the entity and of the file applied: dashes
        above zero, gaps below, points zero. Empty when it is unbroken. The scale for new entities
        ($CELTSCALE) is in that of the entity already (DXF reference, group code 48).
    width : float or None
        Line width in millimetres; None when the file leaves it to the viewer. A polyline that has
        a width of its own is as wide as that.
    handle : str
        In hexadecimal, as the file has it; in a block that of what the block holds; empty when it
        has none.
    """

    number: int
    kind: str
    layer: str = "0"
    dashes: tuple[float, ...] = ()
    width: float | None = None
    handle: str = ""


@dataclass(frozen=True, slots=True)
class FileDimension:
    """A DIMENSION of a file, in the file's own numbers.

    Parameters
    ----------
    number : int
        Of the entity.
    kind : str
        ``linear``, ``aligned``, ``angular``, ``diameter``, ``radius``, ``ordinate``,
        ``arc length``.
    layer : str
    points : tuple of (x, y)
        Definition points: the two places that are measured between (linear, aligned); both ends
        of the diameter; center and place on the round (radius); the ends of both lines, or the
        apex and a place on each leg (angular); zero and the place itself (ordinate); the center and
        both ends (arc length).
    line_at : (x, y)
        A place on the dimension line (or arc).
    text_at : (x, y)
        Middle of the text.
    text : str
        As a reader sees it; what is typed over, or the number measured in the style's format.
    typed : str
        What is typed over the number, empty where it says what it measures.
    measured : float or None
        Computed from the points, times the style's length factor; degrees for angles.
    turn : float
        Direction of the measuring of a linear one or an ordinate, degrees.
    text_height, extension_gap : float or None
        Of the style, its overall scale applied, in the file's numbers.
    strokes : tuple of Line
        Straight lines of its picture, where it has one.
    """

    number: int
    kind: str
    layer: str
    points: tuple[XY, ...]
    line_at: XY
    text_at: XY
    text: str
    typed: str = ""
    measured: float | None = None
    turn: float = 0.0
    text_height: float | None = None
    extension_gap: float | None = None
    strokes: tuple[Line, ...] = ()


@dataclass(frozen=True, slots=True)
class FileLeader:
    """A leader line of a file: the entity's number, its places from the tip on, what it says."""

    number: int
    layer: str
    points: tuple[XY, ...]
    text: str = ""


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
    entities : mapping of int to FileEntity
        How each entity is drawn that has curves, words or a dimension.
    dimensions : tuple of FileDimension
    leaders : tuple of FileLeader
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
    entities: Mapping[int, FileEntity] = field(default_factory=frozen)
    dimensions: tuple[FileDimension, ...] = ()
    leaders: tuple[FileLeader, ...] = ()
