"""Calls ``sketcher import`` and reads what it wrote."""

from __future__ import annotations

import io
import json
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter
from typing import Any

from sketcher.cli import main


@dataclass(frozen=True)
class Import:
    """What a call came to.

    Parameters
    ----------
    code : int
        Exit status; -1 when an exception got out.
    record : dict
        What ``--json`` printed, or empty.
    said : str
        stderr, or the exception.
    seconds : float
    """

    code: int
    record: dict[str, Any]
    said: str
    seconds: float

    @property
    def traceback(self) -> bool:
        """Whether a person would see one, or the command called it a fault of its own."""
        return self.code in (-1, 3) or "Traceback" in self.said


def called_command(words: list[str]) -> tuple[int, str, str]:
    """Call the program with words; status, stdout and stderr."""
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        try:
            code = main(words)
        except SystemExit as stop:
            code = stop.code if isinstance(stop.code, int) else 2
        except Exception as error:  # noqa: BLE001 - whatever gets out is a fault to tell
            code = -1
            err.write(f"{type(error).__name__}: {error}")
    return code, out.getvalue(), err.getvalue()


def taken_in(path: Path, out: Path, *options: str) -> Import:
    """Import a file."""
    start = perf_counter()
    code, printed, said = called_command(
        ["import", str(path), "--out", str(out), "--json", "--force", *options])
    seconds = perf_counter() - start
    record = json.loads(printed) if printed.strip() else {}
    return Import(code, record, said, seconds)


def inspected_file(path: str) -> dict[str, Any]:
    """What ``sketcher inspect --json`` says of a part."""
    code, printed, said = called_command(["inspect", path, "--json"])
    if not printed.strip():
        return {"sound": False, "freedoms": -1, "doubled": [], "said": f"{code} {said}"}
    tree: dict[str, Any] = json.loads(printed)
    return tree
