"""The program's own command in this process: what it returns and prints."""

from __future__ import annotations

import io
from contextlib import redirect_stderr, redirect_stdout
from typing import NamedTuple

from sketcher.cli import main


class Said(NamedTuple):
    """Exit status and both outputs of one command."""

    status: int
    out: str
    err: str

    @property
    def lines(self) -> list[str]:
        """Lines on stderr."""
        return self.err.splitlines()


def command(*words: object) -> Said:
    """Run ``sketcher`` with these words, as `main` runs it for a person."""
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        try:
            status = main([str(word) for word in words])
        except SystemExit as end:  # argparse ends a command that it cannot read
            status = end.code if isinstance(end.code, int) else 2
    return Said(status, out.getvalue(), err.getvalue())
