"""The Qt program on top of the board."""

import builtins

PLAIN_IMPORT = builtins.__import__
"""The import function as it is before PySide6 puts its own in its place (see `plain_imports`)."""
