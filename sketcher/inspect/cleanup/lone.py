"""Points that belong to nothing; each of them is two freedoms that no drawing speaks of."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.inspect.mend import Defect, Mend, MendStep
from sketcher.inspect.survey import Survey
from sketcher.part.value import PolarPattern


def find(survey: Survey) -> Iterator[Defect]:
    """Yield points that no curve, binding or pattern names."""
    part = survey.part
    used = {point for curve in part.curves.values() for point in curve.points} | survey.named
    used |= {p.center for p in part.patterns.values() if isinstance(p, PolarPattern)}
    for name, at in part.points.items():
        if name not in used:
            yield Defect("lone", (name,), at, 0.0, f"point {name} belongs to nothing",
                         MendStep("delete", (name,)), f"Delete {name}")


MEND = Mend("lone", "unused point", 6, find)
