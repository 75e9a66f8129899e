"""Advice for cutters as it is read: images in one row, the worst first, and all of it in short."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sketcher.geometry.curves import XY
from sketcher.inspect.necks import ALIKE
from sketcher.inspect.rules import rules
from sketcher.inspect.stock import Advice
from sketcher.inspect.words import length, plural, some
from sketcher.part.image_id import read_image_id

if TYPE_CHECKING:
    from sketcher.inspect.inspection import Inspection

NOTHING = "nothing to mind"


@dataclass(frozen=True, slots=True)
class AdviceRow:
    """What a rule says for a process of one place and of its images.

    Parameters
    ----------
    advice : Advice
        Of the first of these places.
    wheres : tuple of str
        Names of all of them.
    ids : tuple of str
        Of all of them, each once.
    """

    advice: Advice
    wheres: tuple[str, ...]
    ids: tuple[str, ...]

    @property
    def where(self) -> str:
        """The names of the places."""
        return some(self.wheres)

    @property
    def serious(self) -> bool:
        """Whether what the rule minds may not outlive the cut."""
        return rules()[self.advice.rule].serious

    @property
    def share(self) -> float:
        """What was found as a share of what is wanted: the smaller, the worse."""
        one = self.advice
        return one.wanted / one.found if one.most else one.found / one.wanted


def advice_rows(advice: Sequence[Advice]) -> tuple[AdviceRow, ...]:
    """Return the advice with images in one row: first what is serious, in it the worst first."""
    alike: dict[tuple[object, ...], list[Advice]] = {}
    for one in advice:
        sources = frozenset(read_image_id(name).source for name in one.ids)
        found = float(f"{one.found:.{ALIKE}g}")
        alike.setdefault((one.rule, one.process, sources, found), []).append(one)
    rows = [AdviceRow(same[0], tuple(dict.fromkeys(one.where for one in same)),
                      tuple(dict.fromkeys(name for one in same for name in one.ids)))
            for same in alike.values()]
    return tuple(sorted(rows, key=lambda row: (not row.serious, row.share)))


@dataclass(frozen=True, slots=True)
class AdviceInShort:
    """All advice in one line.

    Parameters
    ----------
    text : str
        The line.
    ids : tuple of str
        What the worst of it speaks of.
    at : (x, y) or None
        Where that is.
    found : float
        What was found there, in the part's unit.
    places : int
        How many there are to look at, whatever the processes.
    strong : bool
        No process can make it well: the least that any of them asks for is not there.
    """

    text: str
    ids: tuple[str, ...] = ()
    at: XY | None = None
    found: float = 0.0
    places: int = 0
    strong: bool = False


def advice_in_short(inspection: Inspection, rows: Sequence[AdviceRow]) -> AdviceInShort:
    """Return what the rows come to: how many places, and the least of what is serious.

    Parameters
    ----------
    inspection : Inspection
    rows : sequence of AdviceRow
        Its advice.
    """
    against = inspection.cut_findings
    if against:
        return AdviceInShort(against[0].text, strong=True)
    if not inspection.advised:
        return AdviceInShort(inspection.unadvised)
    silent = inspection.unjudged
    if not rows:
        return AdviceInShort(silent or NOTHING)
    places = len({(row.advice.rule, row.wheres) for row in rows})
    text, worst = f"{plural(places, 'place')} to look at", rows[0].advice
    strong = False
    if rows[0].serious:
        worst = min((row.advice for row in rows if row.serious), key=lambda one: one.found)
        minding = {row.advice.process for row in rows if row.serious
                   and (row.advice.rule, row.advice.where) == (worst.rule, worst.where)}
        strong = minding >= set(inspection.processes)
        text += f": least {worst.rule} {length(worst.found, inspection.part.unit)}"
    return AdviceInShort(text + (f"; {silent}" if silent else ""), worst.ids, worst.at, worst.found,
                         places, strong)
