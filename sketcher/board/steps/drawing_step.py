"""One step of drawing: new geometry, then what the snaps showed and what was typed as bindings."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from sketcher.board.places.pending_bindings import Tie
from sketcher.board.places.point_place import Spot
from sketcher.board.places.zero import Zero, zero_point
from sketcher.board.steps.rays import on_rays
from sketcher.board.steps.redundancy import without_superfluous
from sketcher.errors import EditError
from sketcher.geometry.curves import XY
from sketcher.part import kinds
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part
from sketcher.solve.solve_report import Solution


class Sketch:
    """Builds one step on a draft and remembers which bindings a snap made.

    Parameters
    ----------
    part : Part
        The part as it stands.
    zero : Zero
        Zero of the readout, for values of X and Y.
    bind_shown, bind_typed : bool
        Whether what a snap showed, and what was typed, become bindings.
    """

    def __init__(
        self, part: Part, zero: Zero | None = None, bind_shown: bool = True,
        bind_typed: bool = True,
    ) -> None:
        self.draft = Draft(part)
        self._part = part
        self._zero = zero or Zero()
        self._shown, self._typed = bind_shown, bind_typed
        self._wishes: list[tuple[Tie, dict[str, str]]] = []
        self._own: set[Tie] = set()
        self.automatic: list[str] = []
        self._firm: set[str] = set()  # of those, what a typed value does not displace
        self._rays: dict[str, tuple[str, ...]] = {}  # lines scribed for a typed angle
        self.typed: dict[str, Tie] = {}
        self.implied: list[Tie] = []
        """What was typed and follows from the other bindings: nothing new, but to be told."""

    def point(self, spot: Spot, names: Mapping[str, str] | None = None) -> str:
        """Return the id of the point at a spot, new or shared, and note its ties.

        `names` gives the stand-ins besides ``@``; a curve that is not drawn yet may be added to
        that same mapping later, before `finish`.
        """
        name = spot.point if spot.point is not None else self.draft.point(spot.at)
        self.ties(spot.ties, name, names)
        return name

    def ties(self, ties: Iterable[Tie], name: str, names: Mapping[str, str] | None = None) -> None:
        """Note ties for the point `name`."""
        for tie in ties:
            self._wishes.append((tie, {**(names or {}), "@": name}))

    def tie(
        self, kind: str, *of: str, value: str | None = None, typed: bool = False, own: bool = False
    ) -> None:
        """Note a binding of what is drawn already.

        `own` is what makes the figure what it is, as the tangency of a tangent arc: of a typed
        value and such a binding, the value is what follows.
        """
        tie = Tie(kind, of, value, typed)
        self._wishes.append((tie, {}))
        if own:
            self._own.add(tie)

    def named(self, **names: str) -> None:
        """Give a meaning to stand-ins in all ties noted so far that lack one (``curve="e3"``)."""
        for _, known in self._wishes:
            for name, value in names.items():
                known.setdefault(f"@{name}", value)

    def finish(self, solve: Callable[[Part], Solution]) -> Part:
        """Return the next part; bindings that a snap made and that add nothing are left out.

        An end on an axis stays bound there, and a tangent arc tangent: the half must still reach
        its axis after any later change. A typed value that only follows then is left out instead.
        """
        wishes = sorted(self._wishes, key=lambda wish: not wish[0].typed)
        for tie, names in wishes:
            if self._typed if tie.typed else self._shown:
                self._bind(tie, names)
        if not self.automatic and not self.typed:
            return self.draft.done()  # nothing to take back: whoever asked for it solves it
        found = without_superfluous(
            self.draft.done(), solve, lambda part, it: self._fruitless(part, it, solve))
        rays = [ray for name in found.gone for ray in self._rays.get(name, ())]
        self.draft.remove(*found.gone)
        self.automatic = [name for name in self.automatic if name not in found.gone]
        self.implied += [self.typed[name] for name in found.gone if name in self.typed]
        rays = [n for n in rays if not any(n in b.of for b in self.draft.bindings.values())]
        if not rays:
            return found.part
        self.draft.remove(*rays)
        return self.draft.done()

    def _fruitless(
        self, part: Part, solution: Solution, solve: Callable[[Part], Solution]
    ) -> set[str]:
        """Return what the snaps made and is said twice, clashes, or keeps the part unsolved."""
        report, ours = solution.report, {*self.automatic} & part.bindings.keys()
        worst = ours & {name for clash in report.clashes for name in clash}
        if not worst and not report.converged and not report.clashes:
            worst = ours
        doubled = ours & set(report.doubled)
        return worst or doubled - self._firm or self._hides(part, solution, solve) \
            or self._follows(part, solution, solve) or doubled

    def _follows(
        self, part: Part, solution: Solution, solve: Callable[[Part], Solution]
    ) -> set[str]:
        """Return what was typed last of what follows from the other bindings."""
        doubled = set(solution.report.doubled)
        if solution.report.clashes or not solution.report.converged:
            return set()
        names = [n for n in self.typed if n in part.bindings]
        if doubled & self._firm:  # the solver's choice fell on what stays: look for what follows
            names = [n for n in names if len(solve(_less(part, n)).report.doubled) < len(doubled)]
        else:
            names = [n for n in names if n in doubled]
        return set(names[-1:])

    def _hides(
        self, part: Part, solution: Solution, solve: Callable[[Part], Solution]
    ) -> set[str]:
        """Return what the snaps made where it makes another binding look redundant in its place.

        Which of several dependent bindings is called redundant is the solver's choice; what was
        typed or there before must not pay for what only a snap showed.
        """
        weak = [name for name in self.automatic if name not in self._firm]
        said = set(solution.report.doubled) - set(weak)
        if not said or said <= set(solve(self._part).report.doubled):
            return set()
        for name in reversed(weak):
            if name in part.bindings and not said <= set(solve(_less(part, name)).report.doubled):
                return {name}
        return set()

    def _bind(self, tie: Tie, names: dict[str, str]) -> None:
        of = tuple(self._operand(name, names) for name in tie.of)
        if any(name.startswith("@") for name in of):
            return  # a direction of a piece that was not drawn in the end
        if tie.typed and len(set(of)) < len(of):
            return  # the typed place is that of the zero's own point: sharing it says it all
        known = tuple(self.draft.curves)
        said = tie
        tie, of = on_rays(self.draft, tie, of)
        part = self.draft.done()
        if not tie.typed and _is_said(part, tie.kind, of):
            return
        try:
            binding = kinds.bind(part, tie.kind, of, tie.value)
        except EditError:
            if tie.typed:
                raise
            return
        name = self.draft.binding(binding)
        if tie.typed:
            self.typed[name] = said
            self._rays[name] = tuple(n for n in self.draft.curves if n not in known)
        else:
            self.automatic.append(name)
            if tie in self._own or (tie.kind == "on" and tie.of[0] == "@"
                                    and part.curves[of[1]].role == "axis"):
                self._firm.add(name)

    def _operand(self, name: str, names: Mapping[str, str]) -> str:
        if name == "@zero":
            return self._zero_point()
        return names.get(name, name)

    def _zero_point(self) -> str:
        part = self.draft.done()
        known = zero_point(part, self._zero)
        if known is None:
            place: XY = self._zero.place(part)
            # A press on the zero, or zeros that were typed, have made a point there already.
            known = next((names["@"] for tie, names in self._wishes
                          if part.points.get(names.get("@", "")) == place
                          and (tie.kind == "fixed" or names["@"] not in self._part.points)), None)
            known = known or self.draft.point(place)
            self.draft.bind("fixed", (known,))
        return known


def _less(part: Part, name: str) -> Part:
    draft = Draft(part)
    draft.remove(name)
    return draft.done()


def _is_said(part: Part, kind: str, of: tuple[str, ...]) -> bool:
    wanted = sorted(of)
    return any(b.kind == kind and sorted(b.of) == wanted for b in part.bindings.values())
