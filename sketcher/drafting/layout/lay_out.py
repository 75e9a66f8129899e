"""Lays out the dimensions of one drawing, from nothing or from where they stood."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from sketcher.drafting.draw_length import Frame
from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.layout.all_places import places_of
from sketcher.drafting.layout.choose import FULL, Chooser, Effort, Found
from sketcher.drafting.layout.dimension_places import Place, Places
from sketcher.drafting.layout.ink import HARD
from sketcher.drafting.layout.paper_ground import Ground
from sketcher.drafting.layout.shapes import ink_of
from sketcher.drafting.measured import Measured, MeasuredLength, MeasuredRound
from sketcher.drafting.sizes import Sizes
from sketcher.geometry.curves import XY


@dataclass(frozen=True, slots=True)
class Layout:
    """Where all dimensions stand.

    Parameters
    ----------
    drawn : tuple of Drawn
        In the order in which they were given.
    places : mapping of str to tuple
        The place of each by id, for the next frame; none for those that a person has put somewhere.
    badly : tuple of str
        Those that found no room: lettering that stands on something, or lines that cross what they
        must not.
    cost : float
        Of all together.
    work : int
        Pairs of pieces that were looked at: the same for the same part.
    is_settled : bool
        Whether all stand so well that more effort would look at none of them.
    """

    drawn: tuple[Drawn, ...]
    places: Mapping[str, Place]
    badly: tuple[str, ...]
    cost: float = 0.0
    work: int = 0
    is_settled: bool = True


def lay_out(
    wanted: Sequence[Measured], ground: Ground, sizes: Sizes, effort: Effort = FULL,
    dragged: Mapping[str, XY] = MappingProxyType({}),
    kept: Mapping[str, Place] = MappingProxyType({}), still: Collection[str] = (),
    known: Sequence[Places] | None = None,
) -> Layout:
    """Place dimensions.

    Parameters
    ----------
    wanted : sequence of Measured
    ground : Ground
        Outline and center lines, which the dimensions keep clear of.
    sizes : Sizes
        Lettering and spacings, in mm on paper.
    effort : Effort
    dragged : mapping of str to XY
        Where a person has put the middle of a lettering.
    kept : mapping of str to Place
        Where dimensions stood in the frame before: they stay unless they must not.
    still : collection of str
        Those of them that measure what they did: as long as they have room where they stood, they
        do not move for the sake of a better place, only where another finds no room at all.
    known : sequence of Places, optional
        Places of the same dimensions on the same ground from a layout before.
    """
    if not wanted:
        return Layout((), {}, ())
    ground.ink.looked = 0
    places = places_of(wanted, ground, sizes) if known is None else known
    put = {k: places[k].draw_at(dragged[one.id]) for k, one in enumerate(wanted)
           if one.id in dragged}
    chooser = Chooser(places, frozenset(put), effort)
    for k, drawn in put.items():
        batch = ink_of([drawn], [sizes.lettering(wanted[k].wording)])
        row = chooser.ink.costs(batch)[0]
        chooser.put(k, Found(0.0, 0.0, 0.0, (), row, batch.only(0)))
    stood = {k: kept[one.id] for k, one in enumerate(wanted)
             if k not in put and one.id in kept and places[k].holds(kept[one.id])}
    chooser.keep(stood)
    chooser.hold(k for k in stood if wanted[k].id in still)
    chooser.place_all(k for k in in_order(wanted) if k not in stood)
    if stood:
        chooser.settle()
    chooser.better()
    costs = chooser.own + chooser.pair.sum(axis=1)
    drawn_all = tuple(put[k] if k in put else places[k].draw(chooser.at[k].place)
                      for k in range(len(wanted)))
    badly = tuple(one.id for k, one in enumerate(wanted) if k not in put and costs[k] >= HARD)
    stand = {one.id: chooser.at[k].place for k, one in enumerate(wanted) if k not in put}
    return Layout(drawn_all, stand, badly, chooser.total, chooser.work, chooser.is_settled)


def in_order(wanted: Sequence[Measured]) -> list[int]:
    """Return the numbers of dimensions in the order in which they are placed."""
    def rank(k: int) -> tuple[int, float]:
        one = wanted[k]
        if isinstance(one, MeasuredLength):
            frame = Frame(one.direction)
            size = abs(frame.of(one.first[0])[0] - frame.of(one.second[0])[0])
            return (0 if one.inline else 1, size)
        return (2 if isinstance(one, MeasuredRound) else 3, 0.0)

    return sorted(range(len(wanted)), key=rank)
