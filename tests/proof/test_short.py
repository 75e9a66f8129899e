"""The short form of every proof, and the README's table of the whole one."""

from __future__ import annotations

from inspect import signature
from random import Random

import pytest

from sketcher.part.edits import EDITS
from sketcher.part.store import load
from tests.proof import table
from tests.proof.edits import Arguments
from tests.proof.paper import DEMOS
from tests.proof.proof import Proof, names, proof_named
from tests.proof.runner import SEED, run, run_case
from tests.proof.tally import MOST_KEPT, NOT_REACHED, Case


def test_every_edit_is_among_those_that_are_tried() -> None:
    part = load(DEMOS / "gate-strap.profile.json")
    for name, edit in EDITS.items():
        given, named = Arguments(Random(name), part).of(name)
        signature(edit).bind(part, *given, **named)


@pytest.mark.slow
@pytest.mark.parametrize("name", names())
def test_a_proof_in_short(name: str) -> None:
    tried = proof_named(name)
    if lack := tried.ready():
        pytest.skip(lack)
    tally = run(tried, tried.short, seed=SEED + 1, scale=tried.short_scale)
    assert tally.counts[tried.tried] > 0
    assert tally.shown == []


# An arm moved by 20 %: all 40 trials go to other sides, and the nearest sound part is wrong. A
# hanger with its sides stored: only values walked from a settled shape lead to the right crossing.
@pytest.mark.parametrize("number", [166, 95])
def test_a_sketch_that_once_ended_wrong(number: int) -> None:
    tally = run_case(proof_named("roughened"), number)
    assert tally.counts["sketches"] == 1
    assert tally.shown == []


def test_the_readme_holds_the_table_of_the_last_whole_run() -> None:
    text = table.README.read_text(encoding="utf-8")
    assert table.BEGIN in text
    assert table.with_table(text) == text


def faulty(case: Case) -> None:
    """Every way in which a case can go wrong, one after the other."""
    case.tally.count("tries")
    if case.number == 1:
        raise ValueError("spoiled")
    if case.number == 2:
        case.tally.fault("bad", "seen")


def test_a_fault_is_counted_and_told() -> None:
    sample = Proof("sample", "is tried", "tries", ("bad",), 3, 3, faulty)
    tallies = [run_case(sample, number) for number in range(3)]
    assert [dict(tally.faults) for tally in tallies] == [{}, {"exception": 1}, {"bad": 1}]
    told = table.line(table.result(sample, tallies[2], 1, 1.0, 2.0))
    assert told == "sample: 1 tries: 1 bad (2 s)"
    both = tallies[2]
    for _ in range(MOST_KEPT + 5):
        both.add(tallies[1])
    assert both.faults["exception"] == MOST_KEPT + 5
    assert len(both.shown) == 1 + MOST_KEPT


def test_what_a_run_has_no_time_for_is_counted() -> None:
    tally = run(proof_named("expressions"), 5, workers=2, until=0.0)
    assert tally.counts == {NOT_REACHED: 5}
    assert tally.shown == []
