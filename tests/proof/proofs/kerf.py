"""Every contour is cut along its buffer by half of the kerf, or refused where shapely closes it.

Random plates and the sound demo parts, written at nominal size and with a kerf: the usual ones, and
those near the width of a hole or the radius of a fillet of the plate. GDAL reads both files;
shapely's buffer of the nominal contour has to be the other one. Where the buffer vanishes, falls
into several or closes up, the export must be refused, and elsewhere it must not: but for a notch
that is lost from a contour in one piece, which shows as more than a corner's rest between the
contour and what a cutter of that width leaves of it.
"""

from __future__ import annotations

from pathlib import Path

import shapely

from tests.buffered import QUARTER, too_narrow
from tests.proof import cut_reader
from tests.proof.command import Said, command
from tests.proof.proof import Proof
from tests.proof.sound_files import sound_file
from tests.proof.tally import Case

STEP = 0.1
"""Degrees a chord: they leave an arc by 4e-7 of its radius, in both files alike."""
SAME = 1e-6
"""Share of the plate's area by which buffers and ways may differ."""
KERFS = (0.2, 1.5, 3.0, 6.0)  # mm
CORNER = 1.0
"""A lost notch takes more than so many kerfs squared; a corner's rest less: that between two edges
at 40 degrees takes 0.38 (by arithmetic, (cot a - pi/2 + a) / 4 with a = 20 degrees)."""

Contours = list[tuple[str, shapely.Polygon]]


def one_kerf(case: Case) -> None:
    path = case.folder / "part.profile.json"
    unit = sound_file(case, path)
    nominal, way = case.folder / "nominal.dxf", case.folder / "way.dxf"
    first = command("export", path, "--cut", nominal)
    if first.status:
        case.tally.fault("not cut", f"case {case.number}: {first.err}")
        return
    wanted = cut_reader.contours(nominal, STEP)
    kerf = a_kerf(case, wanted, unit)
    said = command("export", path, "--cut", way, "--kerf", repr(kerf))
    case.tally.count("cuts")
    how = f"case {case.number}: kerf {kerf!r} {unit}"
    narrow = any(too_narrow(shape, layer == cut_reader.INSIDE, kerf) for layer, shape in wanted)
    if said.status:
        refused(case, how, said, wanted, kerf, narrow, way)
    elif narrow:
        case.tally.fault("cut all the same", f"{how}: {said.out}")
    else:
        compared(case, how, wanted, cut_reader.contours(way, STEP), kerf)


def a_kerf(case: Case, wanted: Contours, unit: str) -> float:
    """A usual kerf, or a little under or over the width of a contour that was drawn."""
    if case.random.random() < 0.7:
        return case.random.choice(KERFS) * (1.0 if unit == "mm" else 0.04)
    _, shape = case.random.choice(wanted)
    x0, y0, x1, y1 = shape.bounds
    width = min(x1 - x0, y1 - y0, 12.0 if unit == "mm" else 0.5)
    return round(width * case.random.choice((0.25, 0.5, 0.98, 1.02)), 5)


def refused(case: Case, how: str, said: Said, wanted: Contours, kerf: float, narrow: bool,
            way: Path) -> None:
    """A refusal: one line, nothing written, and shapely knows why."""
    if said.status != 1 or way.exists() or len(said.lines) != 1 or "kerf of" not in said.err:
        case.tally.fault("refused badly", f"{how}: {said.status}: {said.err}")
    elif not narrow and not any(notch_lost(layer, shape, kerf) for layer, shape in wanted):
        case.tally.fault("refused without need", f"{how}: {said.err}")
    else:
        case.tally.count("refused, as shapely has it")


def notch_lost(layer: str, shape: shapely.Polygon, kerf: float) -> bool:
    """Whether more than corners is missing from what a cutter of that width makes of a contour."""
    half = -0.5 * kerf if layer == cut_reader.INSIDE else 0.5 * kerf
    made = shape.buffer(half, quad_segs=QUARTER).buffer(-half, quad_segs=QUARTER)
    rests = shapely.get_parts(made.symmetric_difference(shape))
    return any(rest.area > CORNER * kerf**2 for rest in rests)


def compared(case: Case, how: str, wanted: Contours, found: Contours, kerf: float) -> None:
    """Match each way with the buffer that it covers most, and compare."""
    area = cut_reader.material(wanted)
    left = list(found)
    off = 0.0
    for layer, shape in wanted:
        half = -0.5 * kerf if layer == cut_reader.INSIDE else 0.5 * kerf
        buffer = shape.buffer(half, quad_segs=QUARTER)
        alike = [one for one in left if one[0].startswith(layer)]
        if not alike:
            case.tally.fault("not its buffer", f"{how}: {len(found)} contours for {len(wanted)}")
            return
        best = min(alike, key=lambda one: one[1].centroid.distance(buffer.centroid))
        left.remove(best)
        off += best[1].symmetric_difference(buffer).area / area
        if not best[1].is_valid:
            case.tally.fault("not its buffer", f"{how}: {shapely.is_valid_reason(best[1])}")
    case.tally.worst("share of the area off", off)
    if off > SAME or left:
        case.tally.fault("not its buffer", f"{how}: {off:.2e} of the area, {len(left)} left over")


PROOF = Proof(
    "kerf", "cuts with a kerf are shapely's buffers, and refused where those close",
    "cuts", ("not cut", "not its buffer", "cut all the same", "refused badly",
             "refused without need"),
    whole=400, short=4, case=one_kerf, minutes=2.0,
)
