"""A test coupon that tells the kerf: cut on its lines, measured, and the kerf is what is missing.

A square with two round holes and a comb of open slots along its lower edge. It is written at
nominal size, so that half of the kerf comes off the material all along the lines: the square comes
out smaller by one kerf, holes and slots wider by one (by arithmetic). The slots are narrower than
one gauge (the shank of a drill, a rod) by a kerf each, so that the gauge goes into those for which
the real kerf is wide enough. The corner between the upper and the left edge is bevelled: with it up
on the left, slot 1 is the first from the left.

Thicknesses and widths of the cut from which the sizes follow are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import ceil
from types import MappingProxyType
from typing import Literal, TypeAlias

from sketcher.errors import EditError
from sketcher.geometry.curves import XY
from sketcher.inspect.stock import Process
from sketcher.inspect.words import bare_length, length
from sketcher.part.value import Binding, CircleCurve, LineCurve, Material, Part, Unit
from sketcher.quantity.units import convert

Reading: TypeAlias = Literal["width", "height", "hole1", "hole2", "slot"]

TRIED: Mapping[Process, Mapping[Unit, tuple[float, ...]]] = MappingProxyType({
    "laser": MappingProxyType({
        "mm": (0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4),
        "in": (0.002, 0.004, 0.006, 0.008, 0.010, 0.012, 0.014, 0.016)}),
    "plasma": MappingProxyType({
        "mm": (0.6, 1.0, 1.4, 1.8, 2.2, 2.6, 3.0),
        "in": (0.024, 0.040, 0.056, 0.072, 0.088, 0.104, 0.120)}),
})
"""Kerfs for which there is a slot, from the thinnest that are met to the widest (common practice,
no source)."""

STEPS: Mapping[Unit, float] = MappingProxyType({"mm": 1.0, "in": 0.0625})
"""All sizes are whole multiples of this."""


@dataclass(frozen=True, slots=True)
class CouponSizes:
    """Nominal sizes of a coupon in its unit.

    Parameters
    ----------
    unit : "mm" or "in"
    process : "laser" or "plasma"
    thickness : float
        Of the plate that it is cut from.
    side : float
        Of the square.
    holes : tuple of float
        Two diameters; the first hole is the left one.
    gauge : float
        Width of what is tried in the slots.
    kerfs : tuple of float
        For each slot from the left, the kerf with which the gauge just goes in.
    web : float
        Between slots, and the legs of the bevel.
    """

    unit: Unit
    process: Process
    thickness: float
    side: float
    holes: tuple[float, float]
    gauge: float
    kerfs: tuple[float, ...]
    web: float

    @property
    def depth(self) -> float:
        """Of the slots."""
        return 2.0 * self.gauge

    @property
    def slots(self) -> tuple[float, ...]:
        """Nominal widths, from the left."""
        return tuple(round(self.gauge - kerf, 6) for kerf in self.kerfs)


@dataclass(frozen=True, slots=True)
class MeasuredKerf:
    """A kerf by one reading: between `least` and `most`, which a caliper makes one."""

    reading: Reading
    least: float
    most: float


def coupon_sizes(process: Process, unit: Unit, thickness: float) -> CouponSizes:
    """Return the sizes of the coupon for a process and a thickness.

    Slots, webs and holes keep the usual least sizes of the process (webs and slots the thickness
    for a laser, 1.5 times it for plasma, holes twice; common practice, no source), so that they
    tell of the kerf and not of a bad cut.

    Raises
    ------
    EditError
        When the thickness is not above zero.
    """
    if not thickness > 0.0:
        raise EditError("thickness", f"{thickness:g} is not above zero", "give the plate's")

    def up(amount: float, step: float = STEPS[unit]) -> float:
        return round(ceil(amount / step - 1e-9) * step, 6)

    def mm(amount: float) -> float:
        return convert(amount, "mm", unit)

    kerfs, thick = TRIED[process][unit], (1.5 if process == "plasma" else 1.0) * thickness
    gauge = up(max(mm(6.0), thick + kerfs[-1]))
    web = up(max(mm(5.0), thick + kerfs[-1]))
    small = up(max(mm(12.0), 2.0 * thickness))
    side = up(len(kerfs) * gauge + (len(kerfs) + 1) * web, 5.0 * STEPS[unit])
    return CouponSizes(unit, process, thickness, side, (up(1.75 * small), small), gauge, kerfs, web)


def coupon_part(sizes: CouponSizes) -> Part:
    """Return the coupon as a part, every place dimensioned from its lower left corner."""
    outline = tuple(_outline(sizes))
    middle = 0.5 * (sizes.depth + sizes.side)
    centers = {"k1": (_step(0.3 * sizes.side, sizes), _step(middle, sizes)),
               "k2": (_step(0.72 * sizes.side, sizes), _step(middle, sizes))}
    points = {f"p{k}": at for k, at in enumerate(outline, 1)} | centers
    count = len(outline)
    curves: dict[str, LineCurve | CircleCurve] = {
        f"e{k}": LineCurve((f"p{k}", f"p{k % count + 1}")) for k in range(1, count + 1)}
    bindings = {"zero": Binding("fixed", ("p1",))}
    for name, (x, y) in points.items():
        if name != "p1":
            bindings[f"x{name}"] = (Binding("run", ("p1", name), _typed(x)) if x
                                    else Binding("plumb", ("p1", name)))
            bindings[f"y{name}"] = (Binding("rise", ("p1", name), _typed(y)) if y
                                    else Binding("level", ("p1", name)))
    for k, diameter in enumerate(sizes.holes, 1):
        curves[f"h{k}"] = CircleCurve(f"k{k}", 0.5 * diameter)
        bindings[f"d{k}"] = Binding("diameter", (f"h{k}",), _typed(diameter))
    return Part(name="Kerf coupon", unit=sizes.unit).having(
        material=Material("", sizes.thickness), points=points, curves=curves, bindings=bindings)


def _outline(sizes: CouponSizes) -> Iterable[XY]:
    """Corners from the lower left one on, counter-clockwise."""
    yield 0.0, 0.0
    pitch = (sizes.side - sizes.web) / len(sizes.kerfs)
    for k, width in enumerate(sizes.slots):
        x = _step(sizes.web + k * pitch, sizes)
        yield from ((x, 0.0), (x, sizes.depth), (x + width, sizes.depth), (x + width, 0.0))
    yield sizes.side, 0.0
    yield sizes.side, sizes.side
    yield sizes.web, sizes.side
    yield 0.0, sizes.side - sizes.web


def _step(amount: float, sizes: CouponSizes) -> float:
    return round(round(amount / STEPS[sizes.unit]) * STEPS[sizes.unit], 6)


def _typed(amount: float) -> str:
    return f"{amount:.6f}".rstrip("0").rstrip(".")


def kerf_by(
    sizes: CouponSizes, reading: Reading, value: float, gauge: float | None = None
) -> MeasuredKerf:
    """Return the kerf that one reading tells.

    Parameters
    ----------
    sizes : CouponSizes
        By which the coupon was cut.
    reading : str
        ``width`` and ``height`` of the square, ``hole1`` and ``hole2`` as measured; ``slot``: the
        number of the last slot that the gauge goes into, 0 for none.
    value : float
    gauge : float, optional
        What the caliper says of the gauge; without it, what it should be.

    Raises
    ------
    EditError
        When the reading shows no kerf, or there is no such slot.
    """
    if reading == "slot":
        return _by_slot(sizes, value, sizes.gauge if gauge is None else gauge)
    nominal = {"hole1": sizes.holes[0], "hole2": sizes.holes[1]}.get(reading, sizes.side)
    kerf = value - nominal if reading.startswith("hole") else nominal - value
    if not 0.0 < kerf < sizes.gauge:
        wrong = "larger" if reading.startswith("hole") else "smaller"
        raise EditError(
            f"{reading} {bare_length(value, sizes.unit)}",
            f"tells of no kerf: {length(nominal, sizes.unit)} nominal comes out {wrong} by one",
            "measure again; was it cut on its lines, with nothing offset, and by these options?")
    return MeasuredKerf(reading, kerf, kerf)


def _by_slot(sizes: CouponSizes, value: float, gauge: float) -> MeasuredKerf:
    count = len(sizes.slots)
    if value not in range(count + 1):
        raise EditError(f"slot {value:g}", "is none of them",
                        f"give the number of the last one that the gauge goes into, 0 to {count}")
    # One more at the end: as much wider than the last as that is than the one before it.
    bounds = [gauge - width for width in sizes.slots]
    bounds = [0.0, *bounds, 2.0 * bounds[-1] - bounds[-2]]
    least, most = bounds[int(value)], bounds[int(value) + 1]
    if not (0.0 <= least < most and gauge < 2.0 * sizes.gauge):
        raise EditError(f"gauge {bare_length(gauge, sizes.unit)}",
                        "is none for slots as wide as these are drawn",
                        f"take one of about {length(sizes.gauge, sizes.unit)}")
    return MeasuredKerf("slot", least, most)


def kerf_of_all(found: Iterable[MeasuredKerf]) -> tuple[float, float]:
    """Return the kerf of several readings, and half of what they differ by.

    The mean of what the caliper says; the slots, which only tell between what it lies, count where
    nothing else was measured.
    """
    readings = tuple(found)
    exact = [one for one in readings if one.least == one.most] or list(readings)
    middles = [0.5 * (one.least + one.most) for one in exact]
    spread = max(one.most for one in exact) - min(one.least for one in exact)
    return sum(middles) / len(middles), 0.5 * spread
