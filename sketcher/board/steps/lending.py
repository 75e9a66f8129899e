"""Another part on the bench for a while: what lies there is put aside as it is, and comes back.

Part, history, file and all that goes with them are put aside together, so that nothing which is
tried meanwhile can reach the part or its file.
"""

from __future__ import annotations

from sketcher.board.steps.bench import Bench
from sketcher.solve.solve_report import Solution


class PutAside:
    """What lay on the bench.

    Parameters
    ----------
    bench : Bench
    """

    def __init__(self, bench: Bench) -> None:
        bench.gesture.restore()
        self._solution = Solution(bench.part, bench.report)
        self._steps = (bench.history, bench.solving, bench.gesture)
        self._file = (bench.path, bench.digest)
        self._chosen = (bench.selection, bench.zero)
        self._said = (bench.lasting, bench.layout_told, bench.lined_up, bench.shown_unit)

    def put_back(self, bench: Bench) -> None:
        """Put it on the bench again, in the place of what is there; who listens is told."""
        with bench.notices.held():
            bench.history, bench.solving, bench.gesture = self._steps
            bench.path, bench.digest = self._file
            bench.selection, bench.zero = self._chosen
            bench.lasting, bench.layout_told, bench.lined_up, bench.shown_unit = self._said
            bench.give_back = None
            bench.show(self._solution, "load", keep=self._solution.part)
