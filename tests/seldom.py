"""Like cases of which the default tests try some; ``pytest -m whole`` tries the others."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

import pytest


def some_of(cases: Iterable[Any], often: Callable[[Any], bool]) -> list[Any]:
    """All cases as parameters of a test; those that are not `often` wait for ``-m whole``."""
    def values(case: Any) -> Sequence[Any]:
        return case if isinstance(case, tuple) else (case,)
    return [pytest.param(*values(case), marks=() if often(case) else pytest.mark.whole)
            for case in cases]
