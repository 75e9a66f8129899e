"""Set-up that every test shares."""

from __future__ import annotations

import os

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("PYTEST_QT_API", "pyside6")
os.environ.setdefault("LC_ALL", "C.UTF-8")
os.environ["TZ"] = "UTC"
# As the program does, here before a test brings numpy in ahead of it.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import pytest
from hypothesis import settings

from tests import seldom

if settings.get_current_profile_name() == "default":
    # a limit by the clock fails where the machine pauses; times are the matter of tests/bench
    settings.register_profile("unhurried", deadline=None)
    settings.load_profile("unhurried")


def pytest_configure(config: pytest.Config) -> None:
    """Tell before collection whether the cases that are tried seldom are wanted."""
    seldom.whole_run = "whole" in config.option.markexpr


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave the cases that are tried seldom to ``-m whole``."""
    if seldom.whole_run:
        return
    left = [item for item in items if item.get_closest_marker("whole")]
    if left:
        config.hook.pytest_deselected(items=left)
        items[:] = [item for item in items if item not in set(left)]
