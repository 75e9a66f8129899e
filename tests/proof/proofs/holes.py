"""The list of holes has every round hole of the cutting file once, at its place and size.

Random plates, some turned, with holes, slots, patterns and reflections, from a random zero along a
random way. Zero and way are two points that the part's own file fixes; the circles are read by
ezdxf. Neither knows what the list was made from.
"""

from __future__ import annotations

import csv
import io
import json
from itertools import pairwise
from math import dist

import ezdxf

from tests.proof.command import command
from tests.proof.plates import sound_plate
from tests.proof.proof import Proof
from tests.proof.tally import Case

NEAR = {"mm": 2e-3, "in": 2e-4}
"""Last digits of the list: half of one in X, Y and zero each, and some rounding of the file."""


def one_list(case: Case) -> None:
    plate = sound_plate(case.random)
    tree = plate.tree()
    path, cut, out = (case.folder / name for name in ("p.profile.json", "c.dxf", "h.csv"))
    path.write_text(json.dumps(tree), encoding="utf-8")
    fixed = [b["of"][0] for b in tree["bindings"].values() if b["kind"] == "fixed"]
    zero, other = case.random.sample(sorted(set(fixed)), 2)
    said = command("export", path, "--cut", cut, "--holes", out, "--zero", zero,
                   "--along", f"{zero},{other}")
    how = f"case {case.number}: {tree['name']}"
    if said.status or said.err:
        case.tally.fault("not written", f"{how}: {said.status}: {said.err}")
        return
    rows = list(csv.DictReader(io.StringIO(out.read_text(encoding="utf-8-sig"), newline="")))
    rows = [row for row in rows if row["kind"] != "bolt circle"]
    unit = tree["unit"]
    (x0, y0), (x1, y1) = tree["points"][zero], tree["points"][other]
    length = dist((x0, y0), (x1, y1))
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
    cutting = [e for e in ezdxf.readfile(cut).modelspace() if e.dxf.layer == "INSIDE"]
    left = [((e.dxf.center.x, e.dxf.center.y), 2.0 * e.dxf.radius) for e in cutting
            if e.dxftype() == "CIRCLE"]
    slots = sum(e.dxftype() == "LWPOLYLINE" and any(bulge for *_, bulge in e.get_points("xyb"))
                for e in cutting)  # the square ones among the plates' holes are no slots
    for row in rows:
        case.tally.count("holes")
        if row["kind"] != "hole":
            slots -= 1
            continue
        x, y = float(row[f"X ({unit})"]), float(row[f"Y ({unit})"])
        at = (x0 + ux * x - uy * y, y0 + uy * x + ux * y)
        width = float(row[f"diameter or width ({unit})"])
        found = [one for one in left if dist(one[0], at) < NEAR[unit]
                 and abs(one[1] - width) < NEAR[unit]]
        if not found:
            case.tally.fault("off", f"{how}: {row['name']} at {at}, {width}")
            continue
        case.tally.worst(f"distance off, {unit}", dist(found[0][0], at))
        left.remove(found[0])
    if left or slots:
        case.tally.fault("missing", f"{how}: {len(left)} holes, {slots} slots of {len(cutting)}")
    letters = [row["name"].rstrip("0123456789") for row in rows]
    runs = sum(one != two for one, two in pairwise(letters))
    if len({row["name"] for row in rows}) < len(rows) or runs >= max(1, len(set(letters))):
        case.tally.fault("mixed", f"{how}: {[row['name'] for row in rows]}")


PROOF = Proof(
    name="holes",
    says="the list of holes has every hole of the cutting file once, within its last digit, one "
         "drill after the other",
    tried="holes",
    faults=("not written", "off", "missing", "mixed"),
    whole=300, short=4, case=one_list, minutes=2.0,
)
