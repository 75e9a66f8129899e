"""The inspection of a whole part: everything measured, as one value, as JSON and as text.

`Inspection.as_dict` is what ``sketcher inspect FILE --json`` writes, in the part's unit and in
degrees, at full precision:

``format``, ``version``
    Of this form; the number rises when a key goes or means something else.
``name``, ``unit``, ``sound``, ``state``, ``freedoms``
    `sound` is true without findings; `state` is ``bound``, ``loose`` or ``clashing``.
``doubtful``
    Of each doubt its `ids`, and of the part taken (`taken`) and the other one (`other`) the
    `sides`, `points` and `radii` that differ.
``loose``, ``doubled``, ``clashes``
    ``{"point", "directions"}``; redundant ids that agree (told, no finding); sets of ids that
    cannot all hold.
``dimensions``
    `id, kind, of, wanted, actual, residual, drives, limits, within`; `limits` are the dimension's
    own or the drawing's general ones.
``joints``
    `at, between, state, gap, angle_deg, residual, bound`; `angle_deg` is the break of direction,
    180 folds back; `residual` is null where tangency is not meant.
``touches``
    Tangencies that are no joint of the outline: `id, between, at, residual, angle_deg`.
``profile``
    `closed` and `loops` (`curves, hole, detached, area, perimeter`); of the plate alone, without
    what is detached: `area`, `perimeter` (all its contours), `centroid`, `second_moments` (about
    the centroid), `bounds`, `mass` (kg); `strays`, `overlaps`, `crossings`; `more` where further
    ones of these are not named.
``symmetry``
    Of the first mirror, null without one; its `others` holds a second mirror.
``cutting``
    Advice: `rule, process, where, found, wanted, most, ids, at, why`; lengths in the part's unit;
    `wanted` is the least, or with `most` the most. None with `unadvised`, and none of what is open
    or crosses.
``unadvised``
    Why there is no advice at all; null where there is.
``remarks``
    What the rules of cutting say of material and tables: `rule, processes, text`.
``cut_findings``
    Entries as of `findings` that stand against the cutting file alone, the material's.
``findings``
    `code, where, found, wanted, ids, at, text`; the codes are the keys of `findings.CODES`.
``points``, ``radii``
    Solved points by id; radii of arcs and circles by id.
``holes``
    Added by the command, see `sketcher.shop.hole_rows.holes_entry`.

Pieces are named as in `sketcher.part.image_id`: ``e1'`` is the reflection of ``e1``, ``h1#3`` the
third further instance of ``h1``.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from sketcher.geometry.bounds import size_of, tolerance
from sketcher.inspect import verdict
from sketcher.inspect.doubtful import doubt_as_dict, doubt_findings
from sketcher.inspect.findings import Finding
from sketcher.inspect.joints import Joint, joints_of
from sketcher.inspect.measured_dimensions import (
    MeasuredCondition,
    MeasuredDimension,
    conditions_of,
    dimensions_of,
)
from sketcher.inspect.off_axis import OffAxis, off_axes, unexplained
from sketcher.inspect.profile import Profile, profile_of
from sketcher.inspect.rules import check_all, remark_all
from sketcher.inspect.stock import PROCESSES, Advice, Process, Remark, Stock
from sketcher.inspect.suited_processes import cut_findings, suited, unsuited
from sketcher.inspect.symmetry import Symmetry, symmetries_of
from sketcher.inspect.touches import Touch, touches_of
from sketcher.inspect.words import CROSSED, OPEN, UNADVISED, plural
from sketcher.interrupt import check
from sketcher.part.general_tolerances import general
from sketcher.part.value import ArcCurve, CircleCurve, Part
from sketcher.part.whole import half, whole
from sketcher.progress import tell

if TYPE_CHECKING:
    from sketcher.solve.solve_report import SolveReport

FORMAT, VERSION = "part-profile-inspection", 1
"""Of the JSON; the number rises when a key goes or means something else."""


@dataclass(frozen=True)
class Inspection:
    """Everything that was measured on a part.

    Parameters
    ----------
    part : Part
        The geometry that was measured.
    report : SolveReport
        What the solver said about it.
    tol : float
        Lengths below this count as nothing: a billionth of the size.
    processes : tuple of str
        Cutters for which there shall be advice.
    pierce_limit : float or None
        The thickest plate that the machine at hand pierces, in the part's unit, where that is said.
    """

    part: Part
    report: SolveReport
    tol: float
    dimensions: tuple[MeasuredDimension, ...]
    conditions: tuple[MeasuredCondition, ...]
    joints: tuple[Joint, ...]
    touches: tuple[Touch, ...]
    profile: Profile
    symmetries: tuple[Symmetry, ...]
    findings: tuple[Finding, ...]
    processes: tuple[Process, ...]
    pierce_limit: float | None = None

    @cached_property
    def cutting(self) -> tuple[Advice, ...]:
        """What the cutters would mind; worked out when it is first asked for.

        Empty without `advised`.
        """
        return check_all(self._stock) if self.advised else ()

    @cached_property
    def remarks(self) -> tuple[Remark, ...]:
        """What the rules of cutting say of material and tables; empty without `advised`."""
        return remark_all(self._stock) if self.advised else ()

    @cached_property
    def _stock(self) -> Stock:
        part, name = self.part, self.part.material.name
        uncut = {name for loop in self.profile.loops if loop.detached for name in loop.ids}
        sizes = [row for row in self.dimensions if uncut.isdisjoint(row.of)]
        fit = suited(name, self.processes)
        return Stock(
            self.profile, self.joints, sizes, part.unit, part.material.thickness, fit,
            tuple(process for process in self.processes if process not in fit), name,
            self.pierce_limit, general(part).note,
        )

    @cached_property
    def cut_findings(self) -> tuple[Finding, ...]:
        """What stands against the cutting file alone, and leaves the part sound."""
        return cut_findings(self.part.material.name, self.processes)

    @property
    def against_cutting(self) -> tuple[Finding, ...]:
        """Everything that stands against the cutting file."""
        return (*self.findings, *self.cut_findings)

    @property
    def unadvised(self) -> str:
        """Why there is no advice at all; empty where there is.

        Where more contours cross than are named there is no plate to advise on; without a material,
        or with one that none of the cutters may cut, no advice fits.
        """
        if self.profile.more:
            return UNADVISED
        return unsuited(self.part.material.name, self.processes)

    @property
    def advised(self) -> bool:
        """Whether there is a plate, of a material, to advise on."""
        return not self.unadvised

    @property
    def unjudged(self) -> str:
        """Where the advice is silent because there is no plate; empty where it says all."""
        profile = self.profile
        crossed = profile.crossings or profile.overlaps or profile.meetings or profile.more
        found = [words for words, odd in ((CROSSED, crossed), (OPEN, profile.strays)) if odd]
        return f"not judged where {' or '.join(found)}" if found else ""

    @property
    def sound(self) -> bool:
        """True without findings: bound, within limits, closed, every joint as meant."""
        return not self.findings

    @property
    def verdict(self) -> str:
        """``Sound``, or the number of findings; beside it, how many bindings are redundant."""
        return self.verdict_of(len(self.findings))

    def verdict_of(self, findings: int) -> str:
        """Return the verdict where only so many findings are told."""
        found = plural(findings, "finding") if findings else "Sound"
        twice = len(self.report.doubled)
        return f"{found} \N{MIDDLE DOT} {plural(twice, 'redundant binding')}" if twice else found

    @property
    def radii(self) -> dict[str, float]:
        """Radius of every drawn arc and circle by id."""
        shapes = half(self.part)
        return {
            name: shapes[name].radius  # type: ignore[union-attr]
            for name, curve in self.part.curves.items()
            if isinstance(curve, ArcCurve | CircleCurve)
        }

    def as_dict(self, cutting: bool = True) -> dict[str, object]:
        """Return the inspection as it is written to JSON, in the part's unit, full precision.

        Without `cutting` the advice for cutters, which takes longest, is neither made nor told.
        """
        symmetry = None
        if self.symmetries:
            symmetry = self.symmetries[0].as_dict()
            symmetry["others"] = [other.as_dict() for other in self.symmetries[1:]]
        return {
            "format": FORMAT,
            "version": VERSION,
            "name": self.part.name,
            "unit": self.part.unit,
            "sound": self.sound,
            "state": self.report.state,
            "freedoms": self.report.freedoms,
            "loose": [
                {"point": loose.point, "directions": [list(d) for d in loose.directions]}
                for loose in self.report.loose
            ],
            "doubled": list(self.report.doubled),
            "doubtful": [doubt_as_dict(self.part, doubt) for doubt in self.part.doubts],
            "clashes": [list(clash) for clash in self.report.clashes],
            "dimensions": [row.as_dict() for row in self.dimensions],
            "joints": [joint.as_dict() for joint in self.joints],
            "touches": [touch.as_dict() for touch in self.touches],
            "profile": self.profile.as_dict(),
            "symmetry": symmetry,
            "cutting": [advice.as_dict() for advice in self.cutting] if cutting else [],
            "unadvised": self.unadvised or None,
            "remarks": [remark.as_dict() for remark in self.remarks] if cutting else [],
            "cut_findings": [finding.as_dict() for finding in self.cut_findings],
            "findings": [finding.as_dict() for finding in self.findings],
            "points": {name: list(at) for name, at in self.part.points.items()},
            "radii": self.radii,
        }

    def as_text(self) -> str:
        """Return the inspection as tables for a terminal."""
        from sketcher.inspect.report_text import as_text

        return as_text(self)


def inspect_part(
    part: Part, report: SolveReport, processes: tuple[Process, ...] = PROCESSES,
    pierce_limit: float | None = None,
) -> Inspection:
    """Measure every dimension, joint, touch and contour of the whole part.

    Parameters
    ----------
    part : Part
        Solved.
    report : SolveReport
        What the solver said about exactly this part.
    processes : tuple of str
        For which cutters advice is wanted.
    pierce_limit : float or None
        The thickest plate that the machine at hand pierces, in the part's unit, where that is said.

    Raises
    ------
    SketcherError
        When a value cannot be evaluated, or a mirror's axis has no length.
    """
    pieces = whole(part)
    outline = [piece.curve for piece in pieces if piece.role == "outline"]
    measured = outline or [piece.curve for piece in pieces]  # layout before anything is traced
    tol, size = tolerance(measured), size_of(measured)
    dimensions, conditions = dimensions_of(part, tol), conditions_of(part, tol)
    check()
    tell(0.1)
    joints = joints_of(part, pieces, tol, size)
    touches = touches_of(part, joints, tol)
    check()
    tell(0.5)
    profile = profile_of(part, pieces, tol)
    check()
    tell(0.9)
    symmetries = symmetries_of(part, pieces, joints, tol)
    findings = tuple(_findings(
        part, report, dimensions, conditions, joints, touches, profile, symmetries,
        off_axes(part, profile, tol, size),
    ))
    return Inspection(
        part, report, tol, dimensions, conditions, joints, touches, profile, symmetries, findings,
        processes, pierce_limit,
    )


def _findings(
    part: Part, report: SolveReport, dimensions: tuple[MeasuredDimension, ...],
    conditions: tuple[MeasuredCondition, ...], joints: tuple[Joint, ...],
    touches: tuple[Touch, ...], profile: Profile, symmetries: tuple[Symmetry, ...],
    off: tuple[OffAxis, ...],
) -> Iterator[Finding]:
    """Worst first: what cannot hold, what is not said, what is off, what does not close.

    Ends that have left the axis come before what is not said, which is often where they lie.
    """
    solved = list(verdict.solve_findings(part, report))
    yield from (finding for finding in solved if finding.code != "loose")
    yield from (each.finding(part.unit) for each in off)
    yield from (finding for finding in solved if finding.code == "loose")
    yield from doubt_findings(part)
    told = () if report.clashes else report.unreached
    yield from verdict.dimension_findings(part, (row for row in dimensions if row.id not in told))
    yield from verdict.condition_findings(part, conditions)
    yield from verdict.touch_findings(part, touches)
    yield from unexplained((*verdict.joint_findings(part, joints, profile),
                            *verdict.profile_findings(part, profile, joints, symmetries),
                            *verdict.symmetry_findings(part, symmetries)), off)
