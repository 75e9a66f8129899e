"""``python -m tests.hand_ins.series --seed A``: 500 hand-ins with wrong values, all named?

Each is a paper drawn with none to three wrong values, half of them with another fault at one
place. What is decidable is decided by `decidable.py`. A table by count and by fault comes out, and
each miss, with what shows it again: ``--only 37 --keep FOLDER`` keeps its file.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from statistics import median

from sketcher.errors import SketcherError
from sketcher.marking.comparison import Comparison
from sketcher.marking.hand_in_file import read_hand_in
from sketcher.part.kinds import KINDS
from sketcher.quantity.parameters import evaluate_all
from sketcher.quantity.parse import evaluate
from tests.hand_ins.decidable import rival
from tests.hand_ins.drawer import Manner, some_manner, write_dxf
from tests.hand_ins.local_faults import FAULTS, Spoiled
from tests.hand_ins.papers import PAPERS
from tests.hand_ins.strokes import sound
from tests.hand_ins.written_paper import Paper
from tests.ready_keys import key_ready

COUNT = 500
HOW_MANY = (0, *(1,) * 9, *(2,) * 6, *(3,) * 4)
"""Numbers of wrong values: one in twenty has none, nearly half have one."""
WHERE_FAULTS = ("none", "none", "none", "none", *FAULTS)
"""Four in eleven more without another fault."""
NEAR = {"length": 0.01, "angle": 0.05}
"""How far a named value may be off: the tolerance of marking, mm and degrees."""


@dataclass(frozen=True)
class WrongValues:
    """One hand-in of a series, and what is known of it."""

    seed: str
    number: int
    paper: Paper
    planted: Mapping[str, float]
    fault: str
    spoiled: Spoiled
    manner: Manner
    rival: str

    def write(self, folder: Path) -> Path:
        """Write its file and return where it is."""
        path = folder / f"{self.seed}-{self.number:03d}-{self.paper.key}.dxf"
        write_dxf(path, self.spoiled.drawing, self.paper.unit, self.manner,
                  Random(f"drawn {self.seed} {self.number}"))
        return path


def hand_in(seed: str, number: int) -> WrongValues:
    """The hand-in of a number; always the same."""
    random = Random(f"wrong values {seed} {number}")
    paper = PAPERS[number % len(PAPERS)]
    many, fault = random.choice(HOW_MANY), random.choice(WHERE_FAULTS)
    planted = wrong_numbers(paper, many, random)
    plate = paper.drawn(planted)
    spoiled = FAULTS[fault](plate, random)
    manner = some_manner(random, paper.unit)
    return WrongValues(seed, number, paper, planted, fault, spoiled, manner,
                       rival(paper, planted, spoiled))


def wrong_numbers(paper: Paper, many: int, random: Random) -> dict[str, float]:
    """So many wrong numbers that the outline keeps its make; no dimension wrong in two ways."""
    for _ in range(500):
        wrong: dict[str, float] = {}
        taken: set[str] = set()
        while len(wrong) < many:
            name = random.choice((*paper.values, *(p.name for p in paper.parameters)))
            carried = set(paper.carried.get(name, (name,)))
            if not taken & carried:
                taken |= carried
                wrong[name] = _otherwise(paper, name, random)
        try:
            if sound(paper.drawn(wrong), paper.plate):
                return wrong
        except (ValueError, ZeroDivisionError):
            continue
    raise AssertionError(f"no {many} wrong values keep the make of {paper.key}")


def _otherwise(paper: Paper, name: str, random: Random) -> float:
    """Another number: mostly round and 5 to 20 % off, some 25 to 50 %, some odd."""
    was = paper.amount(name)
    sort = next((v.sort for v in paper.listed if v.name == name), "length")
    far = random.random() < 0.12
    odd = random.random() < 0.15
    while True:
        share = random.uniform(0.25, 0.5) if far else random.uniform(0.05, 0.2)
        amount = was * (1.0 + random.choice((-1.0, 1.0)) * share)
        if odd:
            amount = round(amount, random.choice((2, 3)))
        elif sort == "angle":
            amount = round(amount) if was >= 10.0 else round(2.0 * amount) / 2.0
        elif paper.unit == "in":
            step = random.choice((1 / 8, 1 / 16, 1 / 16, 1 / 32, 0.01))
            amount = round(amount / step) * step
        else:
            step = 1.0 if was >= 30.0 else 0.5
            amount = round(amount / step) * step
        if abs(amount - was) > 0.02 * was and amount > 0.0:
            return amount
        share *= 1.5
        far = True


@dataclass(frozen=True)
class Answer:
    """What the program said of one hand-in."""

    hand_in: WrongValues
    named: Mapping[str, float] = field(default_factory=dict)
    other: tuple[str, ...] = ()
    """Sides and counts that it supposed."""
    trouble: str = ""
    seconds: float = 0.0

    @property
    def right(self) -> bool:
        """Whether it names the wrong values and no others, with the amounts that were drawn."""
        paper = self.hand_in.paper
        if self.other or self.trouble or len(self.named) != len(self.hand_in.planted):
            return False
        planted, named = paper.spelled(self.hand_in.planted), paper.spelled(self.named)
        return planted.keys() == named.keys() and all(
            abs(planted[name] - named[name]) <= self._near(name) for name in planted)

    def _near(self, name: str) -> float:
        paper = self.hand_in.paper
        sort = next(v.sort for v in paper.listed if v.name == name)
        return NEAR[sort] if sort == "angle" or paper.unit == "mm" else 0.001

    @property
    def blamed(self) -> bool:
        """Whether it blames something that was drawn right."""
        paper = self.hand_in.paper
        return bool(self.other) or not (
            paper.spelled(self.named).keys() <= paper.spelled(self.hand_in.planted).keys())

    def told(self) -> str:
        """One line about it."""
        one = self.hand_in
        said = self.trouble or ", ".join((*_amounts(self.named), *self.other)) or "nothing"
        pose = one.manner
        how = f"{pose.unit}{' mirrored' if pose.mirrored else ''} turned {pose.turn:g}"
        rest = f"; not decidable: {one.rival}" if one.rival else ""
        return (f"{one.seed} {one.number:3d} {one.paper.key}, {one.fault}, {how}: planted "
                f"{', '.join(_amounts(one.planted)) or 'nothing'}; named {said}{rest}")


def _amounts(values: Mapping[str, float]) -> list[str]:
    return [f"{name}={amount:.6g}" for name, amount in values.items()]


def answered(one: WrongValues, path: Path) -> Answer:
    """Ask the program about a hand-in that was written."""
    ready = key_ready(one.paper.key)
    try:
        read = read_hand_in(path)
        began = time.perf_counter()
        comparison = ready.compare(read)
        taken = time.perf_counter() - began
    except SketcherError as problem:
        return Answer(one, trouble=f"{type(problem).__name__}: {problem}")
    named, other = _said(one.paper, comparison)
    return Answer(one, named, other, "", taken)


def _said(paper: Paper, comparison: Comparison) -> tuple[dict[str, float], tuple[str, ...]]:
    part = comparison.key.part
    values = evaluate_all(part.parameters, part.unit)
    named: dict[str, float] = {}
    other: list[str] = []
    for change in comparison.changes:
        if change.sort in ("side", "count"):
            other.append(f"{change.name}:{change.found}")
            continue
        binding = part.bindings.get(change.name)
        angle = change.name.endswith((".span", ".angle")) or change.name == "pitch" or (
            binding is not None and KINDS[binding.kind].quantity == "angle")
        amount = evaluate(change.found, "angle" if angle else "length", part.unit, values)
        known = {*paper.values, *paper.carried}
        if change.name in known:
            named[change.name] = float(amount)
        else:
            other.append(f"{change.name}={change.found}")
    return named, tuple(other)


def series(seed: str, numbers: range | list[int], folder: Path) -> Iterator[Answer]:
    """Draw and ask, one after the other."""
    for number in numbers:
        one = hand_in(seed, number)
        yield answered(one, one.write(folder))


def table(answers: list[Answer]) -> str:
    """What came out, by the number of wrong values and by the other fault."""
    lines = [f"{'':14}{'all':>6}{'decidable':>11}{'right':>7}{'blamed':>8}"]
    groups: dict[str, list[Answer]] = {}
    for each in answers:
        turn = "turned freely" if each.hand_in.manner.turn % 90.0 else "turned by 90°"
        for group in (f"{len(each.hand_in.planted)} wrong", each.hand_in.fault,
                      each.hand_in.paper.key, turn, "all"):
            groups.setdefault(group, []).append(each)
    order = {f"{n} wrong": n for n in range(9)} | {name: 10 + n for n, name in enumerate(FAULTS)}
    order |= {paper.key: 20 + n for n, paper in enumerate(PAPERS)}
    for group in sorted(groups, key=lambda name: order.get(name, 99)):
        members = groups[group]
        count = counted(members)
        lines.append(f"{group:14}{len(members):6}{count['decidable']:11}{count['right']:7}"
                     f"{count['blamed']:8}")
    took = [1000.0 * each.seconds for each in answers if not each.trouble] or [0.0]
    lines.append(f"median {median(took):.0f} ms, slowest {max(took):.0f} ms")
    return "\n".join(lines)


def counted(answers: list[Answer]) -> Counter[str]:
    """How many are decidable, and of those right, and blamed falsely."""
    decidable = [each for each in answers if not each.hand_in.rival]
    return Counter({"decidable": len(decidable), "right": sum(e.right for e in decidable),
                    "blamed": sum(e.blamed for e in decidable)})


def main(argv: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.hand_ins.series", description=__doc__,
                                     formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seed", default="A")
    parser.add_argument("--count", type=int, default=COUNT)
    parser.add_argument("--only", type=int, nargs="*", help="these numbers alone, all told")
    parser.add_argument("--keep", type=Path, help="folder that keeps the files of all misses")
    args = parser.parse_args(argv)
    answers = []
    with tempfile.TemporaryDirectory() as scratch:
        for each in series(args.seed, args.only or range(args.count), Path(scratch)):
            answers.append(each)
            missed = not (each.right or each.hand_in.rival)
            if missed or args.only:
                print(each.told(), f"({1000.0 * each.seconds:.0f} ms)", flush=True)
                if args.keep:
                    args.keep.mkdir(parents=True, exist_ok=True)
                    print(f"    {each.hand_in.write(args.keep)}")
    print(table(answers))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
