"""Find the files that travel with the program: ``resources/`` and ``demo_parts/``."""

from __future__ import annotations

from importlib.resources import files
from importlib.resources.abc import Traversable

from sketcher.errors import FileError


def shipped(folder: str, name: str = "") -> Traversable:
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
    package = files("sketcher")
    for root in (package / "_shipped", package / ".."):
        place = root / folder
        for step in filter(None, name.split("/")):
            place = place / step
        if place.is_file() or place.is_dir():
            return place
    raise FileError(f"{folder}/{name}", "is missing from this installation", "install it again")
