"""Any edit with arguments that mostly fit the part it meets."""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations
from random import Random
from typing import Any

from sketcher.geometry.evaluate import point_at
from sketcher.geometry.meet import overlap, same_carrier
from sketcher.part import kinds
from sketcher.part.edited import Edited
from sketcher.part.edits import EDITS
from sketcher.part.fragment import fragment
from sketcher.part.kinds import KINDS
from sketcher.part.value import GridPattern, Part, PolarPattern
from sketcher.part.whole import curve_value

LENGTHS = ("3", "5", "12.5", "1/2", "2*8", "0.25", "wall", "40", "0", "-1", "1e10")


def random_edit(random: Random, part: Part) -> tuple[str, Callable[[Part], Edited]]:
    """Return the name of an edit and the edit with its arguments."""
    name = random.choice(sorted(EDITS))
    given, named = Arguments(random, part).of(name)
    return name, lambda part: EDITS[name](part, *given, **named)


class Arguments:
    """Chooses what an edit is given."""

    def __init__(self, random: Random, part: Part) -> None:
        self.random, self.part = random, part

    def of(self, name: str) -> tuple[tuple[Any, ...], dict[str, Any]]:
        """Return what to call an edit with."""
        random, curve, length = self.random, self.curve, self.length
        flag = random.random() < 0.5
        a, b = self.neighbours()
        binding, pattern = self.any(self.part.bindings), self.any(self.part.patterns)
        parameter = self.any(self.part.parameters)
        if name == "add_binding":
            return self.binding(), {}
        if name == "set_drawing":
            return (), {"sheet": random.choice(("A4", "A3")), "show_half": flag}
        some = [curve() for _ in range(random.randint(1, 3))]
        if name == "place_detail":
            side = random.choice(("left", "right", "above", "below", None))
            return (some,), {"side": side, "scale": random.choice(("5:1", None))}
        step = self.step(some[0])
        arguments: dict[str, tuple[Any, ...]] = {
            "remove_binding": (binding,), "reorder_binding": (binding, random.randrange(40)),
            "set_value": (binding, length()), "set_drives": (binding, flag),
            "set_side": (binding, random.choice(self.sides(binding))),
            "turn_side": (binding,), "confirm_side": (binding,),
            "set_tolerance": (binding, (0.1, -0.2) if flag else None),
            "rename": (random.choice((a, self.point(), binding)), f"n{random.randrange(1000)}"),
            "set_parameter": ("wall", length()), "remove_parameter": (parameter,),
            "rename_parameter": (parameter, random.choice(("width", "wall"))),
            "set_role": (some, random.choice(("outline", "layout", "axis"))),
            "describe": (f"Part {random.randrange(99)}",), "fillet": (a, b, length()),
            "chamfer": (a, b, length()), "corner": (a, b), "join": (a, b),
            "split": (a, self.on(a)), "cut_back": (a, self.on(a)), "extend": (a, self.on(a)),
            "delete": (random.choice((a, self.point(), binding)),), "copy": (some, step),
            "move": (some, step), "rotate": (some, self.on(a), random.choice((30.0, 90.0, 200.0))),
            "reflect": (some, self.line(), flag), "set_mirror": (self.line(), "outline", flag),
            "remove_pattern": (pattern,), "dissolve_pattern": (pattern,),
            "set_pattern": (self.pattern(some),), "set_spacing": (self.spacing(pattern), length()),
            "absorb": self.alike(), "unite": self.alike(),
            "fillet_on_axis": (a, self.axis(), length()),
            "chamfer_on_axis": (a, self.axis(), length()), "paste": (self.piece(some), step),
            "merge": (self.point(), self.point()), "trace": ([self.on(a), step],),
            "trace_along": ([random.randrange(40) for _ in range(random.randint(1, 3))],),
            "scribe_ladder": (random.choice((a, self.point())), "3, 5, +4", step),
            "scribe_slope": (self.point(), random.choice(("0", "90", "35")), step, None,
                             (random.choice(("run", "rise", "length")), length())),
            "scribe_slot": (self.point(), length(), ("10", "50"), "1"),
            "scribe_tangent": (curve(), curve(), step),
            "scribe_touching": ([curve(), curve()], step, length()),
        }
        return arguments.get(name, ()), {}

    def any(self, names: Any) -> str:
        """Return any of the names, "none" without one."""
        return self.random.choice(list(names)) if names else "none"

    def curve(self) -> str:
        """Return a curve."""
        return self.any(self.part.curves)

    def line(self) -> str:
        """Return a line."""
        return self.any([n for n, c in self.part.curves.items() if c.kind == "line"])

    def point(self) -> str:
        """Return a point."""
        return self.any(self.part.points)

    def length(self) -> str:
        """Return a length as it is typed."""
        return self.random.choice(LENGTHS)

    def neighbours(self) -> tuple[str, str]:
        """Return two curves, mostly such as share a point."""
        one = self.curve()
        if one == "none" or self.random.random() < 0.2:
            return one, self.curve()
        points = set(self.part.curves[one].points)
        return one, self.any([n for n, c in self.part.curves.items()
                              if n != one and not points.isdisjoint(c.points)] or [one])

    def step(self, curve: str) -> tuple[float, float]:
        """Return how far something goes: anywhere, nowhere, or along a curve on to itself."""
        how = self.random.random()
        if how < 0.7 or curve == "none":
            return (self.random.uniform(-30.0, 30.0), self.random.uniform(-30.0, 30.0))
        if how < 0.85:
            return (0.0, 0.0)
        shape = curve_value(self.part, self.part.curves[curve])
        (x0, y0), (x1, y1) = point_at(shape, 0.0), point_at(shape, 0.4)
        return (x1 - x0, y1 - y0)

    def alike(self) -> tuple[str, str]:
        """Return two curves, such as cover each other where there are any."""
        shapes = {name: curve_value(self.part, c) for name, c in self.part.curves.items()}
        pairs = [(a, b) for a, b in combinations(shapes, 2)
                 if same_carrier(shapes[a], shapes[b], 1e-6)
                 and overlap(shapes[a], shapes[b], 1e-6)]
        return self.random.choice(pairs) if pairs else self.neighbours()

    def piece(self, names: list[str]) -> Part:
        """Return some curves as a piece of its own, empty where there are none."""
        there = [name for name in names if name in self.part.curves]
        return fragment(self.part, there).part if there else Part(unit=self.part.unit)

    def axis(self) -> str:
        """Return the axis of a mirror, or any line."""
        return self.any([mirror.axis for mirror in self.part.mirrors]) \
            if self.part.mirrors else self.line()

    def on(self, curve: str) -> tuple[float, float]:
        """Return a place on a curve."""
        if curve == "none":
            return (0.0, 0.0)
        return point_at(curve_value(self.part, self.part.curves[curve]), self.random.random())

    def binding(self) -> tuple[Any, ...]:
        """Return kind and operands of a new binding."""
        ids = [self.random.choice((self.curve, self.point))()
               for _ in range(self.random.randint(1, 2))]
        fitting = kinds.fitting(self.part, ids) if "none" not in ids else ()
        kind = self.random.choice(fitting or sorted(KINDS))
        valued = KINDS[kind].quantity is not None and self.random.random() < 0.5
        return kind, ids, self.length() if valued else None, self.random.random() < 0.8

    def sides(self, binding: str) -> tuple[str, ...]:
        """Return the words that a binding's side can have."""
        known = self.part.bindings.get(binding)
        return (*(kinds.sides(self.part, known) if known is not None else ()), "left")

    def pattern(self, curves: list[str]) -> GridPattern | PolarPattern:
        """Return a new pattern."""
        chosen, random = tuple(dict.fromkeys(curves)), self.random
        if random.random() < 0.5:
            counts = (random.randint(1, 3), random.randint(1, 3))
            return GridPattern(chosen, (self.length(), "7"), counts, "15")
        span = random.choice(("360", "90"))
        return PolarPattern(chosen, self.point(), random.randint(1, 6), span)

    def spacing(self, pattern: str) -> str:
        """Return the name of a number of a pattern."""
        return f"{pattern}.{self.random.choice(('step1', 'step2', 'count1', 'angle', 'span'))}"
