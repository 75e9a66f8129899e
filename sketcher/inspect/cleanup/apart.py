"""Ends at one place that are two points: they look joined and come apart when something moves."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.geometry.curves import XY
from sketcher.inspect.cleanup import overlap
from sketcher.inspect.cleanup.doubled import twins
from sketcher.inspect.mend import Defect, Mend, MendStep
from sketcher.inspect.survey import Survey
from sketcher.inspect.words import listed
from sketcher.part.value import CircleCurve


def find(survey: Survey) -> Iterator[Defect]:
    """Yield places where drawn curves end in different points."""
    # What is to go needs no joint, and what is drawn twice is joined when one of it goes.
    going = {p.id for pair in twins(survey) for p in pair}
    going |= {d.ids[0] for d in overlap.find(survey)}
    order = {name: k for k, name in enumerate(survey.part.points)}
    for node, here in enumerate(survey.net.at):
        if len(here) < 2:
            continue
        at = survey.net.points[node]
        curves = [survey.pieces[k].id for k in here
                  if survey.pieces[k].drawn and survey.pieces[k].id not in going]
        points = {_end_at(survey, name, at) for name in curves}
        if len(points) < 2:
            continue
        names = sorted(points, key=lambda p: (p not in survey.named, order[p]))
        step = survey.first_that_works(MendStep("merge", tuple(names)))
        ids = tuple(dict.fromkeys(curves))
        yield Defect("apart", ids, at, 0.0,
                     f"{listed(ids)} end at one place, but in different points ({listed(names)})",
                     step, f"Make one point of {listed(names)}" if step else "")


def _end_at(survey: Survey, name: str, at: XY) -> str:
    curve = survey.part.curves[name]
    assert not isinstance(curve, CircleCurve)
    places = survey.part.points
    return min(curve.ends, key=lambda p: abs(places[p][0] - at[0]) + abs(places[p][1] - at[1]))


MEND = Mend("apart", "two points at one place", 4, find)
