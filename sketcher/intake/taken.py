"""What an intake comes to: parts, with everything that was found and done on the way."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from sketcher.exchange.dxf_content import DxfContent
from sketcher.geometry.curves import XY
from sketcher.intake.linework import (
    Fault,
    FoundPattern,
    PlaceInFile,
    Question,
    Repair,
    SymmetryAxis,
)
from sketcher.intake.noise_floor import NoiseFloor
from sketcher.intake.unit_evidence import UnitVerdict
from sketcher.part.value import Part, frozen
from sketcher.solve.solve_report import Solution


@dataclass(frozen=True, slots=True)
class TakenValue:
    """A value that was read off.

    Parameters
    ----------
    binding : str
        The binding's id; ``n1.step[0]`` and the like for a value of a pattern.
    measured : float
    round : bool
    written : str
        As the part has it.
    """

    binding: str
    measured: float
    round: bool
    written: str


@dataclass(frozen=True, slots=True)
class BoundHalf:
    """A half with its bindings.

    Parameters
    ----------
    part : Part
        Solved.
    solution : Solution
    values : tuple of TakenValue
    sources : mapping of str to tuple of int
        Entities of the file by curve id.
    frame : PlaceInFile
        Where the part lies in the file.
    largest_move : float
        The furthest that anything of the outline moved since the file, in the part's unit.
    """

    part: Part
    solution: Solution
    values: tuple[TakenValue, ...] = ()
    sources: Mapping[str, tuple[int, ...]] = field(default_factory=frozen)
    frame: PlaceInFile = field(default_factory=PlaceInFile)
    largest_move: float = 0.0


@dataclass(frozen=True, slots=True)
class TakenPart:
    """One part of the file.

    `findings` are those of the part as it is drawn; `faults` tell where in the file its outline is
    not sound. `size` is how wide and high the whole part is.
    """

    bound: BoundHalf
    area: float
    repairs: tuple[Repair, ...]
    axes: tuple[SymmetryAxis, ...] = ()
    offered: tuple[SymmetryAxis, ...] = ()
    patterns: tuple[FoundPattern, ...] = ()
    findings: tuple[str, ...] = ()
    faults: tuple[Fault, ...] = ()
    size: XY = (0.0, 0.0)

    @property
    def part(self) -> Part:
        """The part itself."""
        return self.bound.part


@dataclass(frozen=True, slots=True)
class Taken:
    """Everything that an intake comes to.

    Parameters
    ----------
    content : DxfContent
        What was read.
    unit : UnitVerdict
    parts : tuple of TakenPart
        By falling area.
    repairs : tuple of Repair
        All of them: those of the parts, and those that touched none.
    questions : tuple of Question
        What is open; the parts are made as if the first answer had been given.
    floor : NoiseFloor
        What the file's numbers tell of their noise, in the part's unit.
    """

    content: DxfContent
    unit: UnitVerdict
    parts: tuple[TakenPart, ...]
    repairs: tuple[Repair, ...] = ()
    questions: tuple[Question, ...] = ()
    floor: NoiseFloor = field(default_factory=NoiseFloor)

    @property
    def sound(self) -> bool:
        """Whether there are parts, each without a finding, and nothing is asked."""
        return bool(self.parts) and not self.questions and not any(
            part.findings or part.faults for part in self.parts)
