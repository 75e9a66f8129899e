"""Intersections against sympy's exact ones."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest

from sketcher.geometry.curves import Circle, Line
from sketcher.geometry.meet import meet

sympy = pytest.importorskip("sympy")


def rational(rng):
    return Fraction(rng.randint(-60, 60), rng.choice([1, 2, 3, 4, 7]))


def exact(value):
    return sympy.Rational(value.numerator, value.denominator)


def random_pair(seed):
    rng = random.Random(seed)
    mine, theirs = [], []
    for kind in rng.choices("lc", k=2):
        a, b, c, d = (rational(rng) for _ in range(4))
        if kind == "l" and (a, b) != (c, d):
            mine.append(Line((float(a), float(b)), (float(c), float(d))))
            theirs.append(sympy.Segment((exact(a), exact(b)), (exact(c), exact(d))))
        else:
            radius = abs(c) + Fraction(1, 2)
            mine.append(Circle((float(a), float(b)), float(radius)))
            theirs.append(sympy.Circle((exact(a), exact(b)), exact(radius)))
    return mine, theirs


@pytest.mark.parametrize("seed", range(60))
def test_bounded_intersections(seed):
    mine, theirs = random_pair(seed)
    wanted = sorted(
        tuple(float(c) for c in p.evalf(30).args) for p in theirs[0].intersection(theirs[1])
    )
    found = sorted(m.point for m in meet(*mine))
    assert len(found) == len(wanted)
    for f, w in zip(found, wanted, strict=True):
        assert f == pytest.approx(w, abs=1e-10)


@pytest.mark.parametrize(
    ("a", "b", "place"),
    [
        (Line((-4, 5), (8, 5)), Circle((1, 2), 3), (1, 5)),
        (Line((0, 25), (25, 0)), Circle((0, 0), 12.5 * 2**0.5), (12.5, 12.5)),
        (Circle((0, 0), 5), Circle((6, 8), 5), (3, 4)),
        (Circle((0, 0), 10), Circle((3, 4), 5), (6, 8)),
        (Circle((3, 4), 5), Circle((0, 0), 10), (6, 8)),
    ],
)
def test_tangent_pairs_from_pythagorean_triples(a, b, place):
    (m,) = meet(a, b)
    assert m.kind == "touch"
    assert m.point == pytest.approx(place, abs=1e-12)
