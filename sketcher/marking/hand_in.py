"""A hand-in as its file has it: curves, center lines, dimensions, words, all in the file's numbers.

Nothing is repaired: doubled, open and leftover curves are what is marked.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from sketcher.exchange.dxf_content import DxfContent, FileDimension, FileEntity, FileWords
from sketcher.geometry.curves import Curve
from sketcher.part.value import Part, Unit, frozen
from sketcher.solve.solve_report import SolveReport

LayerRole = Literal["outline", "center", "dimension", "construction", "sheet"]
"""What a curve is for; ``sheet`` is border and title block."""


@dataclass(frozen=True, slots=True)
class LayerQuestion:
    """A layer of which the file does not tell what it is for.

    Parameters
    ----------
    layer : str
    role : LayerRole
        What it was taken for.
    count : int
        Of its curves.
    reason : str
        One clause.
    """

    layer: str
    role: LayerRole
    count: int
    reason: str


@dataclass(frozen=True, slots=True)
class HandCurve:
    """A curve of a hand-in, in the file's own numbers; `entity` is its key in `HandIn.entities`."""

    curve: Curve
    entity: int
    role: LayerRole = "outline"


@dataclass(frozen=True, slots=True)
class HandIn:
    """What a student handed in.

    Parameters
    ----------
    file : str
        Name of the file without its folder.
    curves : tuple of HandCurve
        Of all roles, in file order; splines and ellipses as arcs.
    unit : Unit or None
        That the header states; None when it does not say.
    factor : float
        From the file's numbers to `unit`.
    entities : mapping of int to FileEntity
        Layer, line type, width and handle of each.
    dimensions : tuple of FileDimension
    words : tuple of FileWords
    told : tuple of str
        What had to be mended or left out to read it at all.
    content : DxfContent or None
        What was read, for a DXF.
    part : Part or None
        For a part file, as it is solved.
    report : SolveReport or None
        Of that solution.
    questions : tuple of LayerQuestion
        Layers of which the file does not tell what they are for.
    """

    file: str
    curves: tuple[HandCurve, ...]
    unit: Unit | None = None
    factor: float = 1.0
    entities: Mapping[int, FileEntity] = field(default_factory=frozen)
    dimensions: tuple[FileDimension, ...] = ()
    words: tuple[FileWords, ...] = ()
    told: tuple[str, ...] = ()
    content: DxfContent | None = None
    part: Part | None = None
    report: SolveReport | None = None
    questions: tuple[LayerQuestion, ...] = ()

    def of_role(self, role: LayerRole) -> tuple[HandCurve, ...]:
        """Return the curves of one role, in file order."""
        return tuple(each for each in self.curves if each.role == role)
