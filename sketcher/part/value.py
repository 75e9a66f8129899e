"""The document: one immutable value. An edit takes a part and returns another.

Mappings are read-only views that keep their order; an edit that leaves one alone hands on the very
same object, so that a reader finds what changed by identity.
"""

from __future__ import annotations

import copyreg
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Any, ClassVar, Literal, TypeAlias, TypeVar

from sketcher.geometry.curves import XY

Unit: TypeAlias = Literal["mm", "in"]
Role: TypeAlias = Literal["outline", "layout", "axis"]
Turn: TypeAlias = Literal["ccw", "cw"]

K = TypeVar("K")
V = TypeVar("V")


def frozen(items: Mapping[K, V] | None = None) -> Mapping[K, V]:
    """Return a read-only copy of `items` in the same order."""
    return MappingProxyType(dict(items or {}))


def _taken_apart(items: MappingProxyType[Any, Any]) -> tuple[Any, tuple[dict[Any, Any]]]:
    return frozen, (dict(items),)


copyreg.pickle(MappingProxyType, _taken_apart)  # pickle cannot, and parts go between processes


@dataclass(frozen=True, slots=True)
class LineCurve:
    """A line between two named points."""

    kind: ClassVar[str] = "line"
    ends: tuple[str, str]
    role: Role = "outline"

    @property
    def points(self) -> tuple[str, ...]:
        """Every point that the curve names."""
        return self.ends


@dataclass(frozen=True, slots=True)
class ArcCurve:
    """An arc: two named ends, a named center, and the turn from the first end to the second."""

    kind: ClassVar[str] = "arc"
    ends: tuple[str, str]
    center: str
    turn: Turn = "ccw"
    role: Role = "outline"

    @property
    def points(self) -> tuple[str, ...]:
        """Every point that the curve names."""
        return (*self.ends, self.center)


@dataclass(frozen=True, slots=True)
class CircleCurve:
    """A circle: a named center and a radius in the part's unit."""

    kind: ClassVar[str] = "circle"
    center: str
    radius: float
    role: Role = "outline"

    @property
    def points(self) -> tuple[str, ...]:
        """Every point that the curve names."""
        return (self.center,)


PartCurve: TypeAlias = LineCurve | ArcCurve | CircleCurve


@dataclass(frozen=True, slots=True)
class Binding:
    """One condition on the half; with a value it is a dimension.

    Parameters
    ----------
    kind : str
        Name of a kind in ``sketcher.part.kinds``.
    of : tuple of str
        Ids of points and curves, in the order that the kind wants.
    value : str or None
        Expression as typed, positive as the paper prints it; None for kinds without a value, and
        for a reference dimension that follows: it says what it measures.
    side : str or None
        Which side, sector or sense is meant, in the kind's own words; None where there is none.
    drives : bool
        False makes it a reference dimension: checked where it has a value, never solved.
    tolerance : tuple of float or None
        Upper and lower deviation in the part's unit or in degrees.
    """

    kind: str
    of: tuple[str, ...]
    value: str | None = None
    side: str | None = None
    drives: bool = True
    tolerance: tuple[float, float] | None = None

    @property
    def follows(self) -> bool:
        """Whether it is a reference dimension that says what it measures."""
        return not self.drives and self.value is None


@dataclass(frozen=True, slots=True)
class Doubt:
    """Another part that the sketch could mean as well: nobody has said yet which one it is.

    Parameters
    ----------
    sides : mapping of str to str
        Sides that the other part has, by binding id, where they differ from the bindings' own.
    points : mapping of str to (x, y)
        Where its points lie that lie elsewhere.
    radii : mapping of str to float
        Radii of its circles that differ.
    """

    sides: Mapping[str, str]
    points: Mapping[str, XY] = field(default_factory=frozen)
    radii: Mapping[str, float] = field(default_factory=frozen)


@dataclass(frozen=True, slots=True)
class Mirror:
    """The half is reflected about the line `axis`: all of its outline or the named curves."""

    axis: str
    curves: Literal["outline"] | tuple[str, ...] = "outline"


@dataclass(frozen=True, slots=True)
class GridPattern:
    """Copies of `curves` in columns and rows; steps are expressions, `angle` turns the rows."""

    kind: ClassVar[str] = "grid"
    curves: tuple[str, ...]
    step: tuple[str, str]
    count: tuple[int, int]
    angle: str = "0"


@dataclass(frozen=True, slots=True)
class PolarPattern:
    """Copies of `curves` around a point; `span` is the angle over which `count` places spread.

    A span of 360 spreads evenly over the full turn; a smaller one has places at both of its ends.
    """

    kind: ClassVar[str] = "polar"
    curves: tuple[str, ...]
    center: str
    count: int
    span: str = "360"


Pattern: TypeAlias = GridPattern | PolarPattern


@dataclass(frozen=True, slots=True)
class Material:
    """Plate: thickness in the part's unit, density in kg per cubic metre.

    An empty name is a material that nobody has given, density 0 one that is not known.
    `written` is the thickness as a fraction that was typed, or empty where it was a number.
    """

    name: str
    thickness: float
    density: float = 0.0
    written: str = ""


USUAL_MATERIAL: Mapping[Unit, Material] = frozen({
    "mm": Material("", 3.0), "in": Material("", 0.125),
})
"""Plate of a common thickness (no source), while nobody has said what a part is of."""

UNSAID = Material("", 0.0)
"""Stands for the usual plate until a part knows its unit."""


@dataclass(frozen=True, slots=True)
class Drawing:
    """What the finished sheet needs beyond the geometry; every field has a usable default.

    `fields` are title block entries by name; `placed` holds the places of dimension texts that a
    person has dragged (binding id to a point in the part's unit); `centers` holds what a person
    changed about single center lines (line id to settings, `part.center_rules`). `overhang` and
    `lettering` (its height) are in mm on paper, None by the standard. `details` holds what a person
    changed about detail views (curve id to settings: off, another scale, the side of the view
    on which it stands); `breaks` off draws a long part whole.
    `dimensions` off leaves them away (an exercise sheet); `hole_table` adds a table of holes
    (and takes their dimensions off the view), measured from the point, hole or corner of two edges
    `table_zero`, its X along the edge or from place to place `table_along`;
    `threads` are the threads of holes by curve (``M6``), printed behind their size; `cut_by` a
    process: holes that it does not cut well are called out to be drilled (`inspect.drilled_holes`);
    `balloons` the numbers by which the inspection record names the dimensions (its page does too),
    `inspection_page` and `order_page` further pages.
    """

    practice: Literal["ISO", "ASME"] = "ISO"
    sheet: str = "auto"
    scale: str = "auto"
    lettering: float | None = None
    overhang: float | None = None
    axis_style: Literal["center", "phantom"] = "center"
    show_half: bool = False
    tolerance: str = ""
    dimensions: bool = True
    hole_table: bool = False
    table_zero: str = "auto"
    table_along: str = "level"
    balloons: bool = False
    inspection_page: bool = False
    order_page: bool = False
    fields: Mapping[str, str] = field(default_factory=frozen)
    placed: Mapping[str, XY] = field(default_factory=frozen)
    centers: Mapping[str, Mapping[str, Any]] = field(default_factory=frozen)
    details: Mapping[str, Mapping[str, Any]] = field(default_factory=frozen)
    breaks: Literal["auto", "off"] = "auto"
    threads: Mapping[str, str] = field(default_factory=frozen)
    cut_by: Literal["", "laser", "plasma"] = ""


@dataclass(frozen=True, slots=True)
class Part:
    """A flat plate part: what is drawn (the half), what binds it, and how it is repeated."""

    name: str = "Part"
    unit: Unit = "mm"
    material: Material = UNSAID
    parameters: Mapping[str, str] = field(default_factory=frozen)
    points: Mapping[str, XY] = field(default_factory=frozen)
    curves: Mapping[str, PartCurve] = field(default_factory=frozen)
    bindings: Mapping[str, Binding] = field(default_factory=frozen)
    doubts: tuple[Doubt, ...] = ()
    mirrors: tuple[Mirror, ...] = ()
    patterns: Mapping[str, Pattern] = field(default_factory=frozen)
    notes: tuple[str, ...] = ()
    drawing: Drawing = field(default_factory=Drawing)

    def __post_init__(self) -> None:
        """Fill in the material that the unit usually means; a thickness without a unit is none."""
        if self.material is UNSAID:
            object.__setattr__(self, "material", USUAL_MATERIAL[self.unit])

    def having(self, **changes: Any) -> Part:
        """Return a part with the named fields replaced; plain mappings are frozen on the way."""
        for name, value in changes.items():
            if isinstance(value, dict):
                changes[name] = frozen(value)
        return replace(self, **changes)


def begun(unit: Unit) -> Part:
    """Return an empty part; one in inches begins with an ASME drawing, on an inch sheet."""
    return Part(unit=unit, drawing=Drawing("ASME" if unit == "in" else "ISO"))


def circle_radii(part: Part) -> dict[str, float]:
    """Return the radius of every circle by id, in the part's unit."""
    return {n: c.radius for n, c in part.curves.items() if isinstance(c, CircleCurve)}


def new_id(taken: Mapping[str, Any], prefix: str) -> str:
    """Return `prefix` with the smallest whole number, from 1, that `taken` does not hold."""
    number = len(taken) + 1
    while number > 1 and f"{prefix}{number - 1}" not in taken:
        number -= 1
    while f"{prefix}{number}" in taken:
        number += 1
    return f"{prefix}{number}"
