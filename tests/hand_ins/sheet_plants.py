"""Mistakes in dimensions and on the sheet, by rule of marking: how each is drawn."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from tests.hand_ins.dimensions_by_hand import Measured, Sheeting
from tests.hand_ins.draft import Draft, Plant


def _planted(rule: str, make: Callable[[Sheeting], None]) -> Plant:
    def on_sheet(draft: Draft) -> None:
        assert draft.sheeting is not None
        make(draft.sheeting)
    return Plant(rule, "sheet", on_sheet)


def undimensioned(name: str) -> Plant:
    """A size that nothing says."""
    return _planted("dimension-missing", lambda sheet: sheet.swap(name))


def again(name: str, **changes: object) -> Plant:
    """A size that is said a second time, elsewhere."""
    return _planted("dimension-twice", lambda sheet: sheet.swap(
        name, sheet.named(name), replace(sheet.named(name), **changes)))  # type: ignore[arg-type]


def altered(rule: str, name: str, **changes: object) -> Plant:
    """A dimension laid otherwise."""
    return _planted(rule, lambda sheet: sheet.swap(
        name, replace(sheet.named(name), **changes)))  # type: ignore[arg-type]


def snapped_beside(name: str, by: complex) -> Plant:
    """A dimension whose second foot is off what it means: it measures another length."""
    def make(sheet: Sheeting) -> None:
        each = sheet.named(name)
        sheet.swap(name, replace(each, points=(each.points[0], each.points[1] + by)))
    return _planted("dimension-value", make)


def in_wrong_rows(one: str, other: str) -> Plant:
    """Two dimensions that stand in each other's row: the shorter one outside."""
    def make(sheet: Sheeting) -> None:
        a, b = sheet.named(one), sheet.named(other)
        sheet.swap(one, replace(a, at=b.at))
        sheet.swap(other, replace(b, at=a.at))
    return _planted("dimension-crossing", make)


def styled(rule: str, **style: float) -> Plant:
    """A dimension style that is set otherwise."""
    return _planted(rule, lambda sheet: sheet.style.update(style))


def without_sharp() -> Plant:
    """A sharp corner that is measured to, and not drawn."""
    return _planted("sharp-not-shown", lambda sheet: sheet.thin.clear())


def written(rule: str, old: str, new: str) -> Plant:
    """Something else, or nothing, in the title block."""
    return _planted(rule, lambda sheet: sheet.say(old, new))


def one_width() -> Plant:
    """Edges as thin as everything else."""
    def make(sheet: Sheeting) -> None:
        sheet.widths = (25, 25)
    return _planted("line-widths", make)


def as_radius(name: str) -> Plant:
    """A full circle with its radius."""
    def make(sheet: Sheeting) -> None:
        each: Measured = sheet.named(name)
        sheet.swap(name, replace(each, kind="radius"))
    return _planted("radius-for-diameter", make)
