"""A hand-in being drawn: values, outline, center lines, one after the other, each may go wrong."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path
from random import Random
from typing import Any, Literal

from tests.hand_ins.book import CenterLine, center_lines
from tests.hand_ins.dimensions_by_hand import Sheeting, gate_strap_sheet
from tests.hand_ins.drawer import PER_INCH, Drawing, Manner, write_dxf
from tests.hand_ins.strokes import Bow, Plate, Ring, Straight, Stroke, named
from tests.hand_ins.written_paper import Paper

Stage = Literal["manner", "values", "outline", "centers", "sheet", "part"]


@dataclass
class Draft:
    """What is on the drawing so far, in the paper's unit."""

    paper: Paper
    manner: Manner
    changes: dict[str, float] = field(default_factory=dict)
    plate: Plate = field(default_factory=lambda: Plate(()))
    drawing: Drawing = field(default_factory=lambda: Drawing([]))
    lines: list[CenterLine] = field(default_factory=list)
    dashed: tuple[str, ...] = ()
    """Center lines that are drawn with a line type."""
    sheeting: Sheeting | None = None
    """Dimensions and title block, where it has any."""

    @property
    def mm(self) -> float:
        """A millimetre on paper."""
        return (1.0 if self.paper.unit == "mm" else 1.0 / PER_INCH) / self.manner.scale

    def stroke(self, name: str) -> Stroke:
        return next(stroke for stroke in self.drawing.strokes if stroke.name == name)

    def edge(self, name: str) -> Straight:
        return named(self.drawing.strokes, name, Straight)

    def bow(self, name: str) -> Bow:
        return named(self.drawing.strokes, name, Bow)

    def hole(self, name: str) -> Ring:
        return named(self.drawing.strokes, name, Ring)

    def swap(self, name: str, *others: Stroke) -> None:
        """Draw others in place of a stroke."""
        loops = [tuple(new for s in loop for new in (others if s.name == name else (s,)))
                 for loop in self.drawing.loops]
        self.drawing.loops = [loop for loop in loops if loop]

    def line(self, name: str) -> CenterLine:
        return next(line for line in self.lines if line.name == name)

    def redraw(self, name: str, *others: CenterLine) -> None:
        """Draw other center lines in place of one."""
        self.lines = [new for line in self.lines
                      for new in (others if line.name == name else (line,))]

    def write(self, path: Path, random: Random) -> None:
        """Write it as a DXF."""
        drawn = replace(self.drawing, centers=[], dashed=[])
        for line in self.lines:
            if line.name in self.dashed:
                drawn.dashed.append(Straight(line.name, line.start, line.end))
            else:
                drawn.centers += line.strokes
        write_dxf(path, drawn, self.paper.unit, self.manner, random, self.sheeting)


@dataclass(frozen=True)
class Plant:
    """A mistake to make: what the rule is, and how it is made.

    Parameters
    ----------
    rule : str
    stage : str
        Which part of the drawing goes wrong.
    make : callable
        Of a `Draft`; of the tree of a part file for the stage ``part``.
    mistakes : int
    """

    rule: str
    stage: Stage
    make: Callable[[Any], None]
    mistakes: int = 1


def drafted(paper: Paper, manner: Manner, plants: list[Plant], dashed: tuple[str, ...] = (),
            dimensioned: bool = False) -> Draft:
    """A hand-in with some mistakes."""
    draft = Draft(paper, manner, dashed=dashed)

    def make(stage: Stage) -> None:
        for plant in plants:
            if plant.stage == stage:
                plant.make(draft)

    make("manner")
    make("values")
    draft.plate = paper.drawn(draft.changes)
    draft.drawing = Drawing(list(draft.plate.loops))
    make("outline")
    draft.lines = center_lines(paper.key, draft.plate, draft.drawing.loops, draft.mm)
    make("centers")
    if dimensioned:
        draft.sheeting = gate_strap_sheet(draft.plate)
        make("sheet")
    return draft
