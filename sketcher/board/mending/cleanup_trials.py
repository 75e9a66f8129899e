"""Clean-up on the bench: a mend is tried with the solver before it is taken."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from sketcher.board.job import Job, reunited
from sketcher.board.steps.bench import Bench, listed
from sketcher.board.steps.redundancy import without_superfluous
from sketcher.board.steps.solver_cache import Solver
from sketcher.errors import EditError, SketcherError
from sketcher.inspect.cleanup import MOST, Turns, defects, run, summary
from sketcher.inspect.mend import Defect, MendStep
from sketcher.interrupt import check
from sketcher.part.edited import Edited
from sketcher.part.kinds import KINDS
from sketcher.part.value import Part
from sketcher.solve.solve_report import Solution, SolveReport


def found(part: Part) -> tuple[Defect, ...]:
    """Return what wants cleaning up; nothing where the whole part cannot be made."""
    try:
        return defects(part)
    except SketcherError:
        return ()


def look(bench: Bench, told: Callable[[tuple[Defect, ...] | None], None]) -> None:
    """Look for what wants cleaning up in the part as it stands; `told` is called with it.

    At once where there is little to look at; with None where it was stopped, and not at all when
    the part has changed meanwhile.
    """
    part = bench.part

    def done(defects: tuple[Defect, ...] | None) -> None:
        if bench.part is part:
            told(defects)

    def failed(error: BaseException) -> None:
        bench.notices.tell_failed(error)
        done(None)

    bench.worker.start(Job("Looking for leftovers", found, (part,), bench.derived.quick),
                       done, failed)


def mended(bench: Bench, part: Part, step: MendStep, was: SolveReport) -> Edited:
    """Return a part with one defect mended and solved.

    Bindings without a value that then follow from the others are dropped.

    Parameters
    ----------
    bench : Bench
        Its solver is asked.
    part : Part
        The part as it stands, solved.
    step : MendStep
        The edit.
    was : SolveReport
        What the solver said of `part`.

    Raises
    ------
    EditError
        When bindings could not hold afterwards that hold now.
    SketcherError
        When the part does not allow the edit.
    """
    return _tried(bench.try_out, step.apply(part), was)[0]


def _tried(solve: Solver, edited: Edited, was: SolveReport) -> tuple[Edited, SolveReport]:
    """Return what an edit made, solved and without superfluous bindings, and the report on it."""

    def superfluous(part: Part, solution: Solution) -> list[str]:
        fresh = [clash for clash in solution.report.clashes if clash not in was.clashes]
        if fresh:
            raise EditError("clean up", f"{listed(fresh[0])} could not hold any longer",
                            "change or drop one of them first")
        if was.converged and not solution.report.converged:
            raise EditError("clean up", "the bindings could not hold any longer",
                            "mend it by hand")
        return [name for name in solution.report.doubled if name not in was.doubled
                and KINDS[part.bindings[name].kind].quantity is None]

    _, solution, more = without_superfluous(edited.part, solve, superfluous)
    said = edited.said + (f"; dropped {', '.join(more)}" if more else "")
    dropped = tuple(dict.fromkeys((*edited.dropped, *more)))
    return Edited(solution.part, said, dropped, edited.made), solution.report


def all_mended(bench: Bench) -> Edited:
    """Return the part as it stands with all mended that `clean` mends.

    Raises
    ------
    Stopped
        When it took long and the person thought better of it.
    """
    part = bench.part
    edited = bench.worker.finish(
        Job("Clean up", clean, (part, bench.report, bench.solving.solver), bench.derived.quick))
    return replace(edited, part=reunited(part, edited.part))


def clean(part: Part, was: SolveReport, solve: Solver) -> Edited:
    """Return a part with every defect mended whose mend is sure and leaves all bindings true.

    Parameters
    ----------
    part : Part
        Solved.
    was : SolveReport
        What the solver said of it.
    solve : callable
        The solver.
    """
    dropped: list[str] = []
    done, report = 0, was
    try:
        # All at once, and one solve; where that breaks a binding one after the other.
        quick = run(part)
        if quick.number:
            edited, report = _tried(solve, Edited(quick.part, "", quick.dropped), was)
            part, done, dropped = edited.part, quick.number, list(edited.dropped)
    except SketcherError:
        report = was
    turns = Turns()
    for _ in range(MOST):
        check()
        each = turns.next(found(part))
        if each is None or each.step is None:
            break
        try:
            edited, report = _tried(solve, each.step.apply(part), report)
        except SketcherError:
            turns.give_up(each)
            continue
        part, done = edited.part, done + 1
        dropped += edited.dropped
    left = len(found(part))
    return Edited(part, summary(done, left, dropped), tuple(dict.fromkeys(dropped)))
