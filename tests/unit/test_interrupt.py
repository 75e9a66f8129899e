"""Work is stopped by whoever started it, in its own thread alone."""

from __future__ import annotations

import threading

import pytest

from sketcher.interrupt import Stopped, check, while_wanted, within


def work(done: list[int]) -> None:
    """Count the turns of a loop that has no end of its own."""
    while True:
        check()
        done.append(len(done))


def test_nobody_answers_so_work_goes_on() -> None:
    check()


def test_work_goes_on_until_it_is_no_longer_wanted() -> None:
    done: list[int] = []
    with pytest.raises(Stopped), while_wanted(lambda: len(done) < 3):
        work(done)
    assert len(done) == 3
    check()  # and what comes after is not concerned


def test_whoever_stands_around_is_asked_as_well() -> None:
    with pytest.raises(Stopped), while_wanted(lambda: False), while_wanted(lambda: True):
        check()


def test_errors_of_the_work_are_caught_without_catching_the_stop() -> None:
    def fall_back() -> None:
        try:
            check()
        except Exception:  # noqa: BLE001 - what a fallback in the core does
            return

    with pytest.raises(Stopped), while_wanted(lambda: False):
        fall_back()


def test_other_threads_are_not_stopped() -> None:
    ended: list[str] = []

    def elsewhere() -> None:
        try:
            check()
            ended.append("whole")
        except Stopped:
            ended.append("stopped")

    with while_wanted(lambda: False):
        thread = threading.Thread(target=elsewhere)
        thread.start()
        thread.join()
    assert ended == ["whole"]


def test_a_limit_of_time_stops_work_that_takes_longer() -> None:
    done: list[int] = []
    with pytest.raises(Stopped), within(0.02):
        work(done)
    assert len(done) > 10
    with within(60.0):
        check()
