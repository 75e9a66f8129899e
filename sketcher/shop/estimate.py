"""What a cut takes: lengths, mass and blank from the plan, time and price by somebody's own rates.

Time is length / speed + pierces x time + rapid, to which corners, acceleration and the height of
the torch add (common practice, no source). The numbers stand in the formula, so that each can be
checked with a pencil.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sketcher.geometry.bounds import bounds_of
from sketcher.inspect.inspection import Inspection
from sketcher.quantity.format import length
from sketcher.quantity.units import convert
from sketcher.shop.cut_plan import CutPlan
from sketcher.shop.cut_rates import TEMPLATE, CutRate, RateTable

LONGER = ("Corners, acceleration, heat and the height of the torch make it longer: compare it with "
          "a job that you timed.")
PER_HOUR = 60.0
PER_MINUTE = 60.0


@dataclass(frozen=True, slots=True)
class CutTimes:
    """What one process takes, in minutes, and what it costs; `blank` in kilograms, None unknown."""

    rate: CutRate
    cutting: float
    piercing: float
    rapid: float
    setup: float
    blank: float | None
    hour: float

    @property
    def minutes(self) -> float:
        """All of it."""
        return self.cutting + self.piercing + self.rapid + self.setup

    @property
    def machine_price(self) -> float:
        """The machine's time."""
        return self.minutes / PER_HOUR * self.hour

    @property
    def plate_price(self) -> float | None:
        """The blank; None where its mass is not known."""
        return None if self.blank is None else self.blank * self.rate.kilogram

    @property
    def price(self) -> float | None:
        """Both; None where there is no price at all, or one that cannot be told."""
        if not (self.hour or self.rate.kilogram):
            return None
        plate = self.plate_price if self.rate.kilogram else 0.0
        return None if plate is None else self.machine_price + plate


@dataclass(frozen=True, slots=True)
class CutEstimate:
    """What a plan of a cut comes to.

    Parameters
    ----------
    plan : CutPlan
    material : str
        As the part names it.
    mass, blank_mass : float or None
        Of all copies, and of what they are cut from, in kg; None without a density.
    blank : (float, float)
        Width and height in the part's unit: the plate where one is given, else what all cuts fit
        in, and the margin around it.
    margin : float
        In the part's unit.
    rates : RateTable or None
    times : tuple of CutTimes
        One for each process of which there are rates.
    """

    plan: CutPlan
    material: str
    mass: float | None
    blank: tuple[float, float]
    blank_mass: float | None
    margin: float
    rates: RateTable | None
    times: tuple[CutTimes, ...]

    def as_dict(self) -> dict[str, object]:
        """Return it for JSON: lengths in the part's unit, masses in kg, times in minutes."""
        plan = self.plan
        return {
            "name": plan.name, "unit": plan.unit, "material": self.material,
            "thickness": plan.thickness, "copies": plan.copies, "cut": plan.length,
            "pierces": plan.pierces, "marks": len(plan.marks), "rapid": plan.travel,
            "mass": self.mass, "blank": list(self.blank), "blank_mass": self.blank_mass,
            "margin": self.margin, "currency": self.rates.currency if self.rates else "",
            "times": [{
                "process": each.rate.process, "cutting": each.cutting, "piercing": each.piercing,
                "rapid": each.rapid, "setup": each.setup, "minutes": each.minutes,
                "price": each.price} for each in self.times],
        }


def estimate_cut(
    inspection: Inspection, plan: CutPlan, rates: RateTable | None = None
) -> CutEstimate:
    """Return what a plan takes.

    Parameters
    ----------
    inspection : Inspection
        Of the part that is cut.
    plan : CutPlan
        Its cut.
    rates : RateTable, optional
        Speeds and prices; without any there are no times.

    Raises
    ------
    FileError
        When the rates say nothing of such a plate.
    """
    material, unit = inspection.part.material, plan.unit
    margin = convert(rates.margin, rates.unit, unit) if rates else 0.0
    blank = _blank(plan, margin)
    meters = convert(1.0, unit, "m")
    heavy = blank[0] * blank[1] * plan.thickness * meters**3 * material.density or None
    one = inspection.profile.mass
    fitting = rates.fitting(material.name, plan.thickness, unit, plan.settings.process) \
        if rates else ()
    return CutEstimate(
        plan, material.name, None if one is None else one * plan.copies, blank, heavy,
        margin, rates,
        tuple(_times(plan, rates, rate, heavy) for rate in fitting if rates is not None))


def _blank(plan: CutPlan, margin: float) -> tuple[float, float]:
    if plan.settings.plate is not None:
        return plan.settings.plate
    x0, y0, x1, y1 = bounds_of(curve for path in plan.paths for curve in path.curves)
    return (x1 - x0 + 2.0 * margin, y1 - y0 + 2.0 * margin)


def _times(plan: CutPlan, rates: RateTable, rate: CutRate, blank: float | None) -> CutTimes:
    def minutes(way: float, speed: float) -> float:
        return convert(way, plan.unit, rates.unit) / speed

    return CutTimes(rate, minutes(plan.length, rate.speed), plan.pierces * rate.pierce / PER_MINUTE,
                    minutes(plan.travel, rates.rapid), rates.setup, blank, rates.hour)


def as_lines(estimate: CutEstimate) -> Iterator[str]:
    """Yield an estimate as it is read: quantities, then the formula with its numbers."""
    plan, unit = estimate.plan, estimate.plan.unit
    copies = plan.copies
    yield (f"Estimate: {plan.name}{f', {copies} copies' if copies > 1 else ''}, "
           f"{estimate.material or 'no material given'}, {length(plan.thickness, unit)} {unit}")
    yield f"  L  cut      {length(plan.length, unit)} {unit}, lead-ins included"
    yield f"  n  pierces  {plan.pierces}"
    if plan.marks:
        yield f"     marks    {len(plan.marks)}, not counted in the time"
    yield f"  R  rapid    {length(plan.travel, unit)} {unit}, from the first cut to the last"
    yield f"     mass     {_kilograms(estimate.mass)}"
    width, height = (length(side, unit) for side in estimate.blank)
    around = "" if not estimate.margin or plan.settings.plate else \
        f", with {length(estimate.margin, unit)} {unit} all round"
    yield f"  M  blank    {width} x {height} {unit}, {_kilograms(estimate.blank_mass)}{around}"
    if estimate.rates is None:
        yield from ("", "Time and price need rates of your own: --rates FILE.toml, written so:", "")
        yield from TEMPLATE.splitlines()
        return
    for each in estimate.times:
        yield ""
        yield from _formula(estimate, estimate.rates, each)
    yield from ("", LONGER)


def figures(minutes: float) -> str:
    """Return a time to three figures, without an exponent."""
    return f"{minutes:.3g}" if 1e-3 < minutes < 999.5 else f"{minutes:.0f}"


def _formula(estimate: CutEstimate, rates: RateTable, each: CutTimes) -> Iterator[str]:
    plan, rate, unit = estimate.plan, each.rate, rates.unit
    cut, rapid = (f"{convert(way, plan.unit, unit):.6g} {unit}"
                  for way in (plan.length, plan.travel))
    yield f"{rate.process} on {rate.material}, {rate.thickness:g} {unit}, by {rates.place}"
    yield "  t = L / v + n p + R / r + s"
    yield (f"    = {cut} / ({rate.speed:g} {unit}/min) + {plan.pierces} x {rate.pierce:g} s + "
           f"{rapid} / ({rates.rapid:g} {unit}/min) + {rates.setup:g} min")
    parts = " + ".join(map(figures, (each.cutting, each.piercing, each.rapid, each.setup)))
    yield f"    = ({parts}) min = {figures(each.minutes)} min"
    money = rates.currency or "of your currency"
    if each.price is None:
        yield ("  no price: the mass of the blank is not known" if rate.kilogram
               else "  no price: the rates have none")
        return
    yield "  P = t h + M k"
    yield (f"    = {figures(each.minutes)} min x {rates.hour:g} {money}/h + "
           f"{estimate.blank_mass or 0.0:.4g} kg x {rate.kilogram:g} {money}/kg = "
           f"{each.price:.2f} {money}")


def _kilograms(mass: float | None) -> str:
    return "mass not known: no density" if mass is None else f"{mass:.4g} kg"
