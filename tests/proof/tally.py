"""What a proof counts, and the faults that it finds."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from time import process_time

ROOT = Path(__file__).resolve().parents[2]
NOT_REACHED = "cases not reached"
"""Name of the count of cases that a run had no time for."""
MOST_KEPT = 30
"""Faults of one kind that are kept in words; all are counted."""


@dataclass
class Tally:
    """Counts of what was tried, and faults with what shows each of them again."""

    counts: Counter[str] = field(default_factory=Counter)
    faults: Counter[str] = field(default_factory=Counter)
    shown: list[str] = field(default_factory=list)
    most: dict[str, float] = field(default_factory=dict)

    def count(self, what: str, by: int = 1) -> None:
        """Count something that is no fault."""
        self.counts[what] += by

    def fault(self, kind: str, how: str) -> None:
        """Count a fault; `how` says in one line what was seen."""
        self.faults[kind] += 1
        if self.faults[kind] <= MOST_KEPT:
            self.shown.append(f"{kind}: {' '.join(how.split())[:900]}")

    def worst(self, what: str, amount: float) -> None:
        """Keep the greatest amount of its name."""
        self.most[what] = max(amount, self.most.get(what, amount))

    def add(self, other: Tally) -> None:
        """Add what another part of the same proof counted."""
        self.counts.update(other.counts)
        kept = Counter(text.partition(":")[0] for text in self.shown)
        for text in other.shown:
            kind = text.partition(":")[0]
            kept[kind] += 1
            if kept[kind] <= MOST_KEPT:
                self.shown.append(text)
        self.faults.update(other.faults)
        for what, amount in other.most.items():
            self.worst(what, amount)

    def as_dict(self) -> dict[str, object]:
        """Everything as JSON."""
        return {"counts": dict(self.counts), "faults": dict(self.faults),
                "shown": self.shown, "most": self.most}

    @classmethod
    def read(cls, tree: dict) -> Tally:
        """The tally that `as_dict` wrote."""
        return cls(Counter(tree["counts"]), Counter(tree["faults"]), list(tree["shown"]),
                   dict(tree["most"]))


@dataclass
class Case:
    """One case of a proof: everything random in it comes from `random`, so it can be repeated."""

    number: int
    random: Random
    folder: Path
    """An empty folder of its own, removed afterwards."""
    tally: Tally
    scale: float = 1.0
    """Below 1 in a short run; only proofs of one long case need it."""

    @contextmanager
    def within(self, what: str, seconds: float, kind: str = "slow") -> Iterator[None]:
        """Count a fault when the process works longer than this; time of the processor."""
        before = process_time()
        yield
        took = process_time() - before
        self.tally.worst(f"{what}, s", took)
        if took > seconds:
            self.tally.fault(kind, f"case {self.number}: {what} took {took:.1f} s")
