"""A sound part is cut with its true area, an unsound one is refused with its own code.

Even cases are sound: random plates whose area elementary formulas give, and demo parts with other
values, whose area comes from their solved points. The cutting file is read by GDAL. Odd cases have
one defect (`tests/proof/spoil.py`): exit 1, one line that names the right code, nothing written.
With every code named it is cut area-true where that may be, without what lies detached.
"""

from __future__ import annotations

import json
import re
from math import asin, hypot, pi, sin
from pathlib import Path
from typing import Any

import shapely

from tests.proof import cut_reader, paper
from tests.proof.command import command
from tests.proof.plates import sound_plate
from tests.proof.proof import Proof
from tests.proof.spoil import DEFECTS, edges
from tests.proof.tally import Case

EXACT = 1e-7
"""Share of the area by which the extrapolated reading may differ; it is good to 1e-8."""


def one_export(case: Case) -> None:
    if case.number % 2:
        refused(case)
    elif case.number % 8 == 0:
        varied_demo(case)
    else:
        plate = sound_plate(case.random)
        tree = plate.tree()
        cut(case, tree, plate.area, (plate.outside, plate.inside))


def cut(case: Case, tree: dict[str, Any], area: float, counts: tuple[int, int]) -> None:
    """Export a part that must be sound and compare what GDAL reads."""
    path, out = case.folder / "part.profile.json", case.folder / "out.dxf"
    path.write_text(json.dumps(tree), encoding="utf-8")
    said = command("export", path, "--cut", out)
    case.tally.count("exports")
    how = f"case {case.number}: {tree['name']}"
    if said.status or said.err:
        case.tally.fault("not written", f"{how}: {said.status}: {said.err}")
        return
    judge(case, how, out, area, counts, tree["unit"])


def judge(case: Case, how: str, out: Path, area: float, counts: tuple[int, int], unit: str
          ) -> None:
    """Compare a cutting file with its part: area, contours outside and inside, unit."""
    found = cut_reader.area(out)
    case.tally.worst("share of the area off", abs(found / area - 1.0))
    if abs(found - area) > EXACT * area:
        case.tally.fault("not true", f"{how}: {found!r}, not {area!r}")
    wrong = cut_reader.faults(cut_reader.contours(out, 1.0), *counts)
    if cut_reader.insunits(out) != {"mm": "4", "in": "1"}[unit]:
        wrong.append(f"unit {cut_reader.insunits(out)}")
    if wrong:
        case.tally.fault("not true", f"{how}: {'; '.join(wrong)}")


def varied_demo(case: Case) -> None:
    """A demo part with its values changed by up to 4 %, where it stays sound."""
    name = case.random.choice(list(paper.PAPERS))
    tree = paper.file_of(name)
    for values in (tree.get("parameters", {}), *(
            b for b in tree["bindings"].values() if b.get("drives", True))):
        for key in [k for k in values if k == "value" or values is tree.get("parameters")]:
            values[key] = f"({values[key]})*{case.random.uniform(0.96, 1.04):.3f}"
    for binding in [b for b, said in tree["bindings"].items() if said.get("drives") is False]:
        del tree["bindings"][binding]  # what is printed for reference would have to change too
    path, out = case.folder / "varied.profile.json", case.folder / "solved.profile.json"
    path.write_text(json.dumps(tree), encoding="utf-8")
    solved, sound = command("solve", path, "--out", out), command("inspect", path)
    if solved.status or sound.status:
        # The values do not go together; then it must not be cut.
        case.tally.count("values that do not go together")
        target = case.folder / "no.dxf"
        said = command("export", path, "--cut", target)
        if said.status == 0 or target.exists():
            case.tally.fault("cut all the same", f"case {case.number}: {name} with other values")
        case.tally.count("exports")
        return
    pieces = paper.outline(json.loads(out.read_text(encoding="utf-8")))
    area, count = enclosed(pieces)
    cut(case, tree, area, (1, count))


def enclosed(pieces: list[paper.Piece]) -> tuple[float, int]:
    """Area of one part with holes, and how many these are.

    Two chords an arc are polygonized by shapely; the segments between chord and arc follow by
    formula: an arc that bulges into the material takes its segments away, another one adds them.
    """
    lines = [shapely.LineString((p[0], p[2], p[1]) if kind == "arc" else p)
             for kind, p, _ in pieces if kind != "circle"]
    circles = [pi * radius**2 for kind, _, radius in pieces if kind == "circle"]
    net = shapely.unary_union(shapely.set_precision(lines, 1e-9))
    faces = shapely.get_parts(shapely.polygonize(list(shapely.get_parts(net))))
    rings = sorted((shapely.Polygon(face.exterior) for face in faces), key=lambda r: -r.area)
    inner = [ring for ring in rings[1:] if rings[0].contains(ring.representative_point())]
    solid = rings[0].difference(shapely.unary_union(inner))
    area = solid.area - sum(circles)
    for kind, places, radius in pieces:
        if kind == "arc":
            a, b, middle = places
            area += segment(a, middle, b, radius, solid) + segment(b, middle, a, radius, solid)
    return area, len(inner) + len(circles)


def segment(a: paper.XY, middle: paper.XY, b: paper.XY, radius: float, solid: Any) -> float:
    """Area that half an arc adds to what its chord from `a` to `middle` bounds."""
    x, y = middle[0] - a[0], middle[1] - a[1]
    chord = hypot(x, y)
    # The arc bulges away from its other end.
    away = -1e-6 if x * (b[1] - a[1]) - y * (b[0] - a[0]) > 0.0 else 1e-6
    beside = shapely.Point(0.5 * (a[0] + middle[0]) - away * y, 0.5 * (a[1] + middle[1]) + away * x)
    sweep = 2.0 * asin(chord / (2.0 * radius))
    size = 0.5 * radius**2 * (sweep - sin(sweep))
    return -size if solid.contains(beside) else size


def refused(case: Case) -> None:
    """Spoil a sound plate: inspection and export must both name what is wrong."""
    plate = sound_plate(case.random)
    while not edges(plate):
        plate = sound_plate(case.random)
    defect = DEFECTS[case.number // 2 % len(DEFECTS)]
    defect.make(plate)
    path, out = case.folder / "part.profile.json", case.folder / "out.dxf"
    path.write_text(json.dumps(plate.tree()), encoding="utf-8")
    inspected, said = command("inspect", path, "--json"), command("export", path, "--cut", out)
    case.tally.count("exports")
    case.tally.count("of unsound parts")
    how = f"case {case.number}: {defect.name}"
    if inspected.status != 1:
        case.tally.fault("called sound", f"{how}: inspect gives {inspected.status}: "
                                         f"{inspected.err}")
        return
    codes = {finding["code"] for finding in json.loads(inspected.out)["findings"]}
    named = set(re.findall(r"[a-z-]+", said.err)) & codes
    if not codes & defect.codes:
        case.tally.fault("wrong code", f"{how}: found {', '.join(sorted(codes))}")
    if said.status != 1 or out.exists() or len(list(case.folder.iterdir())) > 1:
        case.tally.fault("cut all the same", f"{how}: export gives {said.status}, "
                                             f"found {', '.join(sorted(codes))}")
    elif len(said.lines) != 1 or not named:
        case.tally.fault("wrong code", f"{how}: {said.err}")
    despite = command("export", path, "--cut", out, "--despite", ",".join(codes))
    if not defect.known and (despite.status != 1 or out.exists()):
        case.tally.fault("cut all the same", f"{how}: with every code named")
    elif defect.known and (despite.status or despite.err):
        case.tally.fault("not written", f"{how}: with every code named: {despite.err}")
    elif defect.known:
        case.tally.count("cut once their findings were named")
        judge(case, how, out, plate.area, (plate.outside, plate.inside), plate.unit)


PROOF = Proof(
    "cutting", "1,000 sound parts cut area-true (GDAL), 1,000 unsound ones refused by their code",
    "exports", ("not written", "not true", "cut all the same", "called sound", "wrong code"),
    whole=2000, short=16, case=one_export,
    minutes=3.0,
)
