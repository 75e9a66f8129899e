"""What the cutting rules look at: contours, narrow places, thickness and process."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType
from typing import Literal, TypeAlias

from sketcher.geometry.curves import XY
from sketcher.inspect.joints import Joint
from sketcher.inspect.measured_dimensions import MeasuredDimension
from sketcher.inspect.necks import Neck, find_necks
from sketcher.inspect.profile import Contour, Profile
from sketcher.quantity.units import convert

Process: TypeAlias = Literal["laser", "plasma"]
PROCESSES: tuple[Process, ...] = ("laser", "plasma")

KERF_MM: Mapping[Process, float] = MappingProxyType({"laser": 0.2, "plasma": 1.5})
"""Width of the cut in mm (common practice, no source): fine laser, standard plasma."""


def usual_kerf(process: Process, unit: str) -> float:
    """Return the width of the cut while nobody has measured it, in a unit."""
    return convert(KERF_MM[process], "mm", unit)


@dataclass(frozen=True, slots=True)
class Advice:
    """What a rule found; `found` and `wanted` are lengths in the part's unit.

    `wanted` is the least that the rule asks for, or with `most` the most that it allows.
    """

    rule: str
    process: str
    where: str
    found: float
    wanted: float
    ids: tuple[str, ...]
    at: XY | None
    why: str
    most: bool = False

    def as_dict(self) -> dict[str, object]:
        """Return the entry of the inspection file."""
        return {
            "rule": self.rule,
            "process": self.process,
            "where": self.where,
            "found": self.found,
            "wanted": self.wanted,
            "most": self.most,
            "ids": list(self.ids),
            "at": list(self.at) if self.at else None,
            "why": self.why,
        }


@dataclass(frozen=True, slots=True)
class Remark:
    """What a rule has to say that is no length at a place: of the material, of a table's end.

    `processes` are those that it is about.
    """

    rule: str
    processes: tuple[Process, ...]
    text: str

    def as_dict(self) -> dict[str, object]:
        """Return the entry of the inspection file."""
        return {"rule": self.rule, "processes": list(self.processes), "text": self.text}


@dataclass(frozen=True, slots=True)
class Rule:
    """One cutting rule.

    Parameters
    ----------
    name : str
        What the rule looks at.
    asks : str
        What it asks for, in one sentence, with the values.
    source : str
        Where the values come from.
    check : callable
        Takes the stock, yields advice.
    why, mend : str
        Why it matters, and what to do about it; each is a clause.
    serious : bool
        What it minds may not outlive the cut, where all else is a matter of how good it becomes.
    remark : callable
        Takes the stock, yields remarks.
    """

    name: str
    asks: str
    source: str
    check: Callable[[Stock], Iterator[Advice]]
    why: str
    mend: str
    serious: bool = False
    remark: Callable[[Stock], Iterable[Remark]] = lambda stock: ()


def reason(why: str, mend: str) -> str:
    """Return both clauses as advice says them."""
    return f"{why}; {mend}"


@dataclass(frozen=True)
class Stock:
    """A part as a cutter sees it.

    Parameters
    ----------
    profile : Profile
        With the plate's contours; what lies detached is not cut.
    joints : sequence of Joint
        For the gaps.
    dimensions : sequence of MeasuredDimension
        For the tolerances.
    unit : "mm" or "in"
        Unit of all lengths.
    thickness : float
        Of the plate, in that unit.
    processes : tuple of str
        For which machines advice is wanted.
    unfit : tuple of str
        Machines that were asked about and that the material does not suit.
    material : str
        Name of what the plate is of.
    pierce_limit : float or None
        The thickest plate that the machine at hand pierces, in that unit, where somebody says so.
    general : str
        What the drawing calls its general tolerance.
    """

    profile: Profile
    joints: Sequence[Joint]
    dimensions: Sequence[MeasuredDimension]
    unit: str
    thickness: float
    processes: tuple[Process, ...] = PROCESSES
    unfit: tuple[Process, ...] = ()
    material: str = ""
    pierce_limit: float | None = None
    general: str = ""

    def short(self, found: float, wanted: float) -> bool:
        """Tell whether a length is below what is wanted, by more than rounding."""
        return found < wanted * (1.0 - 1e-9)

    def mm(self, millimetres: float) -> float:
        """Return a length that is known in mm in the part's unit."""
        return convert(millimetres, "mm", self.unit)

    def in_mm(self, amount: float) -> float:
        """Return a length of the part in mm."""
        return convert(amount, self.unit, "mm")

    def kerf(self, process: Process) -> float:
        """Return the usual width of the cut in the part's unit."""
        return usual_kerf(process, self.unit)

    def swallowed(self, width: float, process: Process) -> bool:
        """Tell whether a hole or a slot is no wider than the cut: a rule of its own says that."""
        return width <= self.kerf(process) * (1.0 + 1e-9)

    def too_narrow(
        self, rule: str, necks: Iterable[Neck], wanted: Callable[[Process], float], why: str
    ) -> Iterator[Advice]:
        """Yield advice for each of these necks and each process that wants it wider.

        Parameters
        ----------
        rule : str
            Name of the rule that asks.
        necks : iterable of Neck
        wanted : callable
            From a process to the least width, in the part's unit; 0 where it does not mind.
        why : str
            Reason that goes with the advice.
        """
        limits = [(process, wanted(process)) for process in self.processes]
        for neck in necks:
            for process, least in limits:
                if self.short(neck.place.width, least):
                    yield Advice(rule, process, " to ".join(neck.ids), neck.place.width, least,
                                 neck.ids, neck.place.middle, why)

    @property
    def contours(self) -> tuple[Contour, ...]:
        """Closed contours of the plate."""
        return self.profile.plate

    @cached_property
    def necks(self) -> tuple[Neck, ...]:
        """Narrow places below `widest`, the narrowest first.

        One for each pair of contours that lie next to each other; across one contour all that
        lie apart.
        """
        profile = self.profile
        apart = not (profile.crossings or profile.overlaps or profile.meetings)
        return find_necks(self.contours, self.widest, apart)

    @property
    def widest(self) -> float:
        """Narrow places are looked for up to twice the thickness, at least 5 mm."""
        return max(2.0 * self.thickness, self.mm(5.0))
