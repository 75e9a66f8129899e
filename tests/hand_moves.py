"""A part through ``solve`` and ``order --moves``, and what straightedge and compass make of it.

What the program prints is all that is looked at.
"""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from tests.constructed import constructed, drawn_for_nothing
from tests.proof.command import command
from tests.told_steps import computed, spoken_too_early, unknown_numbers, untold_strokes

KINDS = ("refused", "computed", "not constructed", "number from nowhere", "spoken of too early",
         "drawn for nothing", "not told")
"""Kinds of fault."""


@dataclass
class ByHand:
    """What was found of one part.

    Parameters
    ----------
    solved : bool
        Whether its bindings hold; a part that clashes has no construction.
    faults : list of (kind, words)
    counts : Counter
        Steps, moves, strokes and angles by the protractor.
    flattest : float
        Least sine of an angle at which two things cross that make a point.
    """

    solved: bool = True
    faults: list[tuple[str, str]] = field(default_factory=list)
    counts: Counter[str] = field(default_factory=Counter)
    flattest: float = 1.0


def by_hand(path: Path, folder: Path) -> ByHand:
    """Judge the construction of a part's file; `folder` takes the solved part."""
    found, out = ByHand(), folder / "solved.profile.json"
    done = command("solve", path, "--json", "--out", out, "--force")
    if not out.exists():
        found.solved = False
        return found
    state, solved = json.loads(done.out), json.loads(out.read_text(encoding="utf-8"))
    ordered = command("order", path, "--moves", "--json")
    if ordered.status:
        found.faults.append(("refused", ordered.err))
        return found
    order, part = json.loads(ordered.out), json.loads(path.read_text(encoding="utf-8"))
    for kind, lines in (("computed", computed(order)),
                        ("number from nowhere", unknown_numbers(order, part)),
                        ("spoken of too early", spoken_too_early(order, part)),
                        ("drawn for nothing", drawn_for_nothing(order)),
                        ("not told", untold_strokes(order))):
        found.faults += [(kind, line) for line in lines]
    loose = state["freedoms"] > 0
    for stretch in ("1",) if loose else ("1", "1.0618"):  # any opening is a choice that moves it
        faults, paper = constructed(order, solved, given_points(state, solved), stretch, loose)
        found.faults += [("not constructed", f"{line} (openings times {stretch})")
                         for line in faults]
    moves = [move for step in order["steps"] for move in step["moves"]]
    found.counts.update({"steps": len(order["steps"]), "moves": len(moves),
                         "strokes": paper.strokes, "angles by protractor": paper.measured})
    found.flattest = float(paper.flattest)
    return found


def given_points(state: dict[str, Any], solved: dict[str, Any]) -> set[str]:
    """Points that may be marked: fixed ones, loose ones, and the first where none is fixed."""
    fixed = {name for binding in solved["bindings"].values() if binding["kind"] == "fixed"
             for name in binding["of"]}
    loose = {one["point"] if isinstance(one, dict) else one for one in state["loose"]}
    return fixed | loose or set(list(solved["points"])[:1])
