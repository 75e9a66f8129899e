"""Pages behind the drawing, one kind a file with `PAGE`; the folder is the registry.

A page draws in mm on the paper that it is given; it chooses neither sheet nor scale.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from sketcher.drafting.page_kind import PageKind
from sketcher.registry import collect


@cache
def page_kinds() -> Mapping[str, PageKind]:
    """Return every kind in the folder by name, in the order of the pages."""
    found = sorted(collect(__name__, "PAGE"), key=lambda kind: kind.rank)
    return MappingProxyType({kind.name: kind for kind in found})
