"""A cut goes inside first, by a short way, and copies keep their distance on their plate.

Random plates and the sound demo parts, alone and as copies on a plate with room for some. GDAL and
ezdxf read the file: what stands in it is what is cut, in that order. Where there are eight contours
or fewer every order that is allowed is tried by itself, and the best of them may be no more than a
twentieth shorter. What lies inside a contour has to come before it, judged by shapely, and copies
may be no nearer to each other and to the plate's edges than was asked for.
"""

from __future__ import annotations

import json
from itertools import pairwise, permutations
from math import dist

import ezdxf
import shapely

from tests.proof import cut_reader
from tests.proof.command import command
from tests.proof.proof import Proof
from tests.proof.sound_files import sound_file
from tests.proof.tally import Case

STEP = 1.0
"""Degrees a chord: they leave an arc by 4e-5 of its radius."""
FEW = 8
"""Contours of which every order is tried."""
NEAR = 1e-3
"""Part of the distance that chords, and copies reckoned a little wider, may be off."""

XY = tuple[float, float]


def one_order(case: Case) -> None:
    path, cut = case.folder / "part.profile.json", case.folder / "cut.dxf"
    unit = sound_file(case, path)
    said = command("export", path, "--cut", cut, "--json")
    how = f"case {case.number}"
    if said.status:
        case.tally.fault("not cut", f"{how}: {said.err}")
        return
    case.tally.count("cuts")
    told = json.loads(said.out)["parts"][0]["cut"]
    judge_order(case, how, cut_places(cut), cut_reader.contours(cut, STEP), told)
    if case.number % 3 == 0:
        judge_copies(case, how, unit, cut_reader.contours(cut, STEP))


def cut_places(cut: object) -> list[XY]:
    """Where each contour of a file begins, and ends."""
    found: list[XY] = []
    for entity in ezdxf.readfile(str(cut)).modelspace():
        if entity.dxftype() == "CIRCLE":
            x, y, _ = entity.dxf.center
            found.append((x + entity.dxf.radius, y))
        else:
            x, y, *_ = entity[0]
            found.append((x, y))
    return found


def way(places: list[XY]) -> float:
    return sum(dist(a, b) for a, b in pairwise(places))


def judge_order(case: Case, how: str, places: list[XY], contours: list[tuple[str, shapely.Polygon]],
                told: dict[str, float]) -> None:
    shapes = [shape for _, shape in contours]
    before = [[k for k, other in enumerate(shapes) if k != n and shape.contains(other)]
              for n, shape in enumerate(shapes)]
    if any(k > n for n, inner in enumerate(before) for k in inner):
        case.tally.fault("outside too early", how)
    travel = way(places)
    slack = 1e-9 * (1.0 + travel)
    if abs(travel - told["travel"]) > slack or travel > told["travel as drawn"] + slack:
        case.tally.fault("told wrong", f"{how}: {travel} in the file, {told}")
    if len(places) > FEW:
        return
    best = min(way([places[k] for k in row]) for row in permutations(range(len(places)))
               if all(row.index(k) < row.index(n) for n, inner in enumerate(before)
                      for k in inner))
    case.tally.count("orders tried out")
    case.tally.worst("times the best way", travel / best if best else 1.0)
    if travel > 1.05 * best + slack:
        case.tally.fault("not short", f"{how}: {travel}, the best is {best}")


def judge_copies(case: Case, how: str, unit: str,
                 alone: list[tuple[str, shapely.Polygon]]) -> None:
    x0, y0, x1, y1 = shapely.unary_union([shape for _, shape in alone]).bounds
    wide, high, between = x1 - x0, y1 - y0, (4.0 if unit == "mm" else 0.15)
    width, height = (round(side * case.random.uniform(1.6, 3.2) + 3.0 * between, 3)
                     for side in (wide, high))
    out = case.folder / "copies.dxf"
    options = ["--copies", "fill", "--plate", f"{width}x{height}", "--between", repr(between)]
    if case.random.random() < 0.3:
        options.append("--grain")
    said = command("export", case.folder / "part.profile.json", "--cut", out, *options)
    if said.status:
        case.tally.fault("no room", f"{how}: {said.err}")
        return
    contours = cut_reader.contours(out, STEP)
    outsides = [shape for layer, shape in contours if layer == cut_reader.OUTSIDE]
    boxes = int((width - between) / (wide + between)) * int((height - between) / (high + between))
    if len(contours) != len(outsides) * len(alone) or len(outsides) < boxes:
        case.tally.fault("no room", f"{how}: {len(outsides)} copies, {boxes} boxes fit")
    case.tally.count("copies", len(outsides))
    place = shapely.box(0.0, 0.0, width, height).buffer(-between * (1.0 - NEAR),
                                                        join_style="mitre")
    gaps = [one.distance(other) for k, one in enumerate(outsides) for other in outsides[:k]]
    if min(gaps, default=between) < between * (1.0 - NEAR) or not all(
            place.contains(shape) for shape in outsides):
        case.tally.fault("too near", f"{how}: {options}, {min(gaps, default=between)}")
    seen: list[shapely.Polygon] = []
    for layer, shape in contours:
        if layer != cut_reader.OUTSIDE and any(done.contains(shape) for done in seen):
            case.tally.fault("outside too early", f"{how}: {options}")
        if layer == cut_reader.OUTSIDE:
            seen.append(shape)


PROOF = Proof(
    "orders", "cuts go inside first by a short way, and copies keep their distance",
    "cuts", ("not cut", "outside too early", "told wrong", "not short", "no room", "too near"),
    whole=300, short=3, case=one_order, minutes=2.0,
)
