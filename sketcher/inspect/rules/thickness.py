"""Plate that the machine can pierce."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.inspect.stock import Advice, Remark, Rule, Stock, reason
from sketcher.inspect.words import length, listed

NAME = "thickness"
WHY = "the machine does not get through a thicker plate"
MEND = "take thinner plate, or another machine"
CLASSES_MM = {"laser": (0.5, 32.0), "plasma": (0.5, 150.0)}
"""Thicknesses for which ISO 9013:2017 has quality classes: its scope, which is no capability."""


def check(stock: Stock) -> Iterator[Advice]:
    """Yield the processes for which the plate is thicker than the machine pierces."""
    limit = stock.pierce_limit
    if limit is not None and stock.short(limit, stock.thickness):
        for process in stock.processes:
            yield Advice(NAME, process, "plate", stock.thickness, limit, (), None,
                         reason(WHY, MEND), most=True)


def remark(stock: Stock) -> Iterator[Remark]:
    """Yield the processes whose quality classes do not reach to such a plate."""
    for process in stock.processes:
        low, high = (stock.mm(bound) for bound in CLASSES_MM[process])
        if not low <= stock.thickness <= high:
            asked = "" if stock.pierce_limit is not None \
                else "; what a machine pierces is its own matter, so ask the shop"
            ends = listed(length(bound, stock.unit) for bound in (low, high))
            yield Remark(NAME, (process,),
                         f"the quality classes of ISO 9013 lie between {ends}{asked}")


RULE = Rule(
    NAME,
    "at most what the machine at hand pierces, where that is said",
    "the machine's maker",
    check,
    WHY,
    MEND,
    serious=True,
    remark=remark,
)
