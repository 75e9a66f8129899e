"""What a proof is, and the registry that finds them all."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from math import ceil
from pathlib import Path

from tests.proof.tally import Case


@dataclass(frozen=True)
class Proof:
    """A promise of the program, tried on many random cases; one file each in `proofs/`."""

    name: str
    """One word, the name of the file too."""
    says: str
    """What holds, in one clause for the table."""
    tried: str
    """Name of the count that says how much was tried ("kills")."""
    faults: tuple[str, ...]
    """Every kind of fault; all counts must be 0."""
    whole: int
    """Cases of a whole run."""
    short: int
    """Cases of the short form in the default tests: seconds at most."""
    case: Callable[[Case], None]
    limit: float = 60.0
    """Seconds by the clock after which a case is ended and counted as hung."""
    short_scale: float = 0.01
    """Scale that the cases of the short form are given."""
    minutes: float = 1.0
    """What a whole run takes on two cores, roughly; the longest comes last."""
    alone: bool = False
    """One long case that waits more than it works: runs beside the others."""
    ready: Callable[[], str] = lambda: ""
    """Says what the machine lacks for it, or nothing."""

    def cases(self, scale: float) -> int:
        """Number of cases at a scale, at least one."""
        return max(1, ceil(self.whole * scale))


@cache
def proof_named(name: str) -> Proof:
    """The proof of a name."""
    found: Proof = importlib.import_module(f"tests.proof.proofs.{name}").PROOF
    assert found.name == name
    return found


@cache
def names() -> tuple[str, ...]:
    """The names of all proofs, in order."""
    folder = Path(__file__).parent / "proofs"
    return tuple(sorted(info.name for info in pkgutil.iter_modules([str(folder)])))


