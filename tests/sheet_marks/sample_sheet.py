"""A sheet made by hand, stroke by stroke, with nothing to mark: what the judges are tried on.

An ISO A4 at 1:1 with a plate of 100 by 60, two holes of 20 and a corner cut by a fillet of 12.
Every item has a name, so that a test can spoil one of them.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, replace
from pathlib import Path

WIDE, NARROW = 0.5, 0.25
HIGH = 297.0
XY = tuple[float, float]


@dataclass(frozen=True)
class Piece:
    """A straight stroke or an arc (center, radius, angles in degrees) of a kind and a source."""

    kind: str
    source: str
    a: XY
    b: XY
    radius: float = 0.0
    dashes: tuple[float, ...] = ()
    width: float = NARROW

    def svg(self) -> str:
        if self.radius:
            (x, y), (low, high), r = self.a, self.b, self.radius
            middle = 0.5 * (low + high)
            p, q, m = ((x + r * math.cos(math.radians(t)), y + r * math.sin(math.radians(t)))
                       for t in (low, high, middle))
            path = (f"M {p[0]:.6f} {HIGH - p[1]:.6f} A {r} {r} 0 0 0 {m[0]:.6f} {HIGH - m[1]:.6f} "
                    f"A {r} {r} 0 0 0 {q[0]:.6f} {HIGH - q[1]:.6f}")
        else:
            path = f"M {self.a[0]} {HIGH - self.a[1]} L {self.b[0]} {HIGH - self.b[1]}"
        dash = f' stroke-dasharray="{" ".join(map(str, self.dashes))}"' if self.dashes else ""
        return (f'<path d="{path}" stroke-width="{self.width}"{dash} data-class="{self.kind}" '
                f'data-source="{self.source}"/>')


@dataclass(frozen=True)
class Words:
    """Lettering, its middle at a place."""

    text: str
    source: str
    at: XY
    high: float = 3.5
    turn: float = 0.0

    def svg(self) -> str:
        x, y = self.at[0], HIGH - self.at[1]
        wide = 0.6 * self.high * len(self.text)
        return (f'<text x="{x}" y="{y}" font-size="{self.high / 0.66}" text-anchor="middle" '
                f'textLength="{wide}" transform="rotate({-self.turn} {x} {y})" '
                f'data-source="{self.source}">{self.text}</text>')


@dataclass(frozen=True)
class Head:
    """An arrowhead with its tip at a place, pointing by an angle in degrees."""

    source: str
    tip: XY
    turn: float

    def svg(self) -> str:
        c, s = math.cos(math.radians(self.turn)), math.sin(math.radians(self.turn))
        x, y = self.tip
        corners = [(x, y), (x - 3 * c - 0.5 * s, y - 3 * s + 0.5 * c),
                   (x - 3 * c + 0.5 * s, y - 3 * s - 0.5 * c)]
        points = " ".join(f"{u:.5f},{HIGH - v:.5f}" for u, v in corners)
        return f'<polygon points="{points}" data-source="{self.source}"/>'


Items = dict[str, Piece | Words | Head]
LOW, LEFT, TALL, LONG = 140.0, 55.0, 60.0, 100.0
HOLES = ((80.0, 170.0), (130.0, 170.0))
R = 10.0


def sample() -> Items:
    """Every item of the sheet by name."""
    right, top = LEFT + LONG, LOW + TALL
    items: Items = {}
    for name, a, b in (("bottom", (LEFT, LOW), (right, LOW)), ("right", (right, LOW), (right, top)),
                       ("top", (right, top), (LEFT + 12, top)),
                       ("left", (LEFT, top - 12), (LEFT, LOW))):
        items[name] = Piece("visible", f"curve:{name}", a, b, width=WIDE)
    items["fillet"] = Piece("visible", "curve:fillet", (LEFT + 12, top - 12), (90, 180), 12.0,
                            width=WIDE)
    for n, at in enumerate(HOLES):
        items[f"hole{n}"] = Piece("visible", f"curve:h{n}", at, (0, 360), R, width=WIDE)
        for way, (u, v) in (("level", (1, 0)), ("plumb", (0, 1))):
            long = 2 * (R + 3.0)  # 3 mm past the edge
            a = (at[0] - 0.5 * long * u, at[1] - 0.5 * long * v)
            b = (at[0] + 0.5 * long * u, at[1] + 0.5 * long * v)
            items[f"{way}{n}"] = Piece("center", f"center:h{n}/{way}", a, b,
                                       dashes=(0.5 * long - 2.0, 1.0, 2.0, 1.0))
    items |= length("wide", "100", (LEFT, LOW), (right, LOW), 120.0)
    items |= length("apart", "50", (HOLES[0][0], HOLES[0][1] + 13.0),
                    (HOLES[1][0], HOLES[1][1] + 13.0), 215.0)
    items |= tall("tall", "60", (right, LOW), (right, top), 170.0)
    items |= leader("size", "2x Ø20", HOLES[0], R, 10.0, -60.0)
    items |= leader("round", "R12", (LEFT + 12, top - 12), 12.0, 10.0, 150.0)
    return items | block()


def length(name: str, text: str, a: XY, b: XY, y: float) -> Items:
    """A level dimension with its extension lines."""
    source = f"dimension:{name}"
    past = 2.0 if y > a[1] else -2.0
    gap = math.copysign(1.5, past)
    return {
        f"{name}.a": Piece("extension", source, (a[0], a[1] + gap), (a[0], y + past)),
        f"{name}.b": Piece("extension", source, (b[0], b[1] + gap), (b[0], y + past)),
        f"{name}.line": Piece("dimension", source, (a[0], y), (b[0], y)),
        f"{name}.one": Head(source, (a[0], y), 180.0), f"{name}.two": Head(source, (b[0], y), 0.0),
        f"{name}.text": Words(text, source, (0.5 * (a[0] + b[0]), y + 0.8)),
    }


def tall(name: str, text: str, a: XY, b: XY, x: float) -> Items:
    """A plumb dimension to the right."""
    source = f"dimension:{name}"
    return {
        f"{name}.a": Piece("extension", source, (a[0] + 1.5, a[1]), (x + 2.0, a[1])),
        f"{name}.b": Piece("extension", source, (b[0] + 1.5, b[1]), (x + 2.0, b[1])),
        f"{name}.line": Piece("dimension", source, (x, a[1]), (x, b[1])),
        f"{name}.one": Head(source, (x, a[1]), -90.0), f"{name}.two": Head(source, (x, b[1]), 90.0),
        f"{name}.text": Words(text, source, (x - 0.8, 0.5 * (a[1] + b[1])), turn=90.0),
    }


def leader(name: str, text: str, hub: XY, r: float, long: float, turn: float) -> Items:
    """A radial leader with a level shoulder of 3 mm."""
    source = f"dimension:{name}"
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    tip = (hub[0] + r * c, hub[1] + r * s)
    knee = (tip[0] + long * c, tip[1] + long * s)
    side = 1.0 if c > 0 else -1.0
    end = (knee[0] + 3.0 * side, knee[1])
    half = 0.3 * 3.5 * len(text)
    return {f"{name}.line": Piece("leader", source, tip, knee),
            f"{name}.shoulder": Piece("leader", source, knee, end),
            f"{name}.head": Head(source, tip, turn + 180.0),
            f"{name}.text": Words(text, source, (end[0] + side * (0.8 + half), end[1] - 1.75))}


def block() -> Items:
    """Frame and title block."""
    corners = [(20, 10), (200, 10), (200, 287), (20, 287), (20, 10)]
    items: Items = {f"frame{k}": Piece("frame", "sheet:frame", a, b, width=0.7)
                    for k, (a, b) in enumerate(itertools.pairwise(corners))}
    words = ("Part", "Number", "Page", "Date", "Drawn by", "Approved by", "Scale", "1:1",
             "Material", "Thickness", "Owner", "General tolerances ISO 2768-m, dimensions in mm")
    for n, word in enumerate(words):
        items[word] = Words(word, "sheet:title", (110.0, 20.0 + 7.0 * n))
    return items


def write(items: Items, path: Path) -> Path:
    """Write the sheet as SVG."""
    body = "\n".join(item.svg() for item in items.values())
    path.write_text(f'<svg xmlns="http://www.w3.org/2000/svg" width="210mm" height="{HIGH}mm">'
                    f"{body}</svg>", encoding="utf-8")
    return path


def moved(item: Piece | Words, dx: float, dy: float) -> Piece | Words:
    """The item at another place."""
    if isinstance(item, Words):
        return replace(item, at=(item.at[0] + dx, item.at[1] + dy))
    if item.radius:
        return replace(item, a=(item.a[0] + dx, item.a[1] + dy))
    return replace(item, a=(item.a[0] + dx, item.a[1] + dy), b=(item.b[0] + dx, item.b[1] + dy))
