"""From a JSON tree to a part, or to one error that names the place. Nothing is half read."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Iterator, Mapping
from typing import Any, cast

from sketcher.errors import EditError, FileError, QuantityError
from sketcher.part.center_rules import read_rule
from sketcher.part.materials import material_named
from sketcher.part.node import JsonNode, Pairs
from sketcher.part.value import (
    USUAL_MATERIAL,
    ArcCurve,
    Binding,
    CircleCurve,
    Doubt,
    Drawing,
    GridPattern,
    LineCurve,
    Material,
    Mirror,
    Part,
    PartCurve,
    Pattern,
    PolarPattern,
    Role,
    Turn,
    Unit,
    frozen,
)
from sketcher.quantity.parameters import Value, evaluate_all
from sketcher.quantity.parse import evaluate
from sketcher.quantity.written import refuse_inch_fraction

FORMAT = "part-profile"
VERSION = 1
KEYS = ("format", "version", "name", "unit", "material", "parameters", "points", "curves",
        "bindings", "doubts", "mirror", "patterns", "notes", "drawing")
TABLES = ("points", "curves", "bindings", "patterns")  # which share one set of ids
ROLES = ("outline", "layout", "axis")
CURVE_KEYS = {
    "line": ("kind", "ends", "role"),
    "arc": ("kind", "ends", "center", "turn", "role"),
    "circle": ("kind", "center", "radius", "role"),
}
PATTERN_KEYS = {
    "grid": ("kind", "curves", "step", "count", "angle"),
    "polar": ("kind", "curves", "center", "count", "span"),
}
MAX_INSTANCES = 10_000


def part_of(root: JsonNode) -> Part:
    """Return the part that a JSON tree describes.

    Raises
    ------
    FileError
        At the first defect; the place is the path of keys to it.
    """
    tree = root.fields(KEYS, ("format", "version", "unit"))
    tree["format"].choice((FORMAT,))
    if tree["version"].value != VERSION or isinstance(tree["version"].value, bool):
        tree["version"].fail(f"version {tree['version'].value!r} is unknown",
                             f"this program reads version {VERSION}")
    unit = cast(Unit, tree["unit"].choice(("mm", "in")))
    tables = {key: tree[key].named() if key in tree else {} for key in TABLES}
    _unique(tables)
    points = {k: n.point() for k, n in tables["points"].items()}
    curves = {k: _curve(n, points) for k, n in tables["curves"].items()}
    part = Part(
        name=tree["name"].text() if "name" in tree else "Part",
        unit=unit,
        material=_material(tree["material"], unit) if "material" in tree else USUAL_MATERIAL[unit],
        parameters=frozen(_parameters(tree["parameters"]) if "parameters" in tree else {}),
        points=frozen(points),
        curves=frozen(curves),
        notes=tuple(n.text(breaks=True) for n in tree["notes"].items()) if "notes" in tree else (),
        drawing=_drawing(tree["drawing"]) if "drawing" in tree else Drawing(),
    )
    bindings = {k: _binding(n, part) for k, n in tables["bindings"].items()}
    patterns = {k: _pattern(n, part) for k, n in tables["patterns"].items()}
    mirrors = _mirrors(tree["mirror"], part) if "mirror" in tree else ()
    part = part.having(bindings=bindings, patterns=patterns, mirrors=mirrors)
    if "doubts" in tree:
        part = part.having(doubts=tuple(_doubt(n, part) for n in tree["doubts"].items()))
    try:
        check_values(part)
    except QuantityError as error:
        raise FileError(error.place, error.problem, error.remedy) from None
    return part


def check_values(part: Part) -> Mapping[str, Value]:
    """Evaluate every parameter, dimension and pattern; return the parameters' values.

    Raises
    ------
    QuantityError
        At the first expression that cannot be evaluated, measures the wrong thing or comes out
        negative; the place is ``parameters.NAME``, ``bindings.ID.value``, ``patterns.ID.span``.
    """
    values = evaluate_all(part.parameters, part.unit)
    for name, binding in part.bindings.items():
        if binding.value is not None:
            check_value(part, binding, f"bindings.{name}.value", values)
    for name, pattern in part.patterns.items():
        check_pattern(part, pattern, f"patterns.{name}", values)
    return values


def check_changes(before: Part, after: Part) -> None:
    """Evaluate what an edit changed; raise a QuantityError as `check_values` does."""
    if after.parameters is not before.parameters or after.unit != before.unit:
        check_values(after)
    else:
        if after.bindings is not before.bindings:
            values = evaluate_all(after.parameters, after.unit)
            for name, binding in after.bindings.items():
                if binding.value is not None and before.bindings.get(name) is not binding:
                    check_value(after, binding, f"bindings.{name}.value", values)
        if after.patterns is not before.patterns:
            for name, pattern in after.patterns.items():
                check_pattern(after, pattern, f"patterns.{name}")
    check_written(before, after)


def check_written(before: Part, after: Part) -> None:
    """Raise a QuantityError for a length new in `after` that says inches without saying so.

    A value that is a parameter's name says what the parameter says.
    """
    same = (after.parameters is before.parameters and after.bindings is before.bindings
            and after.patterns is before.patterns)
    if same or after.unit != "mm":
        return
    known = {_said(before, text) for _, text in _lengths(before)}
    for place, text in _lengths(after):
        said = _said(after, text)
        if said not in known:
            refuse_inch_fraction(
                said, f"parameters.{text.strip()}" if said is not text else place)


def _lengths(part: Part) -> Iterator[tuple[str, str]]:
    """Yield place and expression of every length of a part."""
    from sketcher.part.kinds import KINDS

    for name, binding in part.bindings.items():
        if binding.value is not None and KINDS[binding.kind].quantity == "length":
            yield f"bindings.{name}.value", binding.value
    for name, pattern in part.patterns.items():
        for key, text, quantity in _expressions(pattern):
            if quantity == "length":
                yield f"patterns.{name}.{key}", text


def _said(part: Part, text: str) -> str:
    """Return the expression behind a name that stands alone, else the text itself."""
    seen: set[str] = set()
    while (name := text.strip()) in part.parameters and name not in seen:
        seen.add(name)
        text = part.parameters[name]
    return text


def check_value(
    part: Part, binding: Binding, place: str, values: Mapping[str, Value] | None = None
) -> float | None:
    """Evaluate the value of one binding; None for a kind without one.

    Raises
    ------
    QuantityError
        When it cannot be evaluated, measures the wrong thing or is not positive.
    """
    from sketcher.part.kinds import KINDS

    kind = KINDS[binding.kind]
    if kind.quantity is None or binding.value is None:
        return None
    if values is None:
        values = evaluate_all(part.parameters, part.unit)
    amount = evaluate(binding.value, kind.quantity, part.unit, values, place)
    if amount < 0.0 or (amount == 0.0 and kind.above_zero):
        if amount < 0.0:
            raise QuantityError(place, f"'{binding.value}' comes to {amount:g}",
                                "give it as the paper prints it, positive")
        said = binding.value if binding.value == "0" else f"'{binding.value}' comes to 0, which"
        raise QuantityError(place, f"{said} is not above zero", kind.instead_of_zero(binding.of))
    return amount


def check_pattern(
    part: Part, pattern: Pattern, place: str, values: Mapping[str, Value] | None = None
) -> None:
    """Evaluate the expressions of one pattern; raise a QuantityError where one cannot be."""
    if values is None:
        values = evaluate_all(part.parameters, part.unit)
    for key, text, asked in _expressions(pattern):
        evaluate(text, asked, part.unit, values, f"{place}.{key}")


def _expressions(pattern: Pattern) -> tuple[tuple[str, str, str], ...]:
    if isinstance(pattern, PolarPattern):
        return (("span", pattern.span, "angle"),)
    return (
        ("step[0]", pattern.step[0], "length"),
        ("step[1]", pattern.step[1], "length"),
        ("angle", pattern.angle, "angle"),
    )


def _unique(tables: Mapping[str, Iterable[str]]) -> None:
    seen: dict[str, str] = {}
    for table, names in tables.items():
        for name in names:
            if name in seen:
                raise FileError(f"{table}.{name}", f"the id is taken by {seen[name]}.{name}",
                                "rename one of them")
            seen[name] = table


def _material(node: JsonNode, unit: Unit) -> Material:
    found = node.fields(("name", "thickness", "density"))
    default = USUAL_MATERIAL[unit]
    thickness, written = default.thickness, ""
    if "thickness" in found:
        thickness, written = _thickness(found["thickness"], unit)
    name = found["name"].text() if "name" in found else default.name
    density = found["density"].number(above=0.0) if "density" in found else None
    return material_named(name, thickness, density, written)


def _thickness(node: JsonNode, unit: Unit) -> tuple[float, str]:
    """Return a thickness and how it is written: a fraction is a text."""
    if not isinstance(node.value, str):
        return node.number(above=0.0), ""
    written = node.text()
    try:
        amount = evaluate(written, "length", unit, {})
    except QuantityError as error:
        node.fail(error.problem, error.remedy or "write a length such as 1/4")
    if amount <= 0.0:
        node.fail(f"{written} is too small", "give more than 0")
    return amount, written


def _parameters(node: JsonNode) -> dict[str, str]:
    return {name: entry.text() for name, entry in node.entries()}


def _point_id(node: JsonNode, points: Mapping[str, Any]) -> str:
    name = node.text()
    if name not in points:
        node.fail(f"no point named '{name}'", "name a point of the file")
    return name


def _curve_ids(node: JsonNode, part: Part) -> tuple[str, ...]:
    names: list[str] = []
    for item in node.items():
        name = item.text()
        if name not in part.curves:
            item.fail(f"no curve named '{name}'", "name a curve of the file")
        if name in names:
            item.fail(f"'{name}' is listed twice", "list it once")
        names.append(name)
    return tuple(names)


def _curve(node: JsonNode, points: Mapping[str, Any]) -> PartCurve:
    kind = _kind(node, CURVE_KEYS)
    needed = [key for key in CURVE_KEYS[kind] if key not in ("role", "turn")]
    found = node.fields(CURVE_KEYS[kind], needed)
    role = cast(Role, found["role"].choice(ROLES)) if "role" in found else "outline"
    if kind == "circle":
        return CircleCurve(
            _point_id(found["center"], points), found["radius"].number(above=0.0), role
        )
    first, last = (_point_id(item, points) for item in found["ends"].items(exact=2))
    if first == last:
        found["ends"].fail(f"both ends are '{first}'",
                           "give it two ends" if kind == "line" else "use a circle")
    if kind == "line":
        return LineCurve((first, last), role)
    center = _point_id(found["center"], points)
    if center in (first, last):
        found["center"].fail(f"'{center}' is also an end", "give the center a point of its own")
    turn = cast(Turn, found["turn"].choice(("ccw", "cw"))) if "turn" in found else "ccw"
    return ArcCurve((first, last), center, turn, role)


def _kind(node: JsonNode, known: Iterable[str]) -> str:
    for key, entry in node.entries():
        if key == "kind":
            kind = entry.text()
            if kind not in known:
                entry.fail(f"unknown kind '{kind[:64]}'", f"use {', '.join(known)}")
            return kind
    return node.at("kind", None).fail("missing")


def _binding(node: JsonNode, part: Part) -> Binding:
    from sketcher.part.kinds import KINDS, sides

    keys = ("kind", "of", "value", "side", "drives", "tolerance")
    kind = _kind(node, KINDS)
    found = node.fields(keys, ("of",))
    of = _operands(found["of"], kind, part)
    value = found["value"].text() if "value" in found else None
    if KINDS[kind].quantity is None and value is not None:
        found["value"].fail(f"'{kind}' takes no value", "leave the value out")
    drives = found["drives"].flag() if "drives" in found else True
    if KINDS[kind].quantity is not None and value is None and drives:
        node.at("value", None).fail("missing", "give the value that the paper prints")
    binding = Binding(
        kind, of, value,
        found["side"].text() if "side" in found else None,
        drives,
        _tolerance(found["tolerance"]) if "tolerance" in found else None,
    )
    if binding.side is not None:
        words = sides(part, binding)
        if not words:
            found["side"].fail(f"'{kind}' of these has no side", "leave the side out")
        found["side"].choice(words)
    return binding


def _operands(node: JsonNode, kind: str, part: Part) -> tuple[str, ...]:
    from sketcher.part.kinds import KINDS

    names: list[str] = []
    for item in node.items(most=8):
        name = item.text()
        if name not in part.points and name not in part.curves:
            item.fail(f"no point or curve named '{name}'", "name one of the file")
        if name in names:
            item.fail(f"'{name}' is listed twice", "bind two different things")
        names.append(name)
    arranged = KINDS[kind].arrange(part, names)
    if arranged is None:
        takes = " or ".join(" + ".join(form) for form in KINDS[kind].forms)
        node.fail(f"'{kind}' does not fit {' + '.join(names) or 'an empty list'}",
                  f"it takes {takes}")
    return arranged


def _tolerance(node: JsonNode) -> tuple[float, float]:
    upper, lower = (item.number() for item in node.items(exact=2))
    if upper < lower:
        node.fail("the upper deviation is below the lower one", "give the upper one first")
    return (upper, lower)


def _doubt(node: JsonNode, part: Part) -> Doubt:
    from sketcher.part.kinds import sides

    found = node.fields(("sides", "points", "radii"), ("sides",))
    others = {}
    for name, entry in found["sides"].entries():
        if name not in part.bindings:
            entry.fail(f"no binding named '{name}'", "name a binding of the file")
        if part.bindings[name].side is None:
            entry.fail(f"'{name}' has no side of its own yet", "leave the doubt out")
        others[name] = entry.choice(sides(part, part.bindings[name]))
    if not others:
        found["sides"].fail("the table is empty", "name the sides that are in doubt")
    points = _named(found, "points", part.points, JsonNode.point)
    circles = [name for name, curve in part.curves.items() if curve.kind == "circle"]
    radii = _named(found, "radii", circles, lambda entry: entry.number(above=0.0))
    return Doubt(frozen(others), frozen(points), frozen(radii))


def _named(
    found: Mapping[str, JsonNode], key: str, known: Container[str], read: Callable[[JsonNode], Any]
) -> dict[str, Any]:
    """Read the table under a key, whose names have to be known."""
    out = {}
    for name, entry in found[key].entries() if key in found else ():
        if name not in known:
            entry.fail(f"the file has no '{name}' here", "name one of the file")
        out[name] = read(entry)
    return out


def _mirrors(node: JsonNode, part: Part) -> tuple[Mirror, ...]:
    if node.value is None:
        return ()
    nodes = [node] if isinstance(node.value, Pairs) else node.items(most=2)
    mirrors = tuple(_mirror(item, part) for item in nodes)
    if len(mirrors) == 2 and mirrors[0].axis == mirrors[1].axis:
        nodes[1].at("axis", None).fail(f"'{mirrors[0].axis}' is an axis already",
                                       "name another line")
    return mirrors


def _mirror(node: JsonNode, part: Part) -> Mirror:
    found = node.fields(("axis", "curves"), ("axis",))
    axis = found["axis"].text()
    if axis not in part.curves:
        found["axis"].fail(f"no curve named '{axis}'", "name a line of the file")
    if part.curves[axis].kind != "line":
        found["axis"].fail(f"'{axis}' is not a line", "name a line of the file")
    if "curves" not in found or found["curves"].value == "outline":
        return Mirror(axis)
    if isinstance(found["curves"].value, str):
        found["curves"].fail("expected 'outline' or a list of curves")
    return Mirror(axis, _curve_ids(found["curves"], part))


def _pattern(node: JsonNode, part: Part) -> Pattern:
    kind = _kind(node, PATTERN_KEYS)
    optional = ("angle", "span")
    found = node.fields(
        PATTERN_KEYS[kind], [key for key in PATTERN_KEYS[kind] if key not in optional]
    )
    curves = _curve_ids(found["curves"], part)
    if not curves:
        found["curves"].fail("the list is empty", "name the curves to repeat")
    if kind == "polar":
        center = _point_id(found["center"], part.points)
        count = found["count"].whole(1, MAX_INSTANCES)
        span = found["span"].text() if "span" in found else "360"
        return PolarPattern(curves, center, count, span)
    across, up = (item.text() for item in found["step"].items(exact=2))
    columns, rows = (item.whole(1, MAX_INSTANCES) for item in found["count"].items(exact=2))
    if columns * rows > MAX_INSTANCES:
        found["count"].fail(f"{columns * rows} instances", f"use at most {MAX_INSTANCES}")
    angle = found["angle"].text() if "angle" in found else "0"
    return GridPattern(curves, (across, up), (columns, rows), angle)


def _texts(node: JsonNode) -> Mapping[str, str]:
    return frozen({key: entry.text(breaks=True) for key, entry in node.entries()})


def _points_by_id(node: JsonNode) -> Mapping[str, tuple[float, float]]:
    return frozen({key: entry.point() for key, entry in node.entries()})


def _settings(
    node: JsonNode, known: Mapping[str, Callable[[JsonNode], Any]]
) -> Mapping[str, Mapping[str, Any]]:
    return frozen({
        mark: frozen({key: known[key](item) for key, item in entry.fields(known).items()})
        for mark, entry in node.entries()
    })


def _end_rule(node: JsonNode) -> str | float:
    if not isinstance(node.value, str):
        return node.number()
    try:
        return read_rule(node.text()).stored
    except EditError as error:
        node.fail(error.problem, error.remedy or "write a length such as 1/4")


CENTER: dict[str, Callable[[JsonNode], Any]] = {
    "off": JsonNode.flag, "start": _end_rule, "end": _end_rule,
}
"""What can be changed about one center line: switched off, what an end belongs to."""
DETAIL: dict[str, Callable[[JsonNode], Any]] = {
    "off": JsonNode.flag, "scale": JsonNode.text,
    "side": lambda node: node.choice(("right", "left", "above", "below")),
}
"""What can be changed about the detail of one curve: switched off, its scale, where it stands."""


DRAWING: dict[str, Callable[[JsonNode], Any]] = {
    "practice": lambda node: node.choice(("ISO", "ASME")),
    "sheet": JsonNode.text,
    "scale": JsonNode.text,
    "lettering": lambda node: None if node.value is None else node.number(above=0.0),
    "overhang": lambda node: None if node.value is None else node.number(),
    "axis_style": lambda node: node.choice(("center", "phantom")),
    "show_half": JsonNode.flag,
    "tolerance": JsonNode.text,
    "dimensions": JsonNode.flag,
    "hole_table": JsonNode.flag,
    "table_zero": JsonNode.text, "table_along": JsonNode.text,
    "balloons": JsonNode.flag, "inspection_page": JsonNode.flag,
    "order_page": JsonNode.flag,
    "fields": _texts, "threads": _texts,
    "placed": _points_by_id,
    "centers": lambda node: _settings(node, CENTER),
    "details": lambda node: _settings(node, DETAIL),
    "breaks": lambda node: node.choice(("auto", "off")),
    "cut_by": lambda node: node.choice(("", "laser", "plasma")),
}
"""How each field of `Drawing` is read; a new field needs an entry here and nothing else."""


def _drawing(node: JsonNode) -> Drawing:
    return Drawing(**{key: DRAWING[key](entry) for key, entry in node.fields(DRAWING).items()})
