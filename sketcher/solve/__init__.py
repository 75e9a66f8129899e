"""Equations of a part, their solution, and what they leave free or contradict."""

from __future__ import annotations

from sketcher.solve.drag import Drag
from sketcher.solve.report import LoosePoint, Solution, SolveReport
from sketcher.solve.solver import solve, solve_with

__all__ = ["Drag", "LoosePoint", "Solution", "SolveReport", "solve", "solve_with"]
