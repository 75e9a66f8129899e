"""How much is done is heard by whoever began the work, within its stage."""

from __future__ import annotations

import pytest

from sketcher.drafting.sheet import pages
from sketcher.interrupt import Stopped, while_wanted
from sketcher.progress import counted, report, reported_to, stage, tell, told_to
from tests.hole_plates import plate
from tests.inspected import inspected


def test_nobody_listens() -> None:
    tell(0.5)
    with stage(0.0, 0.5):
        assert list(counted("abc")) == ["a", "b", "c"]


def test_stages_lie_within_each_other() -> None:
    heard: list[float] = []
    with told_to(heard.append):
        with stage(0.0, 0.4), stage(0.5, 1.0):
            list(counted("ab"))
        with stage(0.4, 1.0), told_to(None):
            tell(0.3)
        tell(1.0)
    assert heard == pytest.approx([0.0, 0.2, 0.2, 0.3, 0.4, 1.0])
    tell(0.7)
    assert len(heard) == 6


def test_who_is_told_can_stop_it() -> None:
    heard: list[float] = []
    with pytest.raises(Stopped), told_to(heard.append), while_wanted(lambda: len(heard) < 3):
        list(counted(range(10)))
    assert heard == pytest.approx([0.0, 0.1, 0.2])


def test_what_is_reported_goes_to_who_reads_it_alone() -> None:
    read: list[object] = []
    report("nobody reads this")
    with reported_to(read.append):
        report(("a", 1))
        with reported_to(None):
            report("nor this")
    assert read == [("a", 1)]


@pytest.mark.parametrize("work", [pages, lambda part: inspected(part).cutting],
                         ids=["sheet", "inspection and advice"])
def test_long_work_tells_how_far_it_is(work) -> None:
    heard: list[float] = []
    with told_to(heard.append):
        work(plate(1, dimensions=True))
    assert len(heard) > 5
    assert min(heard) >= 0.0
    assert max(heard) <= 1.0
    assert max(heard) > 0.6
