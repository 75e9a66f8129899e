"""Like cases of which the default tests try some; ``pytest -m whole`` tries the others."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

import pytest
from hypothesis import settings

whole_run = False
"""Whether this is the run of ``-m whole``; told before the first test is collected."""


def some_of(cases: Iterable[Any], often: Callable[[Any], bool]) -> list[Any]:
    """All cases as parameters of a test; those that are not `often` wait for ``-m whole``."""
    def values(case: Any) -> Sequence[Any]:
        return case if isinstance(case, tuple) else (case,)
    return [pytest.param(*values(case), marks=() if often(case) else pytest.mark.whole)
            for case in cases]


def examples(few: int, many: int, **others: Any) -> Callable[[Callable[..., Any]], Any]:
    """Hypothesis's settings with `few` examples by default, and `many` with ``-m whole``."""
    def put(test: Callable[..., Any]) -> Any:
        made = settings(max_examples=many if whole_run else few, **others)(test)
        return pytest.mark.whole(made) if whole_run else made
    return put
