"""What the core keeps for the last part does not leak into work on another part in another thread.

Two parts that share their ids and differ in every value are asked in turn from several threads,
which give way to each other as often as the interpreter lets them.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from threading import Thread

import pytest

from sketcher.inspect.measured_dimensions import dimensions_of
from sketcher.part.arranged import arranged
from sketcher.part.crossing_choice import index
from sketcher.part.printed import in_fractions
from sketcher.part.value import Binding, Part, frozen
from sketcher.part.wanted import parameter_values
from tests.plates import plate, rectangle

TURNS = 2000


def sample(scale: float, value: str, width: str) -> Part:
    points, lines = rectangle(40.0 * scale, 20.0 * scale)
    curves = dict(lines)
    del curves[f"pe{int(scale) + 1}"]
    return plate(points, curves, Binding("run", ("p1", "p2"), value),
                 Binding("rise", ("p1", "p4"), value), Binding("tangent", ("pe1", "pe4")),
                 parameters=frozen({"width": width}), unit="in")


ONE, OTHER = sample(1.0, "1/2", "3"), sample(2.0, "0.75", "5")


@pytest.fixture(autouse=True)
def _restless() -> Iterator[None]:
    before = sys.getswitchinterval()
    sys.setswitchinterval(1e-7)
    yield
    sys.setswitchinterval(before)


ASKED: dict[str, Callable[[Part], object]] = {
    "dimensions": lambda part: [row.wanted for row in dimensions_of(part, 1e-9)],
    "printed": in_fractions,
    "wanted": lambda part: parameter_values(part)["width"].amount,
    "crossing": lambda part: sorted(index(part).ending["p3"]),
    "arranged": lambda part: sorted(arranged(part).curves),
}


@pytest.mark.parametrize("name", ASKED)
def test_each_thread_gets_what_belongs_to_its_part(name: str) -> None:
    ask = ASKED[name]
    wrong: list[object] = []

    def work(part: Part, expected: object) -> None:
        for _ in range(TURNS):
            found = ask(part)
            if found != expected:
                wrong.append(found)

    right = [(part, ask(part)) for part in (ONE, OTHER)]
    assert right[0][1] != right[1][1]
    threads = [Thread(target=work, args=pair) for pair in right * 2]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert wrong == []
