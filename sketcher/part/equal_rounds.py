"""Rounds that bindings make one size."""

from __future__ import annotations

from sketcher.part.kinds import KINDS
from sketcher.part.value import Part


def equal_rounds(part: Part) -> dict[str, frozenset[str]]:
    """Return for each round that is bound to others of its size all of these, and itself."""
    groups: dict[str, set[str]] = {}
    for binding in part.bindings.values():
        for (one, axis), (other, _) in KINDS[binding.kind].unions(part, binding.of):
            if axis != "r":
                continue
            joined = groups.get(one, {one}) | groups.get(other, {other})
            for name in joined:
                groups[name] = joined
    return {name: frozenset(group) for name, group in groups.items()}
