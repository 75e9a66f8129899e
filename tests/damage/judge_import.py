"""Judges an import by its written files alone."""

from __future__ import annotations

import json
from dataclasses import replace
from math import atan2, degrees, dist
from pathlib import Path
from typing import Any

import numpy as np
import shapely

from sketcher.part.store import content, load
from tests.damage.original import Original, chained, outline
from tests.damage.shown_strokes import shown
from tests.damage.sizes import Feature, Said, Tree, feature, said, same
from tests.damage.spoiled_dxf import spoiled, write
from tests.damage.strokes import (
    At,
    Bow,
    Ring,
    Spoiled,
    Straight,
    Stroke,
    carried,
    lines_of,
    turned,
)
from tests.damage.symmetries import (
    FINE,
    MOST_APART,
    Motion,
    apart,
    group,
    mirrors,
    reflection,
    region,
)
from tests.damage.taking import Import, inspected_file, taken_in
from tests.damage.verdict import Verdict
from tests.damage.ways import called

FINE_NOISE = 1e-3
"""Millimetres: up to here all must come back round."""
ROUND_SHARE, CHOSEN_SHARE = 0.95, 0.8


def judged(origin: Original, recipe: tuple[str, ...], folder: Path) -> Verdict:
    """Spoil a part, take it in and judge what was written."""
    verdict = Verdict(f"{origin.name} {called(recipe)}")
    drawing = spoiled(origin, recipe)
    stem = folder / f"{origin.name}-{called(recipe)}"
    path, out = stem.with_suffix(".dxf"), Path(f"{stem}.profile.json")
    write(drawing, path)
    found = taken_in(path, out)
    verdict.code, verdict.seconds = found.code, found.seconds
    if found.traceback:
        verdict.fault("traceback", found.said[-200:])
        return verdict
    verdict.asked = tuple(each["option"] for each in found.record.get("questions", []))
    if drawing.header != "":
        found = _unit(verdict, drawing, found, path, out)
    if found.code != 0:
        why = found.said or str([part["findings"] + [f["text"] for f in part["faults"]]
                                 for part in found.record.get("parts", [])])
        verdict.fault("exit", f"{found.code} {found.record.get('questions', '')} {why}"[:400])
    parts = found.record.get("parts", [])
    if len(parts) != 1:
        verdict.fault("parts", f"{len(parts)} of 1")
        return verdict
    Judge(origin, drawing, shown(path), parts[0], verdict).all()
    return verdict


def _unit(verdict: Verdict, drawing: Spoiled, found: Import, path: Path, out: Path) -> Import:
    """A header that lies or is silent: the right unit or a question, never the wrong one."""
    right = found.record.get("unit", {}).get("value") == drawing.unit
    asks = "--unit" in verdict.asked
    if asks:
        if found.code != 1:
            verdict.fault("exit", f"{found.code} with a question open")
        return taken_in(path, out, "--unit", drawing.unit)
    if not right or found.record["unit"]["factor"] != 1.0:
        verdict.fault("unit", str(found.record.get("unit")))
        return taken_in(path, out, "--unit", drawing.unit)
    return found


class Judge:
    """One written part against what it began as."""

    def __init__(self, origin: Original, drawing: Spoiled, drawn: list[Stroke],
                 part: dict[str, Any], verdict: Verdict) -> None:
        self.origin, self.drawing, self.part, self.verdict = origin, drawing, part, verdict
        self.drawn = drawn
        self.tree: Tree = json.loads(Path(part["file"]).read_text(encoding="utf-8"))
        self.meant: Tree = json.loads(content(origin.part, "meant.profile.json"))
        size = origin.perimeter / 4.0
        self.reach = max(30.0 * drawing.error + drawing.chorded * 0.5, 1e-6 * size)
        place = part["place"]
        back = -drawing.turn
        shift = turned((place["origin"][0] - drawing.shift[0],
                        place["origin"][1] - drawing.shift[1]), back)
        self.turn, self.shift = place["turn"] + back, shift
        self.strokes = [carried(each, place["turn"], tuple(place["origin"]))
                        for each in outline(load(part["file"]))]
        self.level = turned((1.0, 0.0), self.turn)
        self.fine = drawing.noise <= FINE_NOISE * drawing.millimetre * 1.001 and (
            drawing.loosened <= FINE_NOISE * drawing.millimetre)

    def all(self) -> None:
        """Judge everything."""
        self.bindings()
        if self.shape():
            self.radii()
            self.axes()
            self.patterns()
            self.values()

    def bindings(self) -> None:
        """No freedom, nothing redundant, sound: by the command that inspects."""
        seen = inspected_file(self.part["file"])
        self.verdict.freedoms = seen["freedoms"]
        self.verdict.doubled = len(seen["doubled"])
        if seen["freedoms"] != 0 or self.part["freedoms"] != seen["freedoms"]:
            self.verdict.fault("freedoms", f"{seen['freedoms']}, told {self.part['freedoms']}")
        if seen["doubled"]:
            self.verdict.fault("doubled", str(seen["doubled"]))
        if not seen["sound"]:
            self.verdict.fault("unsound", str(self.part["findings"] or seen.get("findings"))[:300])

    def shape(self) -> bool:
        """Outline and area; whether it is near enough to go on."""
        v, origin, drawing = self.verdict, self.origin, self.drawing
        fine = 2e-9 * origin.perimeter
        meant = [carried(each, drawing.turn, drawing.shift) for each in origin.strokes]
        written = lines_of(self.strokes, fine)
        v.off = _apart(written, lines_of(meant, fine))
        v.told = self.part["largest_move"]
        drawn = lines_of(self.drawn, fine)
        v.move = _apart(written, drawn)
        if v.move > v.told + 2.0 * fine:
            v.fault("move", f"{v.move:.3g}, told {v.told:.3g}")
        try:
            loops = chained(self.strokes, 1e-7 * origin.perimeter)
        except (AssertionError, ValueError) as error:
            v.fault("open", str(error)[:100])
            return v.off < self.reach
        area = replace(origin, loops=loops).area
        # a chord that was drawn for an arc is not meant to stay; its ends lie on the arc
        error = drawing.error + (2.0 * 10.0 ** -drawing.decimals if drawing.chorded else 0.0)
        allowed = origin.perimeter * max(error, 1e-9)  # nine decimals where a value is not round
        if not self.part["not_round"] and not v.wrong:
            allowed = min(allowed, max(1e-9 * origin.area, 1e-9)) if self.fine else allowed
        v.area = abs(area - origin.area) / allowed
        if v.area > 1.0:
            v.fault("area", f"off by {area - origin.area:.3g}, allowed {allowed:.2g}")
        if abs(area - self.part["area"]) > 1e-9 * area:
            v.fault("area told", f"{self.part['area']!r}, is {area!r}")
        if len(loops) != len(origin.loops):
            v.fault("contours", f"{len(loops)} of {len(origin.loops)}")
        if v.off > self.reach:
            v.fault("place", f"outline {v.off:.3g} from what was meant")
        return v.off <= 10.0 * self.reach

    def home(self, at: At) -> At:
        """A place of the written part where the original has it."""
        return turned(at, self.turn, self.shift)

    def radii(self) -> None:
        """Every round of the outline with its exact radius."""
        back = [carried(s, 0.0, (-self.drawing.shift[0], -self.drawing.shift[1]))
                for s in self.strokes]
        mine = [carried(s, -self.drawing.turn, (0.0, 0.0)) for s in back]
        wanted, exact, lost = _rounds(self.origin.strokes), 0, []
        for center, radius in wanted:
            near = [r for c, r in _rounds(mine) if dist(c, center) < self.reach
                    and abs(r - radius) < self.reach]
            if not near:
                lost.append(f"r {radius:.4g} at ({center[0]:.4g}, {center[1]:.4g})")
            exact += any(abs(r - radius) < 1e-9 * max(radius, 1.0) for r in near)
        self.verdict.radii = (exact, len(wanted))
        if lost:
            self.verdict.fault("rounds lost", f"{len(lost)}: {'; '.join(lost[:4])}")

    def axes(self) -> None:
        """Every line of symmetry found, and none that is not one."""
        wanted = mirrors(self.origin)
        shape = region(self.origin.loops, FINE * self.origin.perimeter)
        found = [(self.home(tuple(each["start"])), self.home(tuple(each["end"])))
                 for each in self.part["axes"]]
        seen = 0
        for a, b in wanted:
            angles = [abs((_angle(a, b) - _angle(*axis) + 90.0) % 180.0 - 90.0) for axis in found]
            if angles and min(angles) < 0.02:
                seen += 1
            else:
                self.verdict.fault("axis", f"at {_angle(a, b) % 180.0:.3f}° not found")
        self.verdict.axes = (seen, len(wanted))
        for axis in found:
            differs = apart(shape, reflection(*axis))
            if differs > MOST_APART + 2.0 * self.origin.perimeter * (
                    self.drawing.error + 1e-6) / self.origin.area:
                self.verdict.fault("wrong axis", f"{_angle(*axis):.3f}°, differs by {differs:.2g}")

    def patterns(self) -> None:
        """Every pattern of the original, by kind and count."""
        mine = [(each["kind"], int(_product(each["count"]))) for each in self.part["patterns"]]
        wanted = [(each["kind"], int(_product(each["count"])))
                  for each in self.meant.get("patterns", {}).values()]
        seen = sum(each in mine for each in wanted)
        self.verdict.patterns = (seen, len(wanted))
        if seen < len(wanted):
            self.verdict.fault("pattern", f"{wanted}, found {mine}")

    def values(self) -> None:
        """Round ones, those of the paper, wrong ones."""
        v = self.verdict
        odd = set(self.part["not_round"])
        rows = [(name, each) for name, each in self.tree["bindings"].items()
                if each.get("value") is not None and each.get("drives", True)]
        v.round = (sum(name not in odd for name, _ in rows), len(rows))
        judged: list[Said] = []
        for name, each in rows:
            of = tuple(self._home(feature(self.tree, word)) for word in each["of"])
            told = said(each["kind"], of, self.level)
            if told is None:
                continue
            judged += [told, *self._equal_to(each)]
            if name in odd:
                continue
            truth = self.truth(each["kind"], of)
            if truth is None:
                v.unjudged += 1
            elif self._differ(told, truth):
                v.wrong += 1
                v.fault("wrong value", f"{name} {each['kind']} {each['of']} = {each['value']}, "
                        f"was {truth.value:.9g}")
        self._chosen(judged)
        if self.fine and v.round[0] < ROUND_SHARE * v.round[1]:
            v.fault("round", f"{v.round[0]} of {v.round[1]}: " + ", ".join(
                f"{n} {e['kind']} {e['value']}" for n, e in rows if n in odd)[:300])

    def _equal_to(self, each: dict[str, Any]) -> list[Said]:
        """What the same value says of the features that are bound to be equal to its own."""
        if len(each["of"]) != 1:
            return []
        reached = set(each["of"])
        pairs = [set(b["of"]) for b in self.tree["bindings"].values() if b["kind"] == "equal"]
        for _ in pairs:
            for pair in pairs:
                if pair & reached:
                    reached |= pair
        found = [said(each["kind"], (self._home(feature(self.tree, word)),), self.level)
                 for word in reached - set(each["of"])]
        return [one for one in found if one]

    def _differ(self, told: Said, truth: Said) -> bool:
        """More than the digits of a double and of a conversion allow."""
        return abs(told.value - truth.value) > 1e-7 * max(1.0, abs(truth.value)) + 1e-9

    def _chosen(self, judged: list[Said]) -> None:
        """Dimensions of the paper that are there, on these features or an image of them."""
        v, reach = self.verdict, max(10.0 * self.drawing.error, 1e-6)
        images = group(self.origin)
        number = total = 0
        for name, each in self.meant["bindings"].items():
            if each.get("value") is None or not each.get("drives", True):
                continue
            of = tuple(feature(self.meant, word) for word in each["of"])
            total += 1
            for motion in images:
                there = said(each["kind"], tuple(_moved(f, motion) for f in of),
                             _turned_only(motion))
                if there is None or any(same(there, mine, reach) for mine in judged):
                    number += 1
                    break
            else:
                v.missed.append(f"{name} {each['kind']} {','.join(each['of'])} = {each['value']}")
        v.chosen = (number, total)
        if self.fine and number < CHOSEN_SHARE * total:
            v.fault("chosen", f"{number} of {total}; missed {'; '.join(v.missed)}"[:500])

    def _home(self, each: Feature) -> Feature:
        return Feature(tuple(self.home(at) for at in each.points), each.radius)

    def truth(self, kind: str, of: tuple[Feature, ...]) -> Said | None:
        """What a dimension says of the original's features that are nearest to its own."""
        found = [self.nearest(each) for each in of]
        if any(each is None for each in found):
            return None
        exact = _snapped(self.level, self.origin)
        return said(kind, tuple(found), exact)  # type: ignore[arg-type]

    def nearest(self, each: Feature) -> Feature | None:
        """The original's feature that lies nearest, if one is within reach."""
        if each.kind == "line":
            return _nearest_line(each, self.origin.strokes, self.reach) or self._by_ends(each)
        if each.kind == "round":
            return min((Feature((c,), r) for c, r in _rounds(self.origin.strokes)
                        if dist(c, each.points[0]) + abs(r - each.radius) < self.reach),
                       key=lambda f: dist(f.points[0], each.points[0]), default=None)
        at = min(self.places(), key=lambda p: dist(p, each.points[0]))
        return Feature((at,)) if dist(at, each.points[0]) < self.reach else None

    def _by_ends(self, line: Feature) -> Feature | None:
        ends = [self.nearest(Feature((at,))) for at in line.points]
        if None in ends:
            return None
        return Feature(tuple(each.points[0] for each in ends if each))

    def places(self) -> list[At]:
        """Points of the original: ends, centers, its own points and images, lost corners."""
        if not hasattr(self, "_places"):
            strokes = self.origin.strokes
            found: list[At] = [at for s in strokes if not isinstance(s, Ring) for at in (s.a, s.b)]
            found += [center for center, _ in _rounds(strokes)]
            found += [m(tuple(at)) for at in self.meant["points"].values()
                      for m in group(self.origin)]
            lines = [s for s in strokes if isinstance(s, Straight)]
            found += [at for k, one in enumerate(lines) for other in lines[k + 1:]
                      if (at := _crossing(one, other))]
            self._places = found
        return self._places


def _rounds(strokes: list[Stroke] | tuple[Stroke, ...]) -> list[tuple[At, float]]:
    return [(s.center, s.radius) for s in strokes if isinstance(s, Ring | Bow)]


def _apart(one: shapely.Geometry, other: shapely.Geometry) -> float:
    """Greatest distance of a vertex of either from the other.

    Both are in fine chords, so that the vertices stand for the whole; lines are cut in pieces.
    """
    found = 0.0
    for mine, its in ((one, other), (other, one)):
        vertices = shapely.get_coordinates(shapely.segmentize(mine, 0.01 * mine.length))
        pieces = shapely.STRtree([shapely.LineString(pair) for pair in _pairs(its)])
        _, away = pieces.query_nearest(shapely.points(vertices), return_distance=True,
                                       all_matches=False)
        found = max(found, float(away.max()))
    return found


def _pairs(lines: shapely.Geometry) -> np.ndarray:
    """The single chords of all lines, shape (chords, 2, 2)."""
    return np.concatenate([np.stack([at[:-1], at[1:]], axis=1) for at in
                           map(shapely.get_coordinates, shapely.get_parts(lines))])


def _angle(a: At, b: At) -> float:
    return degrees(atan2(b[1] - a[1], b[0] - a[0]))


def _product(count: Any) -> float:
    if isinstance(count, list):
        total = 1
        for each in count:
            total *= each
        return total
    return float(count)


def _moved(each: Feature, motion: Motion) -> Feature:
    return Feature(tuple(motion(at) for at in each.points), each.radius)


def _turned_only(motion: Motion) -> At:
    """Where a motion carries the x direction."""
    return motion.matrix[0], motion.matrix[2]


def _snapped(level: At, origin: Original) -> At:
    """The original's own direction that is meant: x, a line, or an axis, or square to one."""
    ways: list[At] = [(1.0, 0.0)]
    lines = [(s.a, s.b) for s in origin.strokes if isinstance(s, Straight)] + mirrors(origin)
    for a, b in lines:
        long = dist(a, b)
        ways.append(((b[0] - a[0]) / long, (b[1] - a[1]) / long))
    ways += [(-u[1], u[0]) for u in ways]
    ways += [(-u[0], -u[1]) for u in ways]
    near = min(ways, key=lambda u: dist(u, level))
    return near if dist(near, level) < 1e-3 else level


def _nearest_line(line: Feature, strokes: tuple[Stroke, ...], reach: float) -> Feature | None:
    """The line of the outline on whose infinite line both ends lie."""
    best, found = reach, None
    for s in strokes:
        if isinstance(s, Straight):
            long = dist(s.a, s.b)
            off = max(abs((s.b[0] - s.a[0]) * (p[1] - s.a[1]) - (s.b[1] - s.a[1]) * (p[0] - s.a[0]))
                      / long for p in line.points)
            if off < best:
                best, found = off, Feature((s.a, s.b))
    if found is None:
        return None
    (ax, ay), (bx, by) = found.points
    ux, uy = (bx - ax) / dist(*found.points), (by - ay) / dist(*found.points)

    def foot(p: At) -> At:
        along = (p[0] - ax) * ux + (p[1] - ay) * uy
        return ax + along * ux, ay + along * uy

    return Feature(tuple(foot(p) for p in line.points))


def _crossing(one: Straight, other: Straight) -> At | None:
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = one.a, one.b, other.a, other.b
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    cross = ux * vy - uy * vx
    if abs(cross) < 1e-3 * dist(one.a, one.b) * dist(other.a, other.b):
        return None
    t = ((cx - ax) * vy - (cy - ay) * vx) / cross
    return ax + t * ux, ay + t * uy
