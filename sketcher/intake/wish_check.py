"""Whether the drawing has what a wish names: a layer, a repair, an axis."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from sketcher.errors import EditError
from sketcher.exchange.dxf_content import DxfContent
from sketcher.intake.taken import Taken
from sketcher.intake.wishes import Wishes

MOST_LISTED = 12


def check_layers(content: DxfContent, wishes: Wishes) -> None:
    """Refuse layers that the file has not.

    Raises
    ------
    EditError
    """
    names = [layer.name for layer in content.layers]
    for wanted in wishes.layers or ():
        if wanted not in names:
            raise EditError(f"--layers {wanted}", "the file has no such layer",
                            f"it has {_listed(names)}")


def check_kept(taken: Taken, wishes: Wishes, kinds: Collection[str]) -> None:
    """Refuse repairs that the drawing does not come to.

    Raises
    ------
    EditError
    """
    names = [repair.name for repair in taken.repairs]
    for wanted in sorted(wishes.keep - set(kinds) - set(names)):
        raise EditError(f"--keep {wanted}", "no repair has this name",
                        f"repairs: {_listed(names)}; kinds: {', '.join(kinds)}")


def check_axis(taken: Taken, wishes: Wishes) -> None:
    """Refuse an axis that none of the parts has.

    Raises
    ------
    EditError
    """
    if wishes.axis in (None, "none"):
        return
    ids = dict.fromkeys(axis.id for part in taken.parts for axis in part.offered)
    if wishes.axis not in ids:
        has = _listed(ids) if ids else "it has none"
        raise EditError("--axis", f"the part has no axis {wishes.axis}" if len(taken.parts) == 1
                        else f"no part has an axis {wishes.axis}",
                        f"give none, or one of its own: {has}")


def _listed(names: Iterable[str]) -> str:
    every = list(names)
    shown = ", ".join(every[:MOST_LISTED]) or "none"
    return f"{shown} and {len(every) - MOST_LISTED} more" if len(every) > MOST_LISTED else shown
