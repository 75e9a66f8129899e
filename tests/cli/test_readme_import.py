"""The README's tour of a drawing from elsewhere is what the command prints."""

from __future__ import annotations

from tests.readme_import import in_readme, shown


def test_the_tour_is_what_the_command_prints() -> None:
    """Where this fails because the command does better now: ``python -m tests.readme_import``."""
    assert in_readme() == shown()
