"""The heap while very much is made, and afterwards."""

from __future__ import annotations

import gc
import subprocess
import sys

import pytest

from sketcher.desk.heap import uncollected

USED = """
import os, sys
from sketcher.desk.heap import give_back
def used():
    pages = int(open("/proc/self/statm").read().split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 2**20
many = [bytes(2000) for _ in range(30_000)]
kept = bytes(2000)  # above all of them, so that nothing is given back by itself
del many
before = used()
give_back()
print(before - used())
"""


def test_nothing_is_collected_within_and_then_again() -> None:
    assert gc.isenabled()
    with uncollected():
        assert not gc.isenabled()
        with uncollected():
            pass
        assert not gc.isenabled()
    assert gc.isenabled()


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="only here the system tells it so")
def test_memory_that_is_free_goes_back() -> None:
    done = subprocess.run([sys.executable, "-c", USED], capture_output=True, text=True, check=True)
    assert float(done.stdout) > 40.0
