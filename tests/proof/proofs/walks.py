"""Whatever a person does on the board, nothing breaks and nothing is lost.

A walk is 100 random actions on a demo part, a shaped or an empty one: every tool, typed value,
key, ledger cell, action of the menus and setting, with undo and redo in the middle. After each
action the part is written and read back; every few, it is solved afresh and inspected; at the end
everything is undone and done again. Who listens reads preview and readout at every notice.
"""

from __future__ import annotations

from functools import cache

from sketcher.part.store import load
from sketcher.part.value import Part
from tests.demo_parts import SOUND as DEMOS
from tests.proof.proof import Proof
from tests.proof.tally import Case
from tests.proof.walk import Walk, actions, shortest
from tests.shaped import wing

ACTIONS = 100


@cache
def starts() -> list[Part]:
    return [Part(), *(load(path) for path in DEMOS), wing(), wing(False, False), Part(unit="in")]


def one_walk(case: Case) -> None:
    first = case.number % len(starts())
    begun = [starts()[first], *starts()]
    doings = actions(case.random, ACTIONS)
    walk = Walk(begun, case.folder)
    fault = walk.run(doings)
    case.tally.count("actions", len(doings))
    case.tally.count("steps", len(walk.texts))
    case.tally.worst("one action, s", walk.slowest[0])
    if fault is not None:
        few = shortest(begun, case.folder, doings, fault)
        case.tally.fault(fault.kind, f"case {case.number}, part {first}: {fault.text}; after {few}")


PROOF = Proof(
    "walks", "random actions on the board: no exception, nothing lost, all of it undone exactly",
    "actions", ("exception", "stale", "bytes", "report", "inspection", "hung"), whole=500, short=2,
    case=one_walk, limit=180.0,
    minutes=20.0,
)
