"""What the material does under heat, apart from the shapes that are cut of it."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.inspect.stock import Advice, Remark, Rule, Stock
from sketcher.inspect.words import length, listed
from sketcher.part.materials import coatings_of, plate_material

NAME = "material"
WHY = "what it gives off, and whether it can be cut at all, goes by what the plate is of"
MEND = "ask the shop, and extract the fumes"


def check(_: Stock) -> Iterator[Advice]:
    """Yield nothing: what there is to say is no length."""
    return iter(())


def remark(stock: Stock) -> Iterator[Remark]:
    """Yield what the table of materials says of the plate and of what lies on it."""
    kind, both = plate_material(stock.material), stock.processes
    if kind is None:
        yield Remark(NAME, both, f"{stock.material} is not in the table of materials: ask whether "
                                 "it may be cut by heat, and what it gives off")
        return
    if "plasma" in stock.unfit:
        yield Remark(NAME, ("plasma",), f"no advice for plasma: {kind.name} does not conduct")
    beside = kind.beside(stock.thickness, stock.unit)
    if beside is not None:
        kept = listed(length(size, stock.unit) for size in beside)
        yield Remark(NAME, both, f"shops keep {kind.name} of {kept}: ask whether they have "
                                 f"{length(stock.thickness, stock.unit)}")
    if kind.why and "laser" in both:
        yield Remark(NAME, ("laser",), kind.why)
    if kind.mind:
        yield Remark(NAME, both, kind.mind)
    yield from (Remark(NAME, both, mind) for mind in coatings_of(stock.material))


RULE = Rule(
    NAME,
    "a conductor (plasma), and nothing whose fumes are poisonous",
    "the table of materials, where each source stands",
    check,
    WHY,
    MEND,
    remark=remark,
)
