"""Whether the drawing has what a wish names: a layer, a repair; of an axis step 8 knows."""

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


def _listed(names: Iterable[str]) -> str:
    every = list(names)
    shown = ", ".join(every[:MOST_LISTED]) or "none"
    return f"{shown} and {len(every) - MOST_LISTED} more" if len(every) > MOST_LISTED else shown
