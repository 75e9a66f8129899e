"""The binding that is installed is one that this program can run on."""

from __future__ import annotations

import sys

import pytest

from tests.probe_qt import lost_references


@pytest.mark.skipif(sys.version_info >= (3, 12), reason="None is immortal there")
def test_no_reference_to_none_is_lost(qapp) -> None:
    assert abs(lost_references(1000)) < 50


def test_qt_is_a_release_that_is_not_excluded() -> None:
    from PySide6 import __version_info__ as found

    assert (6, 8, 3) <= found[:3] < (6, 12, 0)
    assert found[:2] != (6, 10)
    assert found[:3] not in {(6, 11, 0), (6, 11, 1)}
