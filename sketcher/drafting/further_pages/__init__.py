"""Pages behind the drawing, one kind a file with `PAGE`; the folder is the registry.

A page draws in mm on the paper that it is given; it chooses neither sheet nor scale.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from types import MappingProxyType

from sketcher.drafting.page_kind import PageKind


@cache
def page_kinds() -> Mapping[str, PageKind]:
    """Return every kind in the folder by name, in the order of the pages."""
    found = [import_module(f"{__name__}.{module.name}").PAGE for module in iter_modules(__path__)]
    return MappingProxyType({kind.name: kind for kind in sorted(found, key=lambda k: k.rank)})
