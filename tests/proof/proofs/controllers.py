"""A cutting file is what a simple controller reads: R12 by a strict reader, by GDAL too.

Random plates whose area elementary formulas give, and every eighth case a demo part. Each is
written in R12 as polylines and as single lines and arcs, now and then moved to the lower left, and
in the larger form. `tests/r12_reader.py` refuses whatever is more than the least of R12; its areas,
GDAL's and the formulas' are one, the extents are the box, and the second export is the first one.

Once more it is written with kerf, lead-ins, tabs, punch marks and copies as chance will have them,
or refused in one line: the marks come first, leads meet their contours, layers carry the kerf.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from itertools import pairwise
from math import dist
from pathlib import Path
from typing import Any

from tests.proof import cut_reader, paper
from tests.proof.command import command
from tests.proof.plates import sound_plate
from tests.proof.proof import Proof
from tests.proof.proofs.cutting import enclosed
from tests.proof.tally import Case, Tally
from tests.r12_reader import Drawn, NotR12, R12File, loops_of, read_r12

EXACT = 1e-9
"""Share of the area, and of the size of a box, that strict reading may differ by: the parts are
solved, to about 1e-12 of their size."""
BY_CHORDS = 1e-7
"""The same of GDAL's extrapolated area."""
MEETS = 1e-7
"""Most gap between single lines and arcs, in the part's unit."""


def one_part(case: Case) -> None:
    path = case.folder / "part.profile.json"
    if case.number % 8 == 0:
        name = case.random.choice(list(paper.PAPERS))
        tree = paper.file_of(name)
        path.write_text(json.dumps(tree), encoding="utf-8")
        command("solve", path, "--out", case.folder / "solved.profile.json")
        solved = json.loads((case.folder / "solved.profile.json").read_text(encoding="utf-8"))
        area, inside = enclosed(paper.outline(solved))
        judge(case, path, tree, area, (1, inside))
    else:
        plate = sound_plate(case.random)
        path.write_text(json.dumps(plate.tree()), encoding="utf-8")
        judge(case, path, plate.tree(), plate.area, (plate.outside, plate.inside))


def judge(case: Case, path: Path, tree: dict[str, Any], area: float, counts: tuple[int, int]
          ) -> None:
    """Export in every form and compare what is read."""
    how = f"case {case.number}: {tree['name']}"
    moved = ["--lower-left"] * case.random.randrange(2)
    unit = tree["unit"]
    forms = {f"whole-{unit}": ["--form", "r12"], f"again-{unit}": ["--form", "r12"],
             f"single-{unit}": ["--form", "r12", "--pieces"], "larger": []}
    for name, options in forms.items():
        out = case.folder / f"{name}.dxf"
        said = command("export", path, "--cut", out, *options, *moved)
        case.tally.count("files")
        if said.status or said.err or "R12" in said.out:
            case.tally.fault("not written", f"{how}: {said.status}: {said.err} {said.out}")
            return
    whole, again, single, larger = (case.folder / f"{name}.dxf" for name in forms)
    if whole.read_bytes() != again.read_bytes():
        case.tally.fault("not the same again", how)
    try:
        found, pieces = read_r12(whole.read_bytes()), read_r12(single.read_bytes())
        loops = loops_of(pieces.entities, MEETS)
    except (NotR12, UnicodeDecodeError) as error:
        case.tally.fault("not read", f"{how}: {error}")
        return
    wrong = [*chosen(case, path, how), *wrong_in(found, area, counts, unit, case.tally),
             *lower_left(found, bool(moved))]
    if len(loops) != sum(counts):
        wrong.append(f"{len(loops)} loops of single pieces, not {sum(counts)}")
    if any(abs(a - b) > EXACT * span(found) for a, b in zip(found.box, pieces.box, strict=True)):
        wrong.append(f"single pieces fill {pieces.box}, not {found.box}")
    for file in (whole, larger):
        chords = cut_reader.area(file)
        if abs(chords - area) > BY_CHORDS * area:
            wrong.append(f"GDAL finds {chords!r} in {file.name}, not {area!r}")
    if wrong:
        case.tally.fault("not true", f"{how}: {'; '.join(wrong)}")


def chosen(case: Case, path: Path, how: str) -> list[str]:
    """Export with settings as chance will have them; what is wrong with the file."""
    roll, out = case.random, case.folder / "chosen.dxf"
    kerf = roll.choice(("", "0.2", "1.5"))
    process = roll.choice(("laser", "plasma"))
    wishes = [("--kerf", f"{kerf}mm")] if kerf else []
    wishes += [("--lead", "auto")] if roll.random() < 0.7 else []
    wishes += [("--tabs", str(roll.randint(1, 4)))] if roll.random() < 0.3 else []
    wishes += [("--mark", roll.choice(("point", "cross", "circle")))]
    wishes += [("--copies", "2"), ("--plate", "6000mmx6000mm")] if roll.random() < 0.3 else []
    words = [word for wish in wishes for word in wish]
    how = f"{how}: {process} {' '.join(words)}"
    said = command("export", path, "--cut", out, "--form", "r12", "--process", process, *words)
    case.tally.count("files")
    if said.status == 1 and len(said.lines) == 1 and not out.exists():
        case.tally.count("settings refused")
        return []
    if said.status or said.err:
        case.tally.fault("not written", f"{how}: {said.status}: {said.err}")
        return []
    case.tally.count("with settings")
    try:
        found = read_r12(out.read_bytes())
    except (NotR12, UnicodeDecodeError) as error:
        case.tally.fault("not read", f"{how}: {error}")
        return []
    return [f"{how}: {wrong}" for wrong in (*out_of_order(found), *unlike_extents(found),
                                            *wrong_layers(found, kerf))]


def out_of_order(found: R12File) -> Iterator[str]:
    """Marks come first; a lead meets the contour that it goes with."""
    layers = [each.layer for each in found.entities]
    marks = layers.count("MARK")
    if "MARK" in layers[marks:]:
        yield "a mark comes after a contour"
    drawn = found.entities[marks:]
    for before, after in pairwise(drawn):
        if (before.layer == "LEAD") and (after.layer != "LEAD") and apart(before, after) > MEETS:
            yield f"a lead-in ends {apart(before, after)} off its contour"
    for number, each in enumerate(drawn[1:], 1):
        ahead = drawn[number + 1].layer if number + 1 < len(drawn) else "LEAD"
        lead_out = each.layer == ahead == "LEAD" != drawn[number - 1].layer
        if lead_out and apart(drawn[number - 1], each) > MEETS:
            yield f"a lead-out begins {apart(drawn[number - 1], each)} off its contour"


def apart(before: Drawn, after: Drawn) -> float:
    """Distance from where one entity ends to where the next begins."""
    return dist(before.segments[-1][1], after.segments[0][0])


def wrong_layers(found: R12File, kerf: str) -> Iterator[str]:
    """Contours stand on layers with the kerf's name, in the unit of the file."""
    names = {each.layer for each in found.entities} - {"MARK", "LEAD"}
    plain = {"INSIDE", "OUTSIDE"}
    if kerf and any("_KERF_" not in name for name in names):
        yield f"no kerf on {sorted(names)}"
    if kerf and not any("do not offset it again" in line for line in found.comments):
        yield f"no kerf in {found.comments}"
    if not kerf and not names <= plain:
        yield f"layers {sorted(names)}"


def wrong_in(
    found: R12File, area: float, counts: tuple[int, int], unit: str, tally: Tally
) -> list[str]:
    """What is wrong with polylines and circles: area, number, direction, extents, unit."""
    outside, inside = on(found, "OUTSIDE"), on(found, "INSIDE")
    wrong = []
    if (len(outside), len(inside)) != counts or len(found.entities) != sum(counts):
        wrong.append(f"{len(outside)} outside and {len(inside)} inside, not {counts}")
    if not all(each.closed for each in found.entities):
        wrong.append("a contour is open")
    if any(each.area > 0.0 for each in outside) or any(each.area < 0.0 for each in inside):
        wrong.append("a contour runs the wrong way")
    measured = -sum(each.area for each in found.entities)
    tally.worst("share of the area off", abs(measured / area - 1.0))
    if abs(measured - area) > EXACT * area:
        wrong.append(f"encloses {measured!r}, not {area!r}")
    wrong += unlike_extents(found)
    if f"unit {unit}" not in found.comments:
        wrong.append(f"no unit in {found.comments}")
    return wrong


def unlike_extents(found: R12File) -> Iterator[str]:
    """The extents are the box of what is drawn."""
    extents = (*found.low, *found.high)
    if any(abs(a - b) > EXACT * span(found) for a, b in zip(extents, found.box, strict=True)):
        yield f"extents {extents}, and it fills {found.box}"


def lower_left(found: R12File, moved: bool) -> list[str]:
    """Moved, it begins at zero."""
    away = moved and max(map(abs, found.box[:2])) > EXACT * span(found)
    return [f"begins at {found.box[:2]}"] if away else []


def on(found: R12File, layer: str) -> list[Drawn]:
    """The entities of a layer."""
    return [each for each in found.entities if each.layer == layer]


def span(found: R12File) -> float:
    """Larger side of the box."""
    x0, y0, x1, y1 = found.box
    return max(x1 - x0, y1 - y0)


PROOF = Proof(
    "controllers", "a cutting file in R12: read by a strict reader, area and box true, "
                   "the same byte for byte again",
    "files", ("not written", "not read", "not true", "not the same again"),
    whole=200, short=3, case=one_part,
)
