"""Rules of marking, one a file; the registry is the folder.

Each module has `RULE`, a `MarkingRule`. A rule looks at a comparison alone, finds each mistake
once, and leaves to the others what is theirs: what a wrong value of the key explains is its own.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import get_args

from sketcher.marking.marking_rule import MarkingRule, RuleGroup
from sketcher.registry import collect


@cache
def marking_rules() -> Mapping[str, MarkingRule]:
    """Return every rule by name, group by group."""
    groups = get_args(RuleGroup)
    found = sorted(collect(__name__, "RULE", "_rule"),
                   key=lambda rule: (groups.index(rule.group), rule.rank, rule.name))
    return MappingProxyType({rule.name: rule for rule in found})
