"""What every refusal must hold: the right place, and words for what is wrong and what to do."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from sketcher.errors import SketcherError


@contextmanager
def refused(
    place: str, kind: type[SketcherError] = SketcherError, remedy: bool = True
) -> Iterator[pytest.ExceptionInfo[SketcherError]]:
    """An error of a kind is raised that names a place, a problem and a remedy, each on one line.

    Parameters
    ----------
    place : str
        Where the trouble is: the id or the name of what was given.
    remedy : bool
        False where the problem says it all and no remedy stands.
    """
    with pytest.raises(kind) as caught:
        yield caught
    error = caught.value
    assert error.place == place
    assert is_line(error.problem)
    assert is_line(error.remedy) if remedy else error.remedy == ""


def is_line(text: object) -> bool:
    """Whether something is a text of one line that says something."""
    return isinstance(text, str) and bool(text.strip()) and "\n" not in text
