"""In line: two lines, or three points, lie on one straight line."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.part.construction_words import Condition, Words
from sketcher.part.equations import ON_LINE, PARALLEL
from sketcher.part.kind_base import Kind
from sketcher.part.kind_sign import Sign
from sketcher.part.loci import Course, Locus, LyingAlong, OnCurve, ParallelTo, Through
from sketcher.part.operand_forms import STRAIGHT, EquationRow, line_ends
from sketcher.part.part_size import part_size
from sketcher.part.value import Part


class InLine(Kind):
    """Two lines continue each other, or three points lie on one line."""

    name = "in line"
    hint = "Two lines, or three points, lie on one straight line."
    phrases = ("{0} in line with {1}", "{0}, {1}, {2} in line")
    forms = (("line", "line"), ("point", "point", "point"))
    sign = Sign((((-0.95, 0.0), (-0.3, 0.0)), ((0.3, 0.0), (0.95, 0.0))), (), ((0.0, 0.0, 0.18),))

    def rows(self, part: Part, of: Sequence[str], side: str | None) -> list[EquationRow]:
        """Return the directions and, unless the lines share an end, one distance."""
        if len(of) == 3:
            return [EquationRow(ON_LINE, tuple(of))]
        one, other = (line_ends(part, name) for name in of)
        rows = [EquationRow(PARALLEL, (*one, *other))]
        if not set(one) & set(other):
            rows.append(EquationRow(ON_LINE, (*one, other[0])))
        return rows

    def shows_itself(self, part: Part, of: Sequence[str]) -> bool:
        """Edges are drawn in line, and so are points on one level or above each other."""
        if len(of) == 2:
            return True
        xs, ys = zip(*(part.points[name] for name in of), strict=True)
        near = STRAIGHT * part_size(part)
        return bool(max(xs) - min(xs) < near or max(ys) - min(ys) < near)

    def locus(self, words: Words, condition: Condition, point: str) -> Locus | None:
        """Return the line through the other two of three points."""
        if len(condition.points) != 3:
            return None
        one, other = (p for p in condition.points if p != point)
        return Through(one, other)

    def course(self, words: Words, condition: Condition, line: str) -> Course | None:
        """Return the direction by the other line, or that line itself."""
        others = words.others(condition, line)
        if not others:
            return None
        if len(condition.points) == 3:  # the row that lays an end on the other line
            return LyingAlong(condition.points[-1], OnCurve(others[0]))
        return ParallelTo(others[0])


KIND = InLine()
