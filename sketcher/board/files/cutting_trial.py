"""What another process does for the page of a cut: its plan, or why there is none and by which."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from typing import Any

from sketcher.errors import SketcherError
from sketcher.inspect.inspection import Inspection
from sketcher.shop.cut_plan import CutPlan, CutSettings
from sketcher.shop.planning import plan_cut

WITHOUT: tuple[tuple[str, dict[str, Any]], ...] = (
    ("tabs", {"tabs": 0, "tab_width": None}),
    ("lead", {"lead": None}),
    ("plate", {"copies": 1, "plate": None, "between": None}),
    ("small_holes", {"small_holes": "cut"}),
    ("kerf", {"kerf": 0.0}),
)
"""Fields of the form, and the settings without each: what is easiest to do without comes first."""


@dataclass(frozen=True)
class CutTrial:
    """A plan; or in its place why there is none, and the field of the form that is to blame.

    `blamed` is empty where the part would not be cut without any of them either.
    """

    plan: CutPlan | None
    refusal: SketcherError | None = None
    blamed: str = ""


def tried_cut(
    inspection: Inspection, settings: CutSettings, despite: Collection[str]
) -> CutTrial:
    """Return what comes of a cut with these settings; a refusal is a result, not an error.

    Whichever single setting a plan can do without is blamed; where it takes several, the last of
    them that had to go.
    """
    try:
        return CutTrial(plan_cut(inspection, settings, despite))
    except SketcherError as error:
        return CutTrial(None, error, _blamed(inspection, settings, despite))


def _blamed(inspection: Inspection, settings: CutSettings, despite: Collection[str]) -> str:
    left, refused = settings, [settings]  # a plan takes its time: none is made twice
    for one_more in (False, True):
        for name, change in WITHOUT:
            tried = replace(left if one_more else settings, **change)
            left = tried if one_more else left
            if tried not in refused:
                if _goes(inspection, tried, despite):
                    return name
                refused.append(tried)
    return ""


def _goes(inspection: Inspection, settings: CutSettings, despite: Collection[str]) -> bool:
    try:
        plan_cut(inspection, settings, despite)
    except SketcherError:
        return False
    return True
