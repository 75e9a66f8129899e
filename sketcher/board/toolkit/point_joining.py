"""Making one point of two: what a dragged point would join, and what stands against it."""

from __future__ import annotations

from sketcher.board.preview import Mark, Pointer, Preview, Word
from sketcher.board.steps.bench import Bench, listed
from sketcher.errors import EditError
from sketcher.part.edited import Edited
from sketcher.part.edits.merge import merge
from sketcher.part.value import Part


def joined(bench: Bench, part: Part, kept: str, gone: str) -> Edited:
    """Return a part in which one point is another one, solved.

    Parameters
    ----------
    bench : Bench
        Solves it.
    part : Part
        The part as it stands, or as it is dragged.
    kept, gone : str
        The point that stays where it is, and the one that becomes it.

    Raises
    ------
    EditError
        When a curve between the two would vanish, or bindings could no longer all hold.
    Stopped
        When solving it took long and was stopped.
    """
    place = f"{gone} and {kept}"
    between = spanning(part, kept, gone)
    if between:
        raise EditError(place, f"joined they would leave nothing of {listed(between)}",
                        "delete it instead, or choose another point")
    made = merge(part, kept, gone)
    solution = bench.solve(made.part)
    fresh = [clash for clash in solution.report.clashes if clash not in bench.report.clashes]
    if fresh:
        raise EditError(place, f"joined they would let {listed(fresh[0])} clash",
                        "drop one of these first")
    if not solution.report.converged and bench.report.converged:
        raise EditError(place, "no solution was found with both in one place",
                        "put them nearer to each other first")
    return Edited(made.part, made.said, made.dropped, made.made)


def spanning(part: Part, one: str, other: str) -> tuple[str, ...]:
    """Return the curves that would lose their length: both points belong to them."""
    return tuple(name for name, curve in part.curves.items() if {one, other} <= set(curve.points))


class PointJoin:
    """What a point would join if the drag ended now.

    Parameters
    ----------
    bench : Bench
        Holds the part.
    point : str
        The point that is dragged.
    """

    def __init__(self, bench: Bench, point: str) -> None:
        self._bench = bench
        self.point = point
        self.other: str | None = None

    def look(self, pointer: Pointer) -> None:
        """Find the nearest other point within reach; none with Ctrl, or where snaps are off."""
        self.other = None
        if "ctrl" in pointer.keys or not self._bench.settings["snaps"]:
            return
        found = self._bench.derived.picker().points_near(pointer.at, pointer.reach)
        self.other = next((pick.id for pick in found if pick.id != self.point), None)

    @property
    def offered(self) -> str | None:
        """The point that would be joined, where no curve stands between the two."""
        if self.other is None or spanning(self._bench.part, self.point, self.other):
            return None
        return self.other

    @property
    def preview(self) -> Preview:
        """The sign of a shared end, and the word for it."""
        if self.offered is None:
            return Preview()
        at = self._bench.part.points[self.offered]
        return Preview(marks=(Mark(at, "end"),), words=(Word(at, f"joins {self.offered}"),))
