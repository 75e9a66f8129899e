"""Where an export of the window goes, and what is asked before it takes the place of a file."""

from __future__ import annotations

from pathlib import Path

from sketcher.board.steps.bench import Bench
from sketcher.board.window_port import Host
from sketcher.exchange.outputs import Form, Outputs, strange


def planned(bench: Bench, host: Host, title: str, path: Path, form: Form) -> Outputs | None:
    """Return the outputs with one planned; None when a person would rather keep what is there.

    The file dialog has asked whether a file may be replaced, but not that it is a part or of
    another kind.

    Raises
    ------
    FileError
        When it cannot be written there, or is the part's own file, a folder or a device.
    """
    sources = () if bench.path is None else (bench.path,)
    outputs = Outputs(sources, remedy="choose another name")
    outputs.add(title, path, form, ask=False)
    problem = strange(path, form)
    if problem:
        if not host.confirm(title, f"{path.name} {problem}. Replace it?", "Replace it"):
            return None
        outputs.allow(path)
    return outputs


def asked_place(
    bench: Bench, host: Host, title: str, form: Form, suffix: str, name: str
) -> tuple[Path, Outputs] | None:
    """Return where a person wants a file, and the outputs with it planned; None for nowhere.

    Parameters
    ----------
    bench : Bench
    host : Host
    title : str
        Of the dialog, and of the question of `planned`.
    form : Form
    suffix, name : str
        What the file ends in, and what it might be called.

    Raises
    ------
    FileError
        As `planned`.
    """
    path = host.ask_path(title, True, suffix, name)
    outputs = None if path is None else planned(bench, host, title, path, form)
    return None if path is None or outputs is None else (path, outputs)
