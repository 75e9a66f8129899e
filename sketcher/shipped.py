"""Find the files that travel with the program: ``resources/`` and ``demo_parts/``."""

from __future__ import annotations

from pathlib import Path

from sketcher.errors import FileError


def shipped(folder: str, name: str = "") -> Path:
    """Return a shipped file, or the folder itself when `name` is empty.

    A wheel carries both folders inside the package; a checkout has them beside it.

    Parameters
    ----------
    folder : str
        ``"resources"`` or ``"demo_parts"``.
    name : str
        Path below the folder, with forward slashes.

    Raises
    ------
    FileError
        The installation lacks the file.
    """
    # The package is files in a folder, wherever it is installed; `importlib.resources`, made for
    # packages inside archives too, loads a dozen modules before the first byte is read.
    package = Path(__file__).resolve().parent
    for root in (package / "_shipped", package.parent):
        place = root / folder / name
        if place.exists():
            return place
    raise FileError(f"{folder}/{name}", "is missing from this installation", "install it again")
