"""What the steps hand on: the curves of a drawing, what was repaired, what is asked."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from math import cos, sin

from sketcher.geometry.curves import XY, Curve
from sketcher.geometry.spline import Spline
from sketcher.intake.noise_floor import NoiseFloor
from sketcher.part.value import Unit


@dataclass(frozen=True, slots=True)
class TakenCurve:
    """A curve of the drawing in the part's unit, and the entities that it came from, rising."""

    curve: Curve
    entities: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class TakenSpline:
    """A free curve of the drawing in the part's unit, and its entity."""

    curve: Spline
    entities: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Repair:
    """One thing that an intake changed, or was asked not to.

    Parameters
    ----------
    kind : str
        What was done, one word: `take_in.REPAIR_KINDS`.
    at : (x, y)
        Where to look for it, in the part's unit, where the file has it.
    size : float
        The furthest that outline was moved by it, in the part's unit; what is only taken out or
        put together moves nothing.
    entities : tuple of int
        Numbers of the entities that it touched, rising.
    text : str
        One clause: what was found and what was made of it.
    taken : bool
        False when a person keeps the drawing as it is here.
    before, after : tuple of Curve
        What it takes away and what it puts there, for its picture.
    nth : int
        Which it is of the repairs of its kind to the same entities, from 0.
    """

    kind: str
    at: XY
    size: float
    entities: tuple[int, ...]
    text: str
    taken: bool = True
    before: tuple[Curve, ...] = ()
    after: tuple[Curve, ...] = ()
    nth: int = 0

    @property
    def name(self) -> str:
        """Name by which it is refused: the same in each run over the same file."""
        return repair_name(self.kind, self.entities, self.nth)


def repair_name(kind: str, entities: Iterable[int], nth: int = 0) -> str:
    """Return the name of a repair: its kind and the first two entities that it touches.

    All fillets of a polyline are of one entity: the second has a ``b`` after its name, the third a
    ``c``, the one after ``z`` an ``aa``.

    Examples
    --------
    >>> repair_name("gap", (4, 7)), repair_name("chords", (12,), 1), repair_name("chords", (9,), 26)
    ('gap-4-7', 'chords-12b', 'chords-9aa')
    """
    letters, number = "", nth + 1 if nth else 0
    while number:
        number, letter = divmod(number - 1, 26)
        letters = chr(ord("a") + letter) + letters
    return "-".join([kind, *map(str, sorted(set(entities))[:2])]) + letters


class RepairNames:
    """Gives each repair of one kind a name of its own, in the order in which they are asked for."""

    def __init__(self, kind: str) -> None:
        self._kind = kind
        self._given: dict[str, int] = {}

    def of(self, entities: Iterable[int]) -> tuple[str, int]:
        """Return the name of the next repair to these entities, and which of them it is."""
        shared = repair_name(self._kind, entities)
        nth = self._given.get(shared, 0)
        self._given[shared] = nth + 1
        return repair_name(self._kind, entities, nth), nth


def gathered(repairs: Iterable[Repair]) -> list[Repair]:
    """Put repairs of one name together: one entity drawn twice is told once, not edge by edge.

    They are refused together as well, as they share their name.
    """
    named: dict[tuple[str, str], list[Repair]] = {}
    for repair in repairs:
        named.setdefault((repair.name, repair.text), []).append(repair)
    return [replace(
        max(same, key=lambda repair: repair.size),
        entities=tuple(sorted({entity for repair in same for entity in repair.entities})),
        text=same[0].text if len(same) == 1 else f"{same[0].text}, {len(same)} times",
        before=tuple(curve for repair in same for curve in repair.before),
        after=tuple(curve for repair in same for curve in repair.after),
    ) for same in named.values()]


@dataclass(frozen=True, slots=True)
class Fault:
    """What keeps an outline from being sound, which no repair may cure unasked.

    Parameters
    ----------
    kind : str
        ``open``: ends that meet nothing; ``stray``: a line in no contour; ``crossing``, ``touch``,
        ``overlap``: curves that meet other than end to end.
    at : (x, y)
        In the part's unit, where the file has it.
    size : float
        Width of what is open, or how long curves run along each other; else 0.
    entities : tuple of int
        Whose curves meet there, rising.
    text : str
        One clause: what it is.
    """

    kind: str
    at: XY
    size: float
    entities: tuple[int, ...]
    text: str


@dataclass(frozen=True, slots=True)
class Question:
    """What cannot be decided without a person: the option that answers it, and the answers."""

    option: str
    text: str
    answers: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Linework:
    """The drawing between two steps.

    Parameters
    ----------
    curves : tuple of TakenCurve
        In the part's unit.
    unit : Unit
    quantum : float
        Last decimal of the file's coordinates, in the part's unit; 0 when they are written out to
        the precision of a double.
    noise : float
        How far an end may lie from where it was meant, in the part's unit: half the last decimal,
        the floor, or more once ends had to be joined.
    repairs : tuple of Repair
    questions : tuple of Question
    splines : tuple of TakenSpline
        Free curves beside `curves`, until they are arcs.
    floor : NoiseFloor
        What the file's numbers tell of their noise, in the part's unit.
    """

    curves: tuple[TakenCurve, ...]
    unit: Unit = "mm"
    quantum: float = 0.0
    noise: float = 0.0
    repairs: tuple[Repair, ...] = ()
    questions: tuple[Question, ...] = ()
    splines: tuple[TakenSpline, ...] = ()
    floor: NoiseFloor = field(default_factory=NoiseFloor)

    def repaired(self, curves: Iterable[TakenCurve], repairs: Iterable[Repair]) -> Linework:
        """Return it with other curves, and with what was repaired noted."""
        return replace(self, curves=tuple(curves), repairs=(*self.repairs, *repairs))


@dataclass(frozen=True, slots=True)
class Shape:
    """The linework of one part.

    Parameters
    ----------
    loops : tuple of tuple of TakenCurve
        Closed contours, each in order of travel; the plate's outside first.
    strays : tuple of TakenCurve
        Curves in no closed contour that lie on this part or belong to no other.
    unit, quantum, noise
        As in `Linework`.
    repairs : tuple of Repair
        Those that touched this part.
    faults : tuple of Fault
        What keeps it from being sound.
    """

    loops: tuple[tuple[TakenCurve, ...], ...]
    strays: tuple[TakenCurve, ...] = ()
    unit: Unit = "mm"
    quantum: float = 0.0
    noise: float = 0.0
    repairs: tuple[Repair, ...] = ()
    faults: tuple[Fault, ...] = ()


@dataclass(frozen=True, slots=True)
class PlaceInFile:
    """Where the part lies in the file: turned by `turn` radians about its own origin, then moved.

    The file's place of a point p of the part is ``origin + R(turn) p``.
    """

    turn: float = 0.0
    origin: XY = (0.0, 0.0)

    def in_file(self, at: XY) -> XY:
        """Return the file's place of a place of the part."""
        c, s = cos(self.turn), sin(self.turn)
        return (self.origin[0] + c * at[0] - s * at[1], self.origin[1] + s * at[0] + c * at[1])

    def in_part(self, at: XY) -> XY:
        """Return the part's place of a place of the file."""
        c, s = cos(self.turn), sin(self.turn)
        x, y = at[0] - self.origin[0], at[1] - self.origin[1]
        return (c * x + s * y, c * y - s * x)


@dataclass(frozen=True, slots=True)
class SymmetryAxis:
    """A line of symmetry: an id, two points on it, the reflected area's difference as a share."""

    id: str
    start: XY
    end: XY
    differs: float = 0.0


@dataclass(frozen=True, slots=True)
class FoundPattern:
    """Equal circles at even steps; `members` are curves of the whole shape.

    Parameters
    ----------
    kind : str
        ``grid`` or ``polar``.
    seed : TakenCurve
        The one that is drawn; it stands first in its row, or is the first round the center.
    members : tuple of TakenCurve
        All of them, the seed among them.
    count : (int, int)
        Columns and rows; places and 1.
    step : (float, float)
        Of columns and rows; of a polar one the span in degrees and 0.
    angle : float
        Of the rows, in degrees.
    center : (x, y) or None
        Of a polar one.
    """

    kind: str
    seed: TakenCurve
    members: tuple[TakenCurve, ...]
    count: tuple[int, int]
    step: tuple[float, float]
    angle: float = 0.0
    center: XY | None = None


@dataclass(frozen=True, slots=True)
class HalfShape:
    """What is kept of a shape, straightened: its axes level or plumb.

    Parameters
    ----------
    shape : Shape
        In the frame; all of it.
    kept : tuple of tuple of TakenCurve
        Chains of outline of the half, in order of travel: a closed one is a hole or the whole
        outside, an open one begins and ends on an axis.
    axes : tuple of SymmetryAxis
        Those that reflect: none, one, or two that are square to each other, in the frame.
    offered : tuple of SymmetryAxis
        All that were found, in the frame.
    patterns : tuple of FoundPattern
        Their members other than the seed are not in `kept`.
    frame : PlaceInFile
    repairs : tuple of Repair
        All so far, those of this step among them.
    questions : tuple of Question
    """

    shape: Shape
    kept: tuple[tuple[TakenCurve, ...], ...]
    axes: tuple[SymmetryAxis, ...] = ()
    offered: tuple[SymmetryAxis, ...] = ()
    patterns: tuple[FoundPattern, ...] = ()
    frame: PlaceInFile = field(default_factory=PlaceInFile)
    repairs: tuple[Repair, ...] = ()
    questions: tuple[Question, ...] = ()
