"""What each curve of a hand-in is for: by its layer's name, its line, and how it hangs together.

A class agrees on its layers once (`Rubric.layers`); what it did not agree on is read from names in
several languages, and where these do not tell, from line types, widths and closed loops. What stays
unsure is asked: a `LayerQuestion` says what was taken for the time being.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

import numpy as np

from sketcher.exchange.dxf_content import FileCurve, FileEntity
from sketcher.geometry.bounds import size_of
from sketcher.geometry.cluster import clusters
from sketcher.geometry.curves import Circle, Curve, Line
from sketcher.marking.hand_in import LayerQuestion, LayerRole
from sketcher.marking.layer_names import named_role

LineSort: TypeAlias = Literal["unbroken", "chain", "double chain", "dashed"]
MEETS = 2e-3
"""Ends that are nearer than this part of the drawing's size meet: gaps are judged elsewhere."""
THROUGH = 1e-4
"""A line that misses a center by less than this part of the drawing's size goes through it."""
THINNER = 0.7
"""A line is narrower than another below this part of its width (ISO 128-20: 1 to 2)."""
SHORT = 0.6
"""Marks of a chain line that are shorter than this part of the longest are its points."""
HOLES = 3
"""Centers of other circles that a circle must go through to be theirs."""


@dataclass(frozen=True, slots=True)
class CurveRoles:
    """What each curve is for, in the order they were given, and what should be asked."""

    roles: tuple[LayerRole, ...]
    questions: tuple[LayerQuestion, ...] = ()


def line_sort(look: FileEntity | None) -> LineSort:
    """Tell an unbroken line from a chain line, one with two points, and dashes of one length."""
    marks = [] if look is None else [each for each in look.dashes if each >= 0.0]
    if not marks:
        return "unbroken"
    short = sum(each < SHORT * max(marks) for each in marks)
    if not short:
        return "dashed"
    return "chain" if short <= len(marks) - short else "double chain"


def curve_roles(
    curves: Sequence[FileCurve], looks: Mapping[int, FileEntity],
    agreed: Mapping[str, LayerRole],
) -> CurveRoles:
    """Return what the curves of a file are for.

    Parameters
    ----------
    curves : sequence of FileCurve
    looks : mapping of int to FileEntity
    agreed : mapping of str to LayerRole
        What the class said of layers, by name in lower case.
    """
    roles: list[LayerRole | None] = []
    for each in curves:
        named = agreed.get(each.layer.lower()) or named_role(each.layer)
        sort = line_sort(looks.get(each.entity))
        if named in (None, "outline") and sort != "unbroken":
            named = "center" if sort == "chain" else "construction"
        roles.append(named)
    survey = _Survey([each.curve for each in curves])
    asked = survey.settle(curves, looks, roles)
    known = [role or "outline" for role in roles]
    if "outline" not in known:
        _take_something(curves, looks, known, asked)
    for n in survey.through_centers([n for n, role in enumerate(known) if role == "outline"]):
        known[n] = "center"
    return CurveRoles(tuple(known), tuple(
        LayerQuestion(layer, role, count, reason)
        for (layer, role, reason), count in asked.items() if layer.lower() not in agreed))


def _take_something(
    curves: Sequence[FileCurve], looks: Mapping[int, FileEntity], roles: list[LayerRole],
    asked: Counter[tuple[str, LayerRole, str]],
) -> None:
    """Where nothing is outline, take broken lines on layers that may be; else all but the sheet."""
    may_be = [n for n, each in enumerate(curves) if named_role(each.layer) in (None, "outline")]
    if may_be and all(line_sort(looks.get(curves[n].entity)) == "chain" for n in may_be):
        may_be = [] if len(may_be) < len(curves) else may_be
    for n in may_be or [n for n, role in enumerate(roles) if role not in ("sheet", "dimension")]:
        roles[n] = "outline"
        asked[(curves[n].layer, "outline", "no layer of the file is named as an outline")] += 1


class _Survey:
    """How the curves of a file hang together."""

    def __init__(self, curves: Sequence[Curve]) -> None:
        self.curves = curves
        self.size = size_of(curves) if curves else 0.0
        open_ = [n for n, each in enumerate(curves) if not isinstance(each, Circle)]
        ends = np.array([at for n in open_ for at in _ends(curves[n])]).reshape(-1, 2)
        label = clusters(ends, MEETS * self.size).reshape(-1, 2) if len(ends) else ends
        self.nodes = {n: (int(a), int(b)) for n, (a, b) in zip(open_, label, strict=True)}

    def closed(self, among: Sequence[int]) -> set[int]:
        """Return which of some curves are circles, or meet others of them at both ends."""
        met = self._met(among)
        return {n for n in among if n not in self.nodes or (
            self.nodes[n][0] != self.nodes[n][1] and min(met[k] for k in self.nodes[n]) > 1)}

    def _met(self, among: Sequence[int]) -> Counter[int]:
        """Return how many ends of some curves meet in each node."""
        return Counter(node for n in among if n in self.nodes for node in self.nodes[n])

    def settle(
        self, curves: Sequence[FileCurve], looks: Mapping[int, FileEntity],
        roles: list[LayerRole | None],
    ) -> Counter[tuple[str, LayerRole, str]]:
        """Give a role to what has none; return what of it is to be asked, by layer."""
        asked: Counter[tuple[str, LayerRole, str]] = Counter()
        unknown = [n for n, role in enumerate(roles) if role is None]
        if not unknown:
            return asked
        outline = [n for n, role in enumerate(roles) if role == "outline"]
        apart = set(self.through_centers(unknown))
        for n in apart:
            roles[n] = "center"
        unknown = [n for n in unknown if n not in apart]
        layers = list(dict.fromkeys(curves[n].layer for n in unknown))
        if not outline and len(layers) < 2:
            return asked
        closed = self.closed([*outline, *unknown])
        widths = {n: look.width or 0.0 for n, each in enumerate(curves)
                  if (look := looks.get(each.entity)) is not None}
        widest = max((widths.get(n, 0.0) for n in closed), default=0.0)
        for layer in layers:
            mine = [n for n in unknown if curves[n].layer == layer]
            thin = max(widths.get(n, 0.0) for n in mine) < THINNER * widest
            loops = 2 * sum(n in closed for n in mine) >= len(mine)
            role: LayerRole = "outline" if loops and not thin else "construction"
            for n in mine:
                roles[n] = role
            if role == "construction" or outline:
                reason = ("its lines are narrow" if thin else
                          "its curves close loops" if loops else "its curves close no loop")
                asked[(layer, role, f"{reason}, and its name does not tell")] = len(mine)
        return asked

    def through_centers(self, among: Sequence[int]) -> list[int]:
        """Return unbroken center lines among curves that may be outline.

        A line that meets no other end and holds the center of a round, or a circle that goes
        through the centers of others of one size: nobody cuts these.
        """
        rounds = [n for n in among if not isinstance(self.curves[n], Line)]
        if not rounds:
            return []
        centers = np.array([self.curves[n].center for n in rounds])  # type: ignore[union-attr]
        met = self._met(among)
        found = []
        for n in among:
            curve = self.curves[n]
            if isinstance(curve, Line):
                if max(met[k] for k in self.nodes[n]) > 1:
                    continue
                (x, y), (u, v) = curve.start, curve.end
                long = float(np.hypot(u - x, v - y))
                ray = centers - (x, y)
                off = np.abs((u - x) * ray[:, 1] - (v - y) * ray[:, 0]) / max(long, 1e-300)
                on = ((u - x) * ray[:, 0] + (v - y) * ray[:, 1]) / max(long, 1e-300)
                if ((off <= THROUGH * self.size) & (on > 0.0) & (on < long)).any():
                    found.append(n)
            elif isinstance(curve, Circle):
                far = np.hypot(*(centers - curve.center).T)
                on_it = [self.curves[k] for k, gap in zip(rounds, far, strict=True)
                         if abs(gap - curve.radius) <= THROUGH * self.size]
                alike = Counter(round(each.radius / max(THROUGH * self.size, 1e-300))
                                for each in on_it if isinstance(each, Circle))
                if max(alike.values(), default=0) >= HOLES:
                    found.append(n)
        return found


def _ends(curve: Curve) -> tuple[tuple[float, float], tuple[float, float]]:
    assert not isinstance(curve, Circle)
    return curve.start, curve.end
