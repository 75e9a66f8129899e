"""Fillets, tangent lines and touching circles against handbooks, published problems and sympy."""

from __future__ import annotations

from math import asin, cos, hypot, pi, radians, sin, sqrt, tan

import pytest

from sketcher.geometry.arcs import bulge
from sketcher.geometry.corner_blends import fillet
from sketcher.geometry.curves import Arc, Circle, Line
from sketcher.geometry.evaluate import midpoint, point_at
from sketcher.geometry.moments import signed_area
from sketcher.geometry.tangent_circles import circles_of_radius, circles_touching
from sketcher.geometry.tangent_lines import common_tangents, tangents_from

# Route surveying (Engineering Surveying, 6th ed., ch. 10): interior angle, tangent length,
# corner to arc, rise, chord, length of the fillet of radius 1, and the area that it removes.
FILLETS = [
    (30, 3.73205080756888, 2.86370330515627, 0.741180954897479, 1.93185165257814,
     2.61799387799149, 2.42305386857313),
    (45, 2.41421356237310, 1.61312592975275, 0.617316567634910, 1.84775906502257,
     2.35619449019234, 1.23611631727692),
    (60, 1.73205080756888, 1.0, 0.5, 1.73205080756888, 2.09439510239320, 0.684853256372280),
    (75, 1.30322537284121, 0.642679631704582, 0.391238570991279, 1.58670668058247,
     1.83259571459405, 0.386927515544183),
    (90, 1.0, 0.414213562373095, 0.292893218813452, 1.41421356237310, 1.57079632679490,
     0.214601836602552),
    (120, 0.577350269189626, 0.154700538379252, 0.133974596215561, 1.0, 1.04719755119660,
     0.0537514935913269),
    (135, 0.414213562373095, 0.082392200292394, 0.0761204674887132, 0.765366864730180,
     0.785398163397448, 0.0215144806743709),
    (150, 0.267949192431123, 0.035276180410083, 0.0340741737109317, 0.517638090205042,
     0.523598775598299, 0.00614980463197327),
]


@pytest.mark.parametrize(("phi", "t", "e", "m", "chord", "length", "removed"), FILLETS)
def test_fillet_between_two_lines(phi, t, e, m, chord, length, removed):
    angle = radians(phi)
    a = Line((9.0, 0.0), (0.0, 0.0))
    b = Line((0.0, 0.0), (9.0 * cos(angle), 9.0 * sin(angle)))
    made = fillet(a, b, 1.0)
    assert hypot(*made.at_a) == pytest.approx(t, rel=1e-13)
    assert hypot(*made.at_b) == pytest.approx(t, rel=1e-13)
    assert hypot(*midpoint(made.arc)) == pytest.approx(e, rel=1e-12)
    assert made.arc.length == pytest.approx(length, rel=1e-13)
    (ax, ay), (bx, by) = made.at_a, made.at_b
    assert hypot(bx - ax, by - ay) == pytest.approx(chord, rel=1e-13)
    mx, my = midpoint(made.arc)
    assert hypot(mx - 0.5 * (ax + bx), my - 0.5 * (ay + by)) == pytest.approx(m)
    corner = [Line((0.0, 0.0), made.at_a), made.arc, Line(made.at_b, (0.0, 0.0))]
    assert abs(signed_area(corner)) == pytest.approx(removed, rel=1e-11)
    assert abs(bulge(made.arc)) == pytest.approx(tan((pi - angle) / 4))


# Encyclopaedia Britannica, 11th ed., "Mechanics", section 59: belts, open and crossed.
BELTS = [
    (5, 3, 10, 9.79795897113271, 6.0, 45.5340908541451, 51.9694647167441),
    (10, 2, 17, 15.0, 12.0415945787923, 75.5384290631372, 80.5903343479926),
    (3, 2, 13, 12.9614813968157, 12.0, 41.7849243428941, 43.6558744649466),
    (8, 8, 20, 20.0, 12.0, 90.2654824574367, 103.938929433488),
    (40, 20, 100, 97.9795897113271, 80.0, 392.509055469655, 425.715692270582),
]


@pytest.mark.parametrize(("big", "small", "apart", "outer", "inner", "opened", "crossed"), BELTS)
def test_tangents_of_two_circles(big, small, apart, outer, inner, opened, crossed):
    first, second = Circle((1.0, 2.0), big), Circle((1.0 + apart * 0.6, 2.0 + apart * 0.8), small)
    found = common_tangents(first, second)
    assert [t.kind for t in found] == ["outer", "outer", "inner", "inner"]
    assert [t.line.length for t in found] == pytest.approx([outer, outer, inner, inner])
    # The belt is two tangents and the arcs between their ends.
    for lines, sense, wanted in ((found[:2], True, opened), (found[2:], False, crossed)):
        right = next(t.line for t in lines if t.side == "right")
        left = next(t.line for t in lines if t.side == "left")
        round_first = Arc(first.center, right.start, left.start)
        round_second = Arc(second.center, left.end, right.end, ccw=sense)
        total = right.length + left.length + round_first.length + round_second.length
        assert total == pytest.approx(wanted, rel=1e-13)
        wrap = pi + 2 * asin((big - small if sense else big + small) / apart)
        assert round_first.sweep == pytest.approx(wrap)


def test_tangent_points_of_two_circles():
    ends = {
        tuple(round(v, 12) for v in (*t.line.start, *t.line.end))
        for t in common_tangents(Circle((0, 0), 5), Circle((10, 0), 3))
    }
    for sign in (1, -1):
        outer = (1, sign * 4.89897948556636, 10.6, sign * 2.93938769133981)
        inner = (4, sign * 3, 7.6, sign * -1.8)
        assert any(e == pytest.approx(outer, abs=1e-11) for e in ends)
        assert any(e == pytest.approx(inner, abs=1e-11) for e in ends)


def test_tangents_from_a_point_agree_with_sympy():
    sympy = pytest.importorskip("sympy")
    for center, radius, point in [((0, 0), 2, (4, 0)), ((1, 2), 3, (7, -5)), ((-2, 1), 1, (5, 5))]:
        exact = sympy.Circle(sympy.Point(*center), radius).tangent_lines(sympy.Point(*point))
        ring = sympy.Circle(sympy.Point(*center), radius)
        wanted = sorted(
            tuple(float(c) for c in ring.intersection(line)[0].evalf(30)) for line in exact
        )
        found = sorted(t.end for t in tangents_from(point, Circle(center, radius)))
        for f, w in zip(found, wanted, strict=True):
            assert f == pytest.approx(w, abs=1e-13)
    (one, _) = tangents_from((4.0, 0.0), Circle((0.0, 0.0), 2.0))
    assert one.length == pytest.approx(2 * sqrt(3))


def test_fillet_outside_two_circles():
    """3-4-5 made for this check: centers by Heron, sqrt(149.76)."""
    found = circles_of_radius(Circle((0, 0), 10), Circle((20, 0), 6), 8)
    (upper,) = (f for f in found if f.sides == ("outside", "outside") and f.circle.center[1] > 0)
    assert upper.circle.center == pytest.approx((13.2, 12.2376468326227))
    assert upper.touches[0] == pytest.approx((7.33333333333333, 6.79869268479038))
    assert upper.touches[1] == pytest.approx((17.0857142857143, 5.24470578540972))


def test_arc_wrapped_round_two_circles():
    found = circles_of_radius(Circle((0, 0), 10), Circle((20, 0), 6), 30)
    (upper,) = (f for f in found if f.sides == ("around", "around") and f.circle.center[1] > 0)
    assert upper.circle.center == pytest.approx((5.6, 19.2))
    assert upper.touches[0] == pytest.approx((-2.8, -9.6))
    assert upper.touches[1] == pytest.approx((23.6, -4.8))


def test_fillet_between_line_and_circle():
    made = fillet(Line((-20, 0), (20, 0)), Circle((0, 10), 6), 4, near=(8, 4))
    assert made.center == pytest.approx((8, 4))
    assert made.at_a == pytest.approx((8, 0))
    assert made.at_b == pytest.approx((4.8, 6.4))


def test_fillets_of_arcs_agree_with_sympy():
    """Line and arc, arc and arc: centers as exact roots of the two distance conditions."""
    sympy = pytest.importorskip("sympy")
    x, y = sympy.symbols("x y", real=True)
    r = sympy.Rational(5, 4)
    steep = Line((0.0, 0.0), (6.0, 20.0))
    arc = Arc((0.0, -12.0), (0.0, 0.0), (12.0, -12.0), ccw=False)
    hook = Arc((-9.0, 0.0), (0.0, 0.0), (-9.0, 9.0))
    loci = {
        steep: [(20 * x - 6 * y) ** 2 - 436 * r**2],
        arc: [x**2 + (y + 12) ** 2 - (12 + s * r) ** 2 for s in (1, -1)],
        hook: [(x + 9) ** 2 + y**2 - (9 + s * r) ** 2 for s in (1, -1)],
    }
    for a, b in [(steep, arc), (arc, hook), (steep, hook)]:
        exact = [
            tuple(float(c.evalf(30)) for c in root)
            for one in loci[a] for other in loci[b] for root in sympy.solve((one, other), [x, y])
        ]
        found = [f.circle.center for f in circles_of_radius(a, b, 1.25)]
        assert len(found) == len(exact)
        for wanted in exact:
            assert min(hypot(wanted[0] - c[0], wanted[1] - c[1]) for c in found) < 1e-12
        center = fillet(a, b, 1.25).center
        assert min(hypot(center[0] - c[0], center[1] - c[1]) for c in exact) < 1e-12


@pytest.mark.parametrize(
    ("given_curvatures", "expected"),
    [((-1, 2, 2), [3, 3]), ((2, 3, 6), [23, -1]), ((-1, 2, 3), [2, 6]),
     ((1, 1, 1), [6.46410161513775, -0.464101615137755])],
)
def test_descartes(given_curvatures, expected):
    """Descartes 1643; Soddy, The Kiss Precise, Nature 137 (1936) 1021."""
    rings = kissing(*given_curvatures)
    signs = []
    for f in circles_touching(*rings):
        # All three outside each other's: the curvature is negative where it goes round the rest.
        around = all(s == "around" for s, k in zip(f.sides, given_curvatures, strict=True) if k > 0)
        signs.append((-1 if around else 1) / f.circle.radius)
    assert sorted(signs) == pytest.approx(sorted(expected), rel=1e-7)


def kissing(k1, k2, k3):
    """Three mutually tangent circles of the given curvatures (negative: around the others)."""
    r = [1 / abs(k) for k in (k1, k2, k3)]

    def apart(i, j, ki, kj):
        return r[i] + r[j] if ki > 0 and kj > 0 else abs(r[i] - r[j])

    d12, d13, d23 = apart(0, 1, k1, k2), apart(0, 2, k1, k3), apart(1, 2, k2, k3)
    x = (d12**2 + d13**2 - d23**2) / (2 * d12)
    y = sqrt(max(0.0, d13**2 - x**2))
    return Circle((0, 0), r[0]), Circle((d12, 0), r[1]), Circle((x, y), r[2])


def test_apollonius_with_rational_solutions():
    """Made for this check: circles (0,0) r1, (4,0) r1, (2,3) r1.5; both solutions rational."""
    found = circles_touching(Circle((0, 0), 1), Circle((4, 0), 1), Circle((2, 3), 1.5))
    by_side = {f.sides: f.circle for f in found}
    outside = by_side["outside", "outside", "outside"]
    assert outside.center == pytest.approx((2, 9 / 20), rel=1e-14)
    assert outside.radius == pytest.approx(21 / 20, rel=1e-14)
    around = by_side["around", "around", "around"]
    assert around.center == pytest.approx((2, 33 / 28), rel=1e-14)
    assert around.radius == pytest.approx(93 / 28, rel=1e-14)


# ICPC Asia 2009, problem "Malfatti Circles" (POJ 3808): radii and centers as published.
MALFATTI = [
    ([(20, 80), (-40, -20), (120, -20)], [21.565935, 24.409005, 27.107493],
     [(24.281677, 45.219486), (3.110950, 4.409005), (54.556724, 7.107493)]),
    ([(20, -20), (120, -20), (-40, 80)], [9.942044, 19.150565, 19.913790],
     [(25.629089, -10.057956), (53.225883, -0.849435), (19.701191, 19.203466)]),
]


@pytest.mark.parametrize(("corners", "radii", "centers"), MALFATTI)
def test_malfatti_circles(corners, radii, centers):
    """Given two of them, the third is among the circles that touch both and either side."""
    for k in range(3):
        i, j = (k + 1) % 3, (k + 2) % 3
        rings = [Circle(centers[n], radii[n]) for n in (i, j)]
        for other in (i, j):
            side = Line(corners[k], corners[other])
            found = [f.circle for f in circles_touching(side, *rings)]
            # The published digits end at 1e-6.
            assert any(
                abs(c.radius - radii[k]) < 2e-5
                and hypot(c.center[0] - centers[k][0], c.center[1] - centers[k][1]) < 5e-5
                for c in found
            )


def test_incircle_and_excircles():
    """Radii area / s and area / (s - a) (Machinery's Handbook; any geometry text)."""
    corners = [(0.0, 0.0), (14.0, 0.0), (5.0, 12.0)]  # sides 13, 15, 14: area 84, s 21
    sides = [Line(corners[k], corners[(k + 1) % 3]) for k in range(3)]
    found = sorted(f.circle.radius for f in circles_touching(*sides))
    assert found == pytest.approx(sorted([4.0, 84 / 7, 84 / 8, 84 / 6]))


def test_circumcircle():
    """Radius a b c / (4 area) for sides 13, 14, 15: 65 / 8."""
    (one,) = circles_touching((0.0, 0.0), (14.0, 0.0), (5.0, 12.0))
    assert one.circle.radius == pytest.approx(65 / 8)
    assert point_at(one.circle, 0.0)[0] == pytest.approx(one.circle.center[0] + 65 / 8)
