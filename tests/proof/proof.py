"""What a proof is, and the registry that finds them all.

One promise of the program is one file in `proofs/` with ``PROOF = Proof(...)``; the folder is the
registry. A proof is one function ``case(case: Case) -> None``, called once for each number from 0.
Everything random in it comes from `case.random`, seeded with the proof's name, the run's seed and
the number, so ``python -m tests.proof NAME --case 1234`` shows a fault again. It may write in
`case.folder` alone.

- ``case.tally.count("kills")`` counts what was tried; the count that `tried` names goes into the
  table. ``case.tally.fault("lost", how)`` counts what went wrong and keeps one line about it,
  ``case.tally.worst(what, amount)`` the greatest of its kind. An exception that escapes is a fault,
  so are a dead process and a case over `limit` seconds. ``with case.within("inspect", 2.0):``
  judges time, of the processor, not of the clock.
- Many small cases beat few long ones: a walk of 100 actions is one case, 500 of them are the proof.
- `whole` cases are the whole run, `short` the form in the default tests (`test_short.py`; seconds,
  another seed). Together the whole runs stay under 50 minutes on two cores. ``--scale 0.01`` tries
  a hundredth, ``--workers 1`` uses one core, ``--minutes 45`` ends in time and counts what was not
  reached.
- The judge shares nothing with what it judges: it reads output files, not the solver's report.
- A line of a run: ``saving: 500 kills: 0 lost, 0 left over (41 s)``. A whole run keeps all lines in
  `results.json` and makes the README's table of them; a test holds the two together.
"""

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


