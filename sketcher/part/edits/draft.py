"""A part under construction: what tools and edits add to and take from, then hand back whole."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from math import dist
from typing import Any

from sketcher.errors import EditError
from sketcher.geometry.curves import XY
from sketcher.part.center_rules import without_lines_of
from sketcher.part.detail_rules import without_details_of
from sketcher.part.doubts import living
from sketcher.part.draft_tables import DraftTables, placed
from sketcher.part.table_names import without_table_of
from sketcher.part.threads import without_threads_of
from sketcher.part.value import (
    ArcCurve,
    Binding,
    CircleCurve,
    LineCurve,
    Mirror,
    Part,
    PartCurve,
    Pattern,
    PolarPattern,
    Role,
    Turn,
    frozen,
)
from sketcher.quantity.format import exact

CURVE_PREFIX = {"line": "e", "arc": "a", "circle": "h"}
ROLE_PREFIX = {"layout": "s", "axis": "x"}


def curve_prefix(curve: PartCurve) -> str:
    """Return the letter of a curve's id: e line, a arc, h circle, s layout, x axis."""
    return ROLE_PREFIX.get(curve.role) or CURVE_PREFIX[curve.kind]


class Draft(DraftTables):
    """Mutable copy of a part; `done()` returns the next part.

    Mappings that were not touched are handed on as the very same objects. Whatever falls away
    because something else was removed (bindings, patterns, a mirror) is listed in `dropped`.

    Parameters
    ----------
    part : Part
        Where the work begins; it stays as it is.
    """

    # Adding.

    def point(self, xy: XY, near: float | None = None, name: str | None = None) -> str:
        """Add a point and return its id.

        Parameters
        ----------
        xy : tuple of float
            Place in the part's unit.
        near : float, optional
            When given, an existing point at most this far away is used instead (the nearest one).
        name : str, optional
            Id to give instead of the next free ``p1``, ``p2`` ...
        """
        xy = placed(xy)
        if near is not None:
            found = self.point_near(xy, near)
            if found:
                return found
        name = self._named(name, "p")
        self._table("points")[name] = xy
        return name

    def point_near(self, xy: XY, near: float) -> str | None:
        """Return the id of the nearest point at most `near` away, or None."""
        best, found = near, None
        for name, at in self.points.items():
            distance = dist(at, xy)
            if distance <= best and (found is None or distance < best):
                best, found = distance, name
        return found

    def line(
        self, start: str | XY, end: str | XY, role: Role = "outline", name: str | None = None
    ) -> str:
        """Add a line between two points, given by id or by place; return its id."""
        return self.curve(LineCurve((self._end(start), self._end(end)), role), name)

    def arc(
        self,
        start: str | XY,
        end: str | XY,
        center: str | XY,
        turn: Turn = "ccw",
        role: Role = "outline",
        name: str | None = None,
    ) -> str:
        """Add an arc from `start` round `center` to `end`; return its id."""
        ends = (self._end(start), self._end(end))
        return self.curve(ArcCurve(ends, self._end(center), turn, role), name)

    def circle(
        self, center: str | XY, radius: float, role: Role = "outline", name: str | None = None
    ) -> str:
        """Add a circle (radius in the part's unit); return its id."""
        return self.curve(CircleCurve(self._end(center), float(radius), role), name)

    def curve(self, curve: PartCurve, name: str | None = None) -> str:
        """Add a ready curve value whose points exist; return its id."""
        self._check_curve("curve", curve)
        name = self._named(name, curve_prefix(curve))
        self._table("curves")[name] = curve
        return name

    def bind(
        self,
        kind: str,
        of: Iterable[str],
        value: str | float | None = None,
        side: str | None = None,
        drives: bool = True,
        tolerance: tuple[float, float] | None = None,
        name: str | None = None,
    ) -> str:
        """Add a binding and return its id; a side of None is settled from the geometry later."""
        of = tuple(of)
        for operand in of:
            if operand not in self.points and operand not in self.curves:
                raise EditError(kind, f"no point or curve named '{operand}'", "choose another")
        if len(set(of)) < len(of):
            raise EditError(kind, f"{', '.join(of)} names one thing twice", "choose two things")
        text = value if value is None or isinstance(value, str) else exact(value)
        return self.binding(Binding(kind, of, text, side, drives, tolerance), name)

    def binding(self, binding: Binding, name: str | None = None) -> str:
        """Add a ready binding value; return its id."""
        name = self._named(name, "b")
        self._table("bindings")[name] = binding
        return name

    def pattern(self, pattern: Pattern, name: str | None = None) -> str:
        """Add a pattern; return its id."""
        name = self._named(name, "g" if pattern.kind == "grid" else "r")
        self._table("patterns")[name] = pattern
        return name

    # Changing.

    def move_point(self, name: str, xy: XY) -> None:
        """Put a point somewhere else."""
        self._known(name, self.points, "point")
        self._table("points")[name] = placed(xy)

    def change_curve(self, name: str, **fields: Any) -> None:
        """Replace fields of a curve: ``ends``, ``center``, ``turn``, ``radius``, ``role``."""
        self._known(name, self.curves, "curve")
        self.put_curve(name, replace(self.curves[name], **fields))

    def put_curve(self, name: str, curve: PartCurve) -> None:
        """Put another curve value under an id that exists."""
        self._known(name, self.curves, "curve")
        self._check_curve(name, curve)
        self._table("curves")[name] = curve

    def change_binding(self, name: str, **fields: Any) -> None:
        """Replace fields of a binding: ``of``, ``value``, ``side``, ``drives``, ``tolerance``."""
        self._known(name, self.bindings, "binding")
        self._table("bindings")[name] = replace(self.bindings[name], **fields)

    def change_pattern(self, name: str, pattern: Pattern) -> None:
        """Put another pattern value under an id that exists."""
        self._known(name, self.patterns, "pattern")
        self._table("patterns")[name] = pattern

    def set_mirrors(self, mirrors: Iterable[Mirror]) -> None:
        """Replace the mirrors."""
        self._mirrors = tuple(mirrors)

    # Taking away.

    def remove(self, *names: str) -> None:
        """Remove points, curves, bindings or patterns, and what cannot stand without them.

        A removed point takes along the curves through it; a removed curve its bindings and the
        points that nothing else names. Bindings, patterns and mirrors that fall away because of it
        are added to `dropped`.
        """
        asked = set(names)
        curves = asked & self.curves.keys()
        points = asked & self.points.keys()
        for name in asked - curves - points:
            if name in self.bindings:
                self._discard_binding(name)
            elif name in self.patterns:
                del self._table("patterns")[name]
            else:
                raise EditError(name, "there is nothing with this id", "choose something else")
        if not curves and not points:
            return
        curves |= {n for n, c in self.curves.items() if not points.isdisjoint(c.points)}
        freed = {p for name in curves for p in self.curves[name].points}
        self._forget(curves, "curves")
        named = self._points_in_use()
        points |= {p for p in freed if p not in named}
        self._forget(points, "points")
        self._drop_dependents(curves | points)

    def take_curve(self, name: str) -> None:
        """Remove a curve whose points the caller has found another use for."""
        self._known(name, self.curves, "curve")
        del self._table("curves")[name]
        self._drop_dependents({name})

    def drop(self, name: str) -> None:
        """Remove a binding and list it among `dropped`."""
        self._discard_binding(name)
        self.dropped.append(name)

    def dropped_words(self) -> str:
        """Return what was dropped as a person lists it: ``b3 (level), b7 (distance), g1``."""
        return ", ".join(f"{name} ({self._gone[name]})" if name in self._gone else name
                         for name in dict.fromkeys(self.dropped))

    def _discard_binding(self, name: str) -> None:
        self._known(name, self.bindings, "binding")
        self._gone[name] = self._table("bindings").pop(name).kind

    def _forget(self, names: Iterable[str], what: str) -> None:
        table = self._table(what)
        for name in names:
            table.pop(name, None)

    def _points_in_use(self) -> set[str]:
        used = {p for curve in self.curves.values() for p in curve.points}
        return used | {p.center for p in self.patterns.values() if isinstance(p, PolarPattern)}

    def _drop_dependents(self, gone: set[str]) -> None:
        for name, binding in list(self.bindings.items()):
            if not gone.isdisjoint(binding.of):
                self.drop(name)
        for name, pattern in list(self.patterns.items()):
            left = tuple(c for c in pattern.curves if c not in gone)
            if not left or (isinstance(pattern, PolarPattern) and pattern.center in gone):
                del self._table("patterns")[name]
                self.dropped.append(name)
            elif left != pattern.curves:
                self._table("patterns")[name] = replace(pattern, curves=left)
        kept = []
        for mirror in self._mirrors:
            if mirror.axis in gone:
                self.dropped.append(f"mirror about {mirror.axis}")
                continue
            if mirror.curves != "outline" and not gone.isdisjoint(mirror.curves):
                mirror = replace(mirror, curves=tuple(c for c in mirror.curves if c not in gone))
            kept.append(mirror)
        if len(kept) != len(self._mirrors) or any(
            a is not b for a, b in zip(kept, self._mirrors, strict=True)
        ):
            self._mirrors = tuple(kept)

    # Ending.

    def done(self) -> Part:
        """Return the next part; the same one when nothing was changed."""
        changes: dict[str, Any] = {name: frozen(table) for name, table in self._own.items()}
        if self._mirrors is not self._part.mirrors:
            changes["mirrors"] = self._mirrors
        drawing = self._part.drawing
        if not self._gone.keys().isdisjoint(drawing.placed):
            # A binding that gets the id later must not find the text of another.
            kept = {name: at for name, at in drawing.placed.items() if name not in self._gone}
            drawing = replace(drawing, placed=frozen(kept))
        drawing = without_lines_of(drawing, self._is_gone)
        drawing = without_details_of(drawing, self._is_gone)
        drawing = without_threads_of(without_table_of(drawing, self._is_gone), self._is_gone)
        if drawing is not self._part.drawing:
            changes["drawing"] = drawing
        doubts = living(self._part.doubts, self.points, self.curves, self.bindings)
        if doubts != self._part.doubts:
            changes["doubts"] = doubts
        return self._part.having(**changes) if changes else self._part

    def _is_gone(self, name: str) -> bool:
        """Tell whether a point, curve, pattern or binding of the part is there no longer."""
        was = (self._part.points, self._part.curves, self._part.patterns, self._part.bindings)
        now = (self.points, self.curves, self.patterns, self.bindings)
        return any(name in t for t in was) and not any(name in t for t in now)

    def _end(self, end: str | XY) -> str:
        return end if isinstance(end, str) else self.point(end)
