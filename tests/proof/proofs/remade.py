"""A sheet says all that it takes to make the part, and is told when it does not.

Random dimensioned plates are drawn by ISO or ASME. Their sheet must rebuild them. Then one printed
dimension is left out, one number is changed; both must be told: the first as missing, the second
by the very dimension. What is off is known because it was planted.
"""

from __future__ import annotations

from dataclasses import replace

from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.page import Page
from sketcher.drafting.rebuild import rebuild
from sketcher.drafting.sheet import pages
from sketcher.solve import solve
from tests.proof.dimensioned_plates import dimensioned_plate
from tests.proof.proof import Proof
from tests.proof.tally import Case

FORMS = ("linear", "aligned", "radius", "diameter", "angle")
"""Of a dimension; a letter by which a note names something is none."""
EXACT = 1e-6
"""Mm or inches by which a plate of a few hundred may come out elsewhere: rounding of the solver."""


def one_sheet(case: Case) -> None:
    solution = solve(dimensioned_plate(case.random))
    if solution.report.state != "bound":
        case.tally.fault("not bound", f"case {case.number}: {solution.report.state}")
        return
    page = pages(solution.part)[0]
    case.tally.count("sheets")
    rebuilt = rebuild(page)
    if rebuilt.lacks or rebuilt.worst > EXACT:
        told = "; ".join(lack.text for lack in rebuilt.lacks) or f"{rebuilt.worst:g} off"
        case.tally.fault("not rebuilt", f"case {case.number}: {told}")
        return
    case.tally.worst("off by, mm or in", rebuilt.worst)
    # Of a round end that its width says already, R alone tells nothing more.
    dim = case.random.choice([d for d in page.dimensions
                              if not d.text.startswith("(") and not d.text.endswith("R")
                              and d.form != "label"])
    left_out(case, page, dim)
    falsified(case, page, dim)


def left_out(case: Case, page: Page, dim: Drawn) -> None:
    lacks = rebuild(with_it(page, dim, None)).lacks
    case.tally.count("dimensions left out")
    if not lacks or any(lack.cause != "missing" for lack in lacks):
        case.tally.fault("not missed", f"case {case.number}: {dim.text} ({dim.form}): {lacks}")


def falsified(case: Case, page: Page, dim: Drawn) -> None:
    """The last digit of the number is another one."""
    end = max(k for k, letter in enumerate(dim.text.partition("±")[0].partition(" e")[0]
                                           .partition(" E")[0].partition("×")[0]
                                           .partition(" X 4")[0].partition("(")[0])
              if letter.isdigit())
    other = str((int(dim.text[end]) + 5) % 10)
    text = dim.text[:end] + other + dim.text[end + 1:]
    lacks = rebuild(with_it(page, dim, replace(dim, text=text))).lacks
    case.tally.count("numbers changed")
    if [lack.name for lack in lacks] != [dim.id]:
        case.tally.fault("not told", f"case {case.number}: {dim.text} as {text}: {lacks}")


def with_it(page: Page, dim: Drawn, other: Drawn | None) -> Page:
    """The page with another dimension in place of one, or without it."""
    kept = [other if d is dim else d for d in page.dimensions]
    return replace(page, dimensions=tuple(d for d in kept if d is not None))


PROOF = Proof(
    name="remade",
    says="A random plate comes out of its sheet alone; what is left out or false there is told",
    tried="sheets",
    faults=("not bound", "not rebuilt", "not missed", "not told"),
    whole=300,
    short=8,
    case=one_sheet,
    minutes=3.0,
)
