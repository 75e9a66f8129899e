"""From what was measured to findings: everything that keeps a part from being sound."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from math import degrees, pi

from sketcher.geometry.curves import XY
from sketcher.inspect.detached import Detached
from sketcher.inspect.findings import CODES, Finding
from sketcher.inspect.joints import NEAR, Joint
from sketcher.inspect.measured_dimensions import MeasuredCondition, MeasuredDimension
from sketcher.inspect.profile import Profile
from sketcher.inspect.symmetry import Symmetry
from sketcher.inspect.touches import Touch
from sketcher.inspect.unmirrored import open_half
from sketcher.inspect.unreached import reach_of, reach_words
from sketcher.inspect.words import (
    amount,
    angle,
    bare_amount,
    bare_length,
    length,
    listed,
    plural,
    some,
    spot,
)
from sketcher.part.curve_questions import smooth_kind
from sketcher.part.image_id import read_image_id
from sketcher.part.kinds import KINDS, measure, wanted
from sketcher.part.value import CircleCurve, Part
from sketcher.solve.solve_report import LoosePoint, SolveReport

BOTH = 2
"""Open ends of a curve that hangs together with nothing: that it is a stray tells them."""


def solve_findings(part: Part, report: SolveReport) -> Iterator[Finding]:
    """Yield clashes, a solve that did not arrive, and what can still move."""
    for clash in report.clashes:
        # Of a value out of range it is told how far the range goes.
        reach = reach_of(part, report) if set(report.unreached) & set(clash) else None
        yield Finding(
            "clash", f"bindings {', '.join(clash)}", f"{len(clash)} bindings that cannot all hold",
            "bindings that agree", clash, None,
            reach_words(part, report) if reach is not None and reach.text else
            f"{listed(clash)} cannot all hold; change a value, drop one, or make one a reference",
        )
    if not report.converged and not report.clashes and report.unreached:
        yield _unreached(part, report)
    elif not report.converged and not report.clashes:
        yield Finding(
            "unsolved", part.name, "bindings that do not hold", "every binding holds", (), None,
            "no geometry satisfies every binding; draw the sketch nearer to what is meant",
        )
    if report.freedoms:
        yield _loose(part, report)


def _unreached(part: Part, report: SolveReport) -> Finding:
    """One finding of all values that cannot be had."""
    names = report.unreached
    rows = [(part.bindings[name], KINDS[part.bindings[name].kind].quantity) for name in names]
    found = listed(amount(measure(part, b), quantity, part.unit) for b, quantity in rows)
    aim = listed(amount(wanted(part, b) or 0.0, quantity, part.unit) for b, quantity in rows)
    of = tuple(dict.fromkeys(each for binding, _ in rows for each in binding.of))
    return Finding("unreached", f"{listed(names)} ({' '.join(of)})", found, aim, (*names, *of),
                   _of_binding(part, of), reach_words(part, report))


def _loose(part: Part, report: SolveReport) -> Finding:
    points = tuple(loose.point for loose in report.loose)
    # Short, so that a line of a narrow pane has all of it; the freedoms' section names the others.
    rest = len(points) - 1
    shown = listed([*points[:1], f"{rest} more"]) if rest > 2 else listed(points)
    at = next((_place(part, loose) for loose in report.loose), None)
    ways = plural(report.freedoms, "freedom")
    return Finding(
        "loose", f"points {', '.join(points[:6])}" if points else part.name, ways, "0 freedoms",
        points, at,
        f"{ways} left: {shown or 'something'} can move",
    )


def _place(part: Part, loose: LoosePoint) -> XY | None:
    curve = part.curves.get(loose.point)
    name = curve.center if isinstance(curve, CircleCurve) else loose.point
    return part.points.get(name)


def dimension_findings(part: Part, rows: Iterable[MeasuredDimension]) -> Iterator[Finding]:
    """Yield dimensions that miss their value or their limits."""
    for row in rows:
        if not row.within or (row.drives and abs(row.residual) > row.slack):
            yield _dimension(part, row)


def _dimension(part: Part, row: MeasuredDimension) -> Finding:
    found, aim = (amount(v, row.quantity, part.unit) for v in (row.actual, row.wanted))
    instead = f"{bare_amount(row.actual, row.quantity, part.unit)} instead of {aim}"
    if found == aim:  # in as many digits as are printed
        instead += f", {amount(row.residual, row.quantity, part.unit)} off"
    name = f"{row.id}, the {row.kind} of {listed(row.of)},"
    if not row.drives:
        code = "reference-differs"
        text = f"{name} is printed as {aim}, but is {found}"
    elif abs(row.residual) > row.slack:
        code, text = "off-dimension", f"{name} is {instead}"
    else:
        assert row.limits is not None
        low, high = (amount(v, row.quantity, part.unit) for v in row.limits)
        aim = f"{low} to {high}"
        code, text = "off-limits", f"{name} is {found}, outside {aim}"
    where = f"{row.id} ({row.kind} {' '.join(row.of)})"
    return Finding(code, where, found, aim, (row.id, *row.of), _of_binding(part, row.of), text)


def condition_findings(part: Part, rows: Iterable[MeasuredCondition]) -> Iterator[Finding]:
    """Yield bindings without a value that do not hold; tangency is judged where curves meet."""
    for row in rows:
        if not row.holds and not KINDS[row.kind].joins:
            off = length(row.residual, part.unit)
            yield Finding(
                "off-binding", f"{row.id} ({row.kind} {' '.join(row.of)})", off, "0",
                (row.id, *row.of), _of_binding(part, row.of),
                f"{row.id}, {KINDS[row.kind].noun} of {listed(row.of)}, does not hold, by {off}",
            )


def joint_findings(part: Part, joints: Iterable[Joint], profile: Profile) -> Iterator[Finding]:
    """Yield joints that are nearly tangent, that do not hold, or that do not close."""
    for joint in joints:
        if profile.drawn_twice(joint.between):
            continue
        fold = pi - joint.angle < NEAR
        if joint.state in {"gap", "overrun"}:
            yield _open_joint(part, joint)
        elif not joint.holds or fold or joint.state == "near-tangent":
            yield _off_joint(part, joint, fold)


def _open_joint(part: Part, joint: Joint) -> Finding:
    wide = length(joint.gap, part.unit)
    text = (f"the ends nearly meet and leave a gap of {wide}" if joint.state == "gap"
            else f"one runs past the other by {wide}")
    return Finding(joint.state, _where(part, joint), wide, length(0.0, part.unit), joint.between,
                   joint.at, f"{listed(joint.between)}: {text}")


def _off_joint(part: Part, joint: Joint, fold: bool) -> Finding:
    turn = angle(degrees(joint.angle))
    if not joint.holds:
        code, aim = "off-tangent", angle(0.0)
        text = f"{listed(joint.between)} are bound tangent, but the edge breaks by {turn}"
    elif fold:
        code, aim = "fold", "less than a half turn"
        text = f"{listed(joint.between)} fold straight back: a spike without width"
    else:
        code, aim = "near-tangent", f"{angle(0.0)}, or a plain corner"
        off = length(abs(joint.residual or 0.0), part.unit)
        kind = smooth_kind(*(part.curves[read_image_id(name).source] for name in joint.between))
        text = (f"{listed(joint.between)} look {kind} and break by {turn} ({off} off); "
                f"bind them {kind}")
    return Finding(code, _where(part, joint), turn, aim, joint.between, joint.at, text)


def _where(part: Part, joint: Joint) -> str:
    return f"{listed(joint.between)} at {spot(joint.at, part.unit)}"


def touch_findings(part: Part, touches: Iterable[Touch]) -> Iterator[Finding]:
    """Yield tangencies away from the ends that do not hold."""
    for touch in touches:
        if not touch.holds:
            off = length(touch.residual, part.unit)
            yield Finding(
                "off-tangent", f"{touch.id} (tangent {' '.join(touch.between)})", off,
                length(0.0, part.unit), (touch.id, *touch.between), touch.at,
                f"{listed(touch.between)} are bound tangent and miss by {off}",
            )


def profile_findings(
    part: Part, profile: Profile, joints: Sequence[Joint], symmetries: Sequence[Symmetry]
) -> Iterator[Finding]:
    """Yield what keeps the outline from being closed contours that lie apart."""
    if not profile.loops and not profile.strays:
        yield Finding("empty", part.name, "no outline", "a closed one", (), None,
                      CODES["empty"].text)
    explained = {name for joint in joints if joint.state in {"gap", "overrun"}
                 and not profile.drawn_twice(joint.between) for name in joint.between}
    ends = Counter(opening.id for opening in profile.open_ends)
    half = open_half(part, profile) if not explained else None
    if half is not None:
        yield half.finding()
    in_half = frozenset(half.curves) if half is not None else frozenset()
    lone = {name for name in profile.strays if ends[name] == BOTH and name not in explained}
    for opening in profile.open_ends:
        if opening.id not in explained | lone | in_half:
            place = f"at {spot(opening.at, part.unit)}"
            yield Finding("open", f"{opening.id} {place}", "an end that meets nothing",
                          "another curve's end", (opening.id,), opening.at,
                          f"{opening.id} ends {place} and nothing goes on from there")
    axis_of = {name: symmetry.axis for symmetry in symmetries for name in symmetry.on_axis}
    for name in _untold([name for name in profile.strays if name not in in_half], joints):
        text = f"{name} belongs to no closed contour"
        if name in axis_of:
            text = (f"{name} runs along the axis {axis_of[name]}, inside the whole part; "
                    "make it a layout line")
        yield Finding("stray", name, "in no closed contour", "part of one, or a layout line",
                      (name,), profile.places[name], text)
    for name in profile.specks:
        yield Finding("speck", name, "no length", "a curve, or none", (name,), profile.places[name],
                      f"{name} has no length; take it away")
    for pair, at in profile.overlaps:
        yield Finding("overlap", f"{listed(pair)} at {spot(at, part.unit)}", "drawn twice", "once",
                      pair, at, f"{listed(pair)} cover the same place and would be cut twice")
    for pair, at in profile.crossings:
        yield Finding(
            "crossing", f"{listed(pair)} at {spot(at, part.unit)}", "outline crosses outline",
            "contours that lie apart", pair, at,
            f"{listed(pair)} cross or touch at {spot(at, part.unit)}, away from their ends",
        )
    for ids, at in profile.meetings:
        place = f"{listed(ids)} at {spot(at, part.unit)}"
        yield Finding("crossing", place, f"{len(ids)} curves at one place", "two", ids, at,
                      f"{place} meet in one place, so contours touch there")
    if profile.more:
        yield Finding("crossing", part.name, "more of them", "none", (), None,
                      "more curves cross or cover each other than are named here")
    for piece in profile.detached if half is None else ():  # its holes lie in no plate yet
        yield _detached(part, profile, piece)


def _untold(strays: Sequence[str], joints: Iterable[Joint]) -> Iterator[str]:
    """Yield the strays that hang together with no gap among strays: closing it closes them."""
    beside: dict[str, set[str]] = {name: set() for name in strays}
    told: set[str] = set()
    for joint in joints:
        one, other = joint.between
        if one not in beside or other not in beside:
            continue
        if joint.state in {"gap", "overrun"}:
            told |= {one, other}
        else:
            beside[one].add(other)
            beside[other].add(one)
    waiting = list(told)
    while waiting:
        fresh = beside[waiting.pop()] - told
        told |= fresh
        waiting += fresh
    yield from (name for name in strays if name not in told)


def _detached(part: Part, profile: Profile, piece: Detached) -> Finding:
    """One finding for each piece, whatever lies in it."""
    unit = part.unit
    width, height = piece.size
    size = (f"Ø{length(piece.diameter, unit)}"
            if piece.diameter else f"{bare_length(width, unit)} x {length(height, unit)}")
    inner = len(piece.contours) - 1
    if inner:
        size += f" with {plural(inner, 'contour')} in it"
    lies = f"inside the hole {some(piece.within)}" if piece.within else "off the plate"
    remedy = "move it or make it layout"
    if piece.copied:
        remedy = "it is an image of the plate itself" + (
            "; bring the half up to its axis" if part.mirrors else "")
    place = spot(piece.at, unit)
    ids = tuple(name for k in piece.contours for name in profile.loops[k].ids)
    return Finding(
        "detached", f"{some(piece.ids)} at {place}", f"{size} {lies}", "one plate and its holes",
        ids, piece.at,
        f"{some(piece.ids)}, {size} at {place}, lies {lies} and is neither cut nor counted; "
        f"{remedy}",
    )


def symmetry_findings(part: Part, symmetries: Iterable[Symmetry]) -> Iterator[Finding]:
    """Yield curves that cross the axis that reflects them."""
    for symmetry in symmetries:
        for name in symmetry.crossing:
            yield Finding(
                "axis-crossing", f"{name} across {symmetry.axis}", "on both sides of the axis",
                "on one side, or its own reflection", (name, symmetry.axis), None,
                f"{name} runs across the axis {symmetry.axis} and so across its own reflection",
            )


def _of_binding(part: Part, of: Sequence[str]) -> XY | None:
    """A place to look at for what a binding binds: the middle of its points."""
    curves = part.curves
    names = [p for name in of for p in (curves[name].points if name in curves else (name,))]
    at = [part.points[name] for name in names if name in part.points]
    if not at:
        return None
    return (sum(x for x, _ in at) / len(at), sum(y for _, y in at) / len(at))
