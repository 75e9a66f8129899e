"""Cutting rules: advice on what a laser or a plasma cutter can do, one rule a file.

Every number is a starting value from the trade, to be replaced with one that was measured on the
machine at hand. Advice does not make a part unsound: the exit status of an inspection does not
depend on it, because a small hole may be drilled and a sharp inside corner filed.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from sketcher.inspect.stock import Advice, Remark, Rule, Stock
from sketcher.registry import collect

CAUTION = "starting values: replace them with values measured on your machine"


@cache
def rules() -> Mapping[str, Rule]:
    """Return every rule in the folder by name."""
    return MappingProxyType({rule.name: rule for rule in collect(__name__, "RULE")})


def check_all(stock: Stock) -> tuple[Advice, ...]:
    """Return the advice of every rule, rule by rule."""
    return tuple(advice for rule in rules().values() for advice in rule.check(stock))


def remark_all(stock: Stock) -> tuple[Remark, ...]:
    """Return the remarks of every rule, rule by rule."""
    return tuple(remark for rule in rules().values() for remark in rule.remark(stock))
