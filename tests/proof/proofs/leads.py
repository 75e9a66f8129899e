"""Every lead-in is clear of the part and meets its contour smoothly; what is refused has no room.

Random plates, plates full of holes and demo parts, in both units, for laser, plasma and neither,
with and without an offset for the kerf, with lengths of every size. The judge
(`tests/lead_checker.py`) lays chords of a fifth of a degree and asks shapely.
"""

from __future__ import annotations

import json
from dataclasses import replace

import numpy as np

from sketcher.errors import ExportError
from sketcher.inspect.inspection import Inspection, inspect_part
from sketcher.inspect.sketched import solve_sketch
from sketcher.part.file_text import read
from sketcher.part.store import load
from sketcher.shop.cut_plan import CutPlan, CutSettings
from sketcher.shop.planning import plan_cut
from tests import hole_plates
from tests.demo_parts import SOUND
from tests.lead_checker import found_place, lead_faults, part_of, tab_faults
from tests.proof.plates import sound_plate
from tests.proof.proof import Proof
from tests.proof.tally import Case

START_MM = {"laser": 0.2, "plasma": 1.5, None: 0.0}
"""Kerf where none is set (common practice, no source)."""
TAB_MM = {"laser": 1.0, "plasma": 4.0}
"""Width of a tab where none is given (common practice, no source)."""
LOOSE = ("loose",)
"""The plates full of holes have no bindings to hold them in their place."""
SOUGHT = 0.25
"""Share of the refusals that a fine search is put to: it takes a second."""


def one_plan(case: Case) -> None:
    inspection = some_part(case)
    unit = inspection.part.unit
    chosen = some_settings(case, 25.4 if unit == "in" else 1.0)
    how = f"case {case.number}: {inspection.part.name}"
    case.tally.count("plans")
    try:
        bare = plan_cut(inspection, replace(chosen, lead=None, tabs=0), LOOSE)
    except ExportError as refused:
        case.tally.count("contours that the kerf closes")
        if "cannot be cut with a kerf" not in refused.problem:
            case.tally.fault("not planned", f"{how}: {refused}")
        return
    try:
        plan = plan_cut(inspection, chosen, LOOSE)
    except ExportError as refused:
        judge_refusal(case, how, bare, chosen, refused)
        return
    case.tally.count("leads", len(plan.paths))
    judge(case, how, plan, bare)


def some_part(case: Case) -> Inspection:
    """A random plate, one full of holes or a demo part, of some thickness."""
    kind = case.number % 4
    if kind == 0:
        part = hole_plates.plate(case.random.randrange(10**6))
    elif kind == 1:
        part = load(case.random.choice(SOUND))
    else:
        tree = sound_plate(case.random).tree()
        part = read(json.dumps(tree))
    unit = 25.4 if part.unit == "in" else 1.0
    thickness = case.random.choice((0.5, 1.0, 2.0, 3.0, 6.0, 12.0)) / unit
    part = part.having(material=replace(part.material, thickness=thickness))
    solution = solve_sketch(part)
    return inspect_part(solution.part, solution.report)


def some_settings(case: Case, unit: float) -> CutSettings:
    """Process, kerf, lead and tabs of any kind; `unit` is in mm."""
    random = case.random
    process = random.choice(("laser", "plasma", None))
    kerf = random.choice((0.0, START_MM[process], random.uniform(0.1, 2.5))) / unit
    lead = random.choice(("auto", "auto", random.uniform(0.5, 15.0) / unit))
    tabs = random.randint(0, 5)
    wide = random.choice((None, random.uniform(0.5, 6.0) / unit)) if process else 1.0 / unit
    return CutSettings(process=process, kerf=kerf, lead=lead, tabs=tabs, tab_width=wide)


def width_of(plan: CutPlan) -> float:
    """The kerf that is set, else where it begins by the process."""
    start = START_MM[plan.settings.process] / (25.4 if plan.unit == "in" else 1.0)
    return plan.settings.kerf or start


def judge(case: Case, how: str, plan: CutPlan, bare: CutPlan) -> None:
    """Every lead and every tab of a plan."""
    solid, width, chosen = part_of(plan.finished), width_of(plan), plan.settings
    unit = 25.4 if plan.unit == "in" else 1.0
    wide = chosen.tab_width or TAB_MM.get(chosen.process, 0.0) / unit
    before = {path.contour.ids[0]: path.contour for path in bare.paths}
    if len(plan.paths) != len(bare.paths):
        case.tally.fault("bad lead", f"{how}: {len(plan.paths)} paths")
    for path in plan.paths:
        own = next((one for one in before.values() if set(path.contour.ids) <= set(one.ids)), None)
        for fault in lead_faults(path, solid, chosen.kerf, width, own):
            case.tally.fault("bad lead", f"{how}: {fault}")
        if not path.contour.hole:
            case.tally.count("tabs", len(path.tabs))
            lead = sum(curve.length for curve in path.lead_in)
            for fault in tab_faults(path, chosen.tabs, wide + width, lead):
                case.tally.fault("bad tab", f"{how}: {fault}")


def judge_refusal(
    case: Case, how: str, bare: CutPlan, chosen: CutSettings, refused: ExportError
) -> None:
    """A refusal names a contour and a remedy, and a fine search finds no place there either."""
    named = refused.place.split()[-1]
    contour = next((path.contour for path in bare.paths if named in path.contour.ids), None)
    if contour is None or not refused.remedy:
        case.tally.fault("not named", f"{how}: {refused}")
        return
    if refused.place.startswith("tab "):
        case.tally.count("tabs without a place")
        return
    case.tally.count("leads without a place")
    if case.random.random() > SOUGHT:
        return
    unit = 25.4 if bare.unit == "in" else 1.0
    width = width_of(bare)
    most = chosen.lead
    if not isinstance(most, float):
        kerfs = 2.0 if chosen.kerf else 2.5
        most = max(bare.thickness, 3.0 / unit, kerfs * width)
    lengths = [most] if chosen.lead != "auto" else list(np.linspace(0.1, 1.0, 13) * most)
    lengths = [one for one in lengths if chosen.kerf or one > 1.5 * width]
    case.tally.count("of them sought after")
    place = found_place(contour, part_of(bare.finished), chosen.kerf, width, lengths)
    if place is not None:
        case.tally.fault("refused with room", f"{how}: {refused.place}: from {place}")


PROOF = Proof(
    "leads", "the leads and tabs of 400 plans are clear of the part (shapely); refused is what has "
    "no room", "plans", ("not planned", "bad lead", "bad tab", "not named", "refused with room"),
    whole=400, short=2, case=one_plan, minutes=8.0,
)
