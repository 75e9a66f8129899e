"""The commands."""

from __future__ import annotations


def main(argv: list[str] | None = None) -> int:
    """Run one command and return its exit status."""
    raise NotImplementedError(argv)
