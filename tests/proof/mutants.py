"""Part files spoiled at random: in their structure, which mostly reads, or in their bytes."""

from __future__ import annotations

import contextlib
import copy
import json
from functools import cache
from math import cos, pi, sin
from random import Random
from typing import Any

from tests.proof import paper

Tree = dict[str, Any]

KINDS = (
    "fixed", "level", "plumb", "square", "parallel", "angle", "distance", "run", "rise", "offset",
    "on", "middle", "in_line", "equal", "concentric", "tangent", "reflected", "radius", "diameter",
)
TEXTS = ("0", "-1", "1e9", "1e-9", "1e12", "90", "180", "360", "45°", "1/0", "wall", "a+b", "",
         " ", "12 mm", "1 5/8", "1-5/8", "2^0.5", "2^99", "sqrt(-1)", "(((1)))", "9" * 400,
         "tan(90)", "1e308*10", "∞", "NaN", "0x10", "1,5,5", "\u0661", "x'", "e1", "\n")
ODD = (None, True, False, 0, -1, 1, 1.5, 1e9, 1e10, -1e9, 1e-12, 1e308, 10**30, "", "x", "p1",
       "e1", "\u00e9" * 80, [], {}, [None], ["p1"], ["p1", "p1"], {"kind": "line"}, [[]])
PIECES = (b"NaN", b"-", b"[", b"}", b'"', b"1e999", b"null", b"{}", b"\x00", b"\xff", b"\\u0000",
          b"\\ud800", b",", b":", b"0" * 400, b"1e-400", b"\xef\xbb\xbf", b"\r", b"//")


def spoiled(random: Random) -> bytes:
    """A demo part or a random one, with one to four things wrong with it."""
    tree = base(random)
    for _ in range(random.choice((0, 1, 1, 2, 3))):
        # An earlier change may have taken away what this one needs.
        with contextlib.suppress(KeyError, IndexError, TypeError, AttributeError, ValueError):
            random.choice(CHANGES)(tree, random)
    data = json.dumps(tree, indent=random.choice((None, 1))).encode()
    if random.random() < 0.35:
        data = in_bytes(data, random)
    return data


def base(random: Random) -> Tree:
    """A part as it is shipped, solved sketches and random plates included."""
    if random.random() < 0.4:
        return plate(random)
    return copy.deepcopy(shipped(random.choice(list(paper.PAPERS))))


@cache
def shipped(name: str) -> Tree:
    return paper.file_of(name)


def plate(random: Random) -> Tree:
    """A star of lines and arcs with circles inside; every curve is where it says."""
    count = random.randint(3, 9)
    points: Tree = {}
    for k in range(count):
        angle, radius = 2.0 * pi * k / count, random.uniform(30.0, 60.0)
        points[f"p{k}"] = [radius * cos(angle), radius * sin(angle)]
    curves: Tree = {}
    bindings: Tree = {"b0": {"kind": "fixed", "of": ["p0"]}}
    for k in range(count):
        ends = [f"p{k}", f"p{(k + 1) % count}"]
        if random.random() < 0.3:
            (x, y), (u, v) = points[ends[0]], points[ends[1]]
            off = random.uniform(-2.0, 2.0)
            points[f"m{k}"] = [(x + u) / 2 - off * (v - y), (y + v) / 2 + off * (u - x)]
            turn = random.choice(("ccw", "cw"))
            curves[f"e{k}"] = {"kind": "arc", "ends": ends, "center": f"m{k}", "turn": turn}
        else:
            curves[f"e{k}"] = {"kind": "line", "ends": ends}
        if random.random() < 0.6:
            bindings[f"b{k + 1}"] = {"kind": "distance", "of": ends,
                                     "value": str(random.randint(20, 60))}
    for k in range(random.randint(0, 3)):
        points[f"c{k}"] = [random.uniform(-20, 20), random.uniform(-20, 20)]
        curves[f"h{k}"] = {"kind": "circle", "center": f"c{k}", "radius": random.uniform(1, 9)}
        bindings[f"d{k}"] = {"kind": "diameter", "of": [f"h{k}"], "value": "8"}
    patterns: Tree = {}
    if "h0" in curves and random.random() < 0.5:
        patterns["g"] = {"kind": "polar", "curves": ["h0"], "center": "c0" if count % 2 else "p0",
                         "count": random.randint(1, 12), "span": "360"}
    return {"format": "part-profile", "version": 1, "name": "Plate",
            "unit": random.choice(("mm", "in")), "material": {"thickness": 3}, "points": points,
            "parameters": {"wall": "8"}, "curves": curves, "bindings": bindings,
            "patterns": patterns}


def _some(tree: Tree, key: str, random: Random) -> str:
    return random.choice(list(tree[key]))


def odd_value(tree: Any, random: Random) -> None:
    """Put something that does not belong there somewhere."""
    while True:
        keys = list(tree) if isinstance(tree, dict) else list(range(len(tree)))
        key = random.choice(keys)
        inner = tree[key]
        if not isinstance(inner, (dict, list)) or not inner or random.random() < 0.25:
            tree[key] = random.choice(ODD)
            return
        tree = inner


def taken_out(tree: Any, random: Random) -> None:
    """Take something out, somewhere."""
    while True:
        keys = list(tree) if isinstance(tree, dict) else list(range(len(tree)))
        key = random.choice(keys)
        inner = tree[key]
        if not isinstance(inner, (dict, list)) or not inner or random.random() < 0.3:
            del tree[key]
            return
        tree = inner


def other_value(tree: Tree, random: Random) -> None:
    binding = tree["bindings"][_some(tree, "bindings", random)]
    plain = (repr(random.uniform(0.01, 200.0)), str(random.randint(1, 120)))
    binding["value"] = random.choice(TEXTS if random.random() < 0.4 else plain)


def other_kind(tree: Tree, random: Random) -> None:
    tree["bindings"][_some(tree, "bindings", random)]["kind"] = random.choice(KINDS)


def other_operands(tree: Tree, random: Random) -> None:
    of = tree["bindings"][_some(tree, "bindings", random)]["of"]
    of[random.randrange(len(of))] = _some(tree, random.choice(("points", "curves")), random)


def new_binding(tree: Tree, random: Random) -> None:
    names = [*tree["points"], *tree["curves"]]
    binding: Tree = {"kind": random.choice(KINDS), "of": random.sample(names, random.randint(1, 3))}
    if random.random() < 0.6:
        binding["value"] = str(random.randint(1, 90))
    tree["bindings"][f"n{random.randrange(99)}"] = binding


def other_side(tree: Tree, random: Random) -> None:
    words = ("left", "right", "above", "below", "inside", "outside", "ccw", "cw", "0", 1)
    tree["bindings"][_some(tree, "bindings", random)]["side"] = random.choice(words)


def moved_point(tree: Tree, random: Random) -> None:
    place = tree["points"][_some(tree, "points", random)]
    place[:] = random.choice((
        tree["points"][_some(tree, "points", random)],  # two in one place
        [random.uniform(-90, 90), random.uniform(-90, 90)],
        [1e9, -1e9], [1e-300, 5e-324], [place[0], place[0]]))


def other_end(tree: Tree, random: Random) -> None:
    curve = tree["curves"][_some(tree, "curves", random)]
    curve["ends"][random.randrange(2)] = _some(tree, "points", random)


def other_curve(tree: Tree, random: Random) -> None:
    curve = tree["curves"][_some(tree, "curves", random)]
    key, words = random.choice((
        ("role", ("outline", "layout", "axis")), ("turn", ("cw", "ccw")),
        ("radius", (1e-9, 5, 1e9)), ("center", tuple(tree["points"]))))
    curve[key] = random.choice(words)


def other_pattern(tree: Tree, random: Random) -> None:
    some = random.sample(list(tree["curves"]), random.randint(1, 2))
    count = random.choice((1, 2, 3, 12, 60, 200))
    if random.random() < 0.5:
        pattern: Tree = {"kind": "grid", "curves": some, "count": [count, random.choice((1, 2, 5))],
                         "step": [random.choice(("0", "1", "20", "-5", "wall")), "7"],
                         "angle": random.choice(("0", "30", "400"))}
    else:
        pattern = {"kind": "polar", "curves": some, "center": _some(tree, "points", random),
                   "count": count, "span": random.choice(("360", "90", "0", "-30", "720"))}
    tree.setdefault("patterns", {})[random.choice(("n1", "g"))] = pattern


def other_mirror(tree: Tree, random: Random) -> None:
    axes = random.sample(list(tree["curves"]), 2)
    mirrors = [{"axis": axis, "curves": random.choice(("outline", axes))} for axis in axes]
    tree["mirror"] = random.choice((mirrors, mirrors[0], None, [], {}))


def other_parameter(tree: Tree, random: Random) -> None:
    name = random.choice([*tree["parameters"], "a", "b", "pi", "wall"])
    tree["parameters"][name] = random.choice(TEXTS + tuple(f"{n}*2" for n in tree["parameters"]))


def doubled(tree: Tree, random: Random) -> None:
    """The same curve or binding once more under another name."""
    group = tree[random.choice(("curves", "bindings"))]
    group[f"z{random.randrange(9)}"] = copy.deepcopy(group[random.choice(list(group))])


def scaled(tree: Tree, random: Random) -> None:
    by = random.choice((1e-9, 1e-3, -1.0, 25.4, 1e6))
    for place in tree["points"].values():
        place[:] = [by * place[0], by * place[1]]


CHANGES = (odd_value, odd_value, taken_out, other_value, other_value, other_kind, other_operands,
           new_binding, other_side, moved_point, moved_point, other_end, other_curve,
           other_pattern, other_mirror, other_parameter, doubled, scaled)


def in_bytes(content: bytes, random: Random) -> bytes:
    """One to four pieces changed, taken out, put in or cut off."""
    data = bytearray(content)
    for _ in range(random.randint(1, 4)):
        at = random.randrange(len(data) + 1)
        match random.randrange(6):
            case 0:
                data[at : at + 1] = bytes([random.randrange(256)])
            case 1:
                del data[at : at + random.randint(1, 20)]
            case 2:
                start = random.randrange(len(content))
                data[at:at] = content[start : start + random.randint(1, 200)]
            case 3:
                data[at:at] = random.choice(PIECES)
            case 4 if random.random() < 0.2:
                del data[at:]
            case _:
                digits = [k for k, byte in enumerate(data) if 48 <= byte <= 57]
                if digits:
                    data[random.choice(digits)] = random.choice(b"0123456789.-e")
    return bytes(data)
