"""The equations of a part as arrays: residual, sparse Jacobian, owners of rows and columns."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, TypeAlias

import numpy as np

from sketcher.part.equations import Array
from sketcher.part.kinds import settle_sides
from sketcher.part.operand_forms import Slot
from sketcher.part.part_size import part_size
from sketcher.part.value import Part
from sketcher.solve.assemble import Assembly
from sketcher.solve.normal import Normal
from sketcher.solve.rank import SMALL
from sketcher.solve.reduce import reduce
from sketcher.solve.unknowns import Slots, placed

if TYPE_CHECKING:
    from scipy.sparse import csr_array

    Sparse: TypeAlias = csr_array


@dataclass(slots=True)
class Placement:
    """Where the derivatives of the blocks go in the Jacobian (compressed by rows).

    `into` is None where no two of them meet in one entry.
    """

    keep: Array
    into: Array | None
    indptr: Array
    indices: Array
    rows: Array


GRAIN = 1e-6
"""Least size as a share of the largest coordinate. Rounding is 1e-16 of a coordinate, and what is
reached is 1e-9 of the size: of anything smaller it would be less than rounding."""


class System:
    """All driving bindings of a part as equations in the reduced unknowns.

    Rows are lengths in the part's unit (angles times a typical length). A binding may own several
    rows, some of which may follow from others (two level lines at an offset): it is said twice
    only when none of its rows adds to the rank. Rows of arcs, which put their ends on them, come
    first in the order of owners.

    Parameters
    ----------
    part : Part
    size : float, optional
        Least size to reckon with, where the part is a piece of a larger one.

    Attributes
    ----------
    part : Part
        The part with all sides settled.
    x0 : float array
        Unknowns as the part stands.
    binding_ids : tuple of str
        Owners of rows: ids of arcs, then of driving bindings.
    row_binding : int array
        Index into `binding_ids` for each row.
    merged : dict of str to str
        Bindings that were ``doubled`` or ``clashing`` already in the substitution.
    names : list of (str, str)
        Every raw slot by (point id, "x" or "y") or (round's id, "r").
    column : int array
        Column of each raw slot; -1 where it is constant.
    size : float
        Diagonal of the part as it stands, the largest length that is wanted, or what was given;
        not less than coordinates can tell so far from zero.
    """

    def __init__(self, part: Part, size: float = 0.0) -> None:
        self.part = settle_sides(part)
        self.slots = Slots.of(part)
        raw = self.slots.values(part)
        assembly = Assembly(self.part, self.slots)
        self.binding_ids = tuple(assembly.owners)
        self.first_binding = assembly.first_binding
        self.blocks, self.wishes, self.open = assembly.blocks, assembly.wishes, assembly.open
        self.size = max(part_size(part), self._largest_length(), size, GRAIN * max(
            (max(abs(x), abs(y)) for x, y in part.points.values()), default=0.0))
        self.reduction, self.merged = reduce(
            raw, assembly.held, assembly.joined, 1e-9 * self.size)
        self.column = self.reduction.column
        self.x0 = self.reduction.gather(raw)
        self.scales = self._scales(self.reduction.spread(self.x0))
        self.row_binding = self._by_row([b.owner for b in self.blocks], int)
        self.values = np.concatenate([np.zeros(0), *(b.value for b in self.blocks)])
        self.valued = np.concatenate([np.zeros(0, bool), *(b.valued for b in self.blocks)])

    def _by_row(self, per_block: list[Array], kind: type) -> Array:
        """What is said of each use of an equation as said of each row."""
        return np.concatenate([np.zeros(0, kind), *(
            np.repeat(each, b.equation.rows) if b.equation.rows > 1 else each
            for b, each in zip(self.blocks, per_block, strict=True))])

    @cached_property
    def row_valued(self) -> Array:
        """Whether each row has the value of a dimension, shape (height,)."""
        return self._by_row([b.valued for b in self.blocks], bool)

    def _largest_length(self) -> float:
        lengths = [b.value for b in self.blocks if not b.equation.angular and b.valued.any()]
        return max((float(np.abs(v).max()) for v in lengths), default=0.0)

    def _scales(self, raw: Array) -> list[Array | None]:
        out: list[Array | None] = []
        for block in self.blocks:
            span = None
            if block.equation.angular:
                span = np.clip(block.equation.span(raw[block.slots]), 0.01 * self.size, self.size)
            out.append(span)
        return out

    @property
    def width(self) -> int:
        """Number of unknowns."""
        return self.reduction.width

    @property
    def height(self) -> int:
        """Number of rows."""
        return len(self.row_binding)

    @property
    def small(self) -> bool:
        """Whether dense algebra is the right way."""
        return max(self.width, self.height) <= SMALL

    @cached_property
    def names(self) -> list[Slot]:
        """Every raw slot by (id, axis)."""
        return self.slots.names()

    @cached_property
    def unknowns(self) -> dict[Slot, int]:
        """Column of each raw slot by (id, axis); -1 where it is constant."""
        return dict(zip(self.names, self.column.tolist(), strict=True))

    def raw(self, x: Array) -> Array:
        """Coordinates of all points and radii of all rounds."""
        return self.reduction.spread(x)

    def residual(self, x: Array, values: Array | None = None) -> Array:
        """Rows at `x`, shape (height,); `values` replaces the wanted values."""
        raw = self.raw(x)
        values = self.values if values is None else values
        out, first = [np.zeros(0, x.dtype)], 0
        for block, scale in zip(self.blocks, self.scales, strict=True):
            last = first + len(block.owner)
            found = block.equation.residual(raw[block.slots], values[first:last], block.side)
            out.append((found if scale is None else found * scale[:, None]).ravel())
            first = last
        return np.concatenate(out)

    def _derivatives(self, x: Array, values: Array | None) -> Array:
        """All local derivatives in the order of `_placing`."""
        raw = self.raw(x)
        values = self.values if values is None else values
        out, first = [np.zeros(0)], 0
        for block, scale in zip(self.blocks, self.scales, strict=True):
            last = first + len(block.owner)
            found = block.equation.jacobian(raw[block.slots], values[first:last], block.side)
            out.append((found if scale is None else found * scale[:, None, None]).ravel())
            first = last
        return np.concatenate(out)

    @cached_property
    def _placing(self) -> Placement:
        blocks = self.blocks
        slots = [np.zeros(0, int), *(
            np.repeat(b.slots, b.equation.rows, axis=0).ravel() for b in blocks)]
        rows_of = [len(b.owner) * b.equation.rows for b in blocks]
        wide = np.repeat(np.array([b.equation.width for b in blocks], int), rows_of)
        col = self.column[np.concatenate(slots)]
        pattern = [np.zeros(0, bool), *(
            np.tile(b.equation.pattern.ravel(), len(b.owner)) for b in blocks)]
        kept = np.flatnonzero(np.concatenate(pattern) & (col >= 0))
        row, col = np.repeat(np.arange(self.height), wide)[kept], col[kept]
        key = row * max(self.width, 1) + col
        # the keys come row by row: a stable sort makes use of that, `numpy.unique` would not
        order = np.argsort(key, kind="stable")
        key = key[order]
        first_of = np.ones(len(key), bool)
        first_of[1:] = key[1:] != key[:-1]
        at_row, at_col = row[order[first_of]], col[order[first_of]]
        indptr = np.zeros(self.height + 1, np.int32)
        indptr[1:] = np.cumsum(np.bincount(at_row, minlength=self.height))
        into = None if first_of.all() else np.cumsum(first_of) - 1
        return Placement(kept[order], into, indptr, at_col.astype(np.int32), at_row)

    def entries(self, x: Array, values: Array | None = None) -> Array:
        """Derivatives that can differ from zero, in the order of `structure`."""
        place = self._placing
        found = self._derivatives(x, values)[place.keep]
        return found if place.into is None else np.bincount(
            place.into, found, len(place.indices))

    @property
    def structure(self) -> tuple[Array, Array]:
        """Row and column of each entry, sorted by rows."""
        return self._placing.rows, self._placing.indices

    def dense_jacobian(self, x: Array, values: Array | None = None) -> Array:
        """Jacobian as an array, shape (height, width)."""
        out = np.zeros((self.height, self.width))
        out[self._placing.rows, self._placing.indices] = self.entries(x, values)
        return out

    def jacobian(self, x: Array, values: Array | None = None) -> Sparse:
        """Jacobian as a scipy.sparse.csr_array, shape (height, width)."""
        from scipy.sparse import csr_array

        place = self._placing
        return csr_array((self.entries(x, values), place.indices, place.indptr),
                         shape=(self.height, self.width))

    @cached_property
    def normal(self) -> Normal:
        """Products and factors of the Jacobian with its transpose, for steps of large systems."""
        place = self._placing
        return Normal(place.indices, place.indptr, self.width)

    def kept(self, x: Array) -> tuple[bool, int]:
        """Whether all radii are positive, and how many wishes for a sense are not met."""
        raw = self.raw(x)
        radii = raw[2 * len(self.slots.points):]
        return bool((radii > 0.0).all()), sum(
            int((~block.equation.holds(raw[block.slots], block.side)).sum())
            for block in self.wishes)

    def unmet(self, x: Array) -> tuple[str, ...]:
        """Bindings whose wish (sense of a line, which of two crossings) is not met at `x`."""
        raw = self.raw(x)
        off = [block.owner[~block.equation.holds(raw[block.slots], block.side)]
               for block in self.wishes]
        numbers = sorted(int(number) for owners in off for number in owners)
        return tuple(self.binding_ids[number] for number in numbers)

    def mended(self, x: Array) -> Array:
        """Unknowns with every wish met by the shortest way, each by itself."""
        raw = self.raw(x)
        for block in self.wishes:
            at = raw[block.slots]
            off = ~block.equation.holds(at, block.side)
            if off.any():
                free = self.column[block.slots[off]] >= 0
                moved = block.equation.mended(at[off], block.side[off], free)
                raw[block.slots[off]] = moved
        return self.reduction.gather(raw)

    def nearer(self, x: Array, sketch: Array) -> Array:
        """Unknowns with corners put at that crossing of their curves which is nearer to a sketch.

        Parameters
        ----------
        x : array, shape (width,)
            A solution.
        sketch : array
            Unknowns as they were drawn.
        """
        raw, drawn = self.raw(x), self.raw(sketch)
        for block in self.open:
            at = raw[block.slots]
            now = block.equation.settle(at, block.value)
            other = block.equation.mended(at, 1 - now, self.column[block.slots] >= 0)
            point = np.flatnonzero((other != at).any(axis=0))
            if not len(point):
                continue
            aim = drawn[block.slots[:, point]]
            swap = (((other[:, point] - aim) ** 2).sum(axis=1)
                    < ((at[:, point] - aim) ** 2).sum(axis=1))
            raw[block.slots[np.ix_(swap, point)]] = other[np.ix_(swap, point)]
        return self.reduction.gather(raw)

    def moved(self, x: Array, sketch: Array) -> float:
        """Largest move of any unknown from a sketch, as a part of the size."""
        return float(np.abs(x - sketch).max(initial=0.0)) / self.size

    def measured(self, x: Array) -> Array:
        """Values that the dimensions have at `x`, in the order of `values`."""
        raw = self.raw(x)
        out, first = self.values.copy(), 0
        for block in self.blocks:
            last = first + len(block.owner)
            if block.valued.any():
                found = block.equation.residual(raw[block.slots], block.value, block.side)
                off = block.equation.deviation(found, block.side)[:, 0]
                out[first:last] += np.where(block.valued, off, 0.0)
            first = last
        return out

    def rescaled(self, x: Array) -> Array:
        """Unknowns of a sketch brought to the scale of its dimensions; `x` itself where it is.

        People sketch at any scale and type the sizes after. The sketch is scaled about its held
        point when most of at least three lengths ask for one factor beyond 0.5 to 2.
        """
        lengths = np.concatenate([
            np.full(len(b.owner), not b.equation.angular) & b.valued for b in self.blocks]
            or [np.zeros(0, bool)])
        now, wanted = self.measured(x)[lengths], self.values[lengths]
        useful = (now > 1e-6 * self.size) & (wanted > 0.0)
        if int(useful.sum()) < 3:
            return x
        asked = np.sort(wanted[useful] / now[useful])
        # linear between the neighbours; numpy's own quantiles are slow to start
        low, factor, high = np.interp(
            np.array([0.25, 0.5, 0.75]) * (len(asked) - 1), np.arange(len(asked)), asked)
        if 0.5 <= factor <= 2.0 or high > 2.5 * low:
            return x
        raw = self.raw(x)
        count = 2 * len(self.slots.points)
        places = raw[:count].reshape(-1, 2)
        held = (self.column[:count].reshape(-1, 2) < 0).all(axis=1)
        about = places[held].mean(axis=0) if held.any() else places.mean(axis=0)
        scaled = np.concatenate([
            (about + factor * (places - about)).ravel(), factor * raw[count:]])
        return self.reduction.gather(scaled)

    def deviations(self, x: Array) -> dict[str, float]:
        """Actual minus wanted of each driving binding: part's unit, degrees for angle dimensions.

        Of several rows the worst counts; substituted bindings hold exactly.
        """
        raw = self.raw(x)
        worst = np.zeros(len(self.binding_ids))
        for block, scale in zip(self.blocks, self.scales, strict=True):
            found = block.equation.residual(raw[block.slots], block.value, block.side)
            off = block.equation.deviation(found, block.side)
            if scale is not None:
                off = off * np.where(block.valued, np.degrees(1.0), scale)[:, None]
            owner = np.repeat(block.owner, block.equation.rows)
            flat = off.ravel()
            order = np.argsort(np.abs(flat))  # the last write to an owner is its worst row
            better = np.abs(flat[order]) >= np.abs(worst[owner[order]])
            worst[owner[order][better]] = flat[order][better]
        first = self.first_binding
        return dict(zip(self.binding_ids[first:], worst[first:].tolist(), strict=True))

    def at(self, part: Part) -> Array:
        """Unknowns as another part with the same points and curves stands, shape (width,)."""
        return self.reduction.gather(self.slots.values(part))

    def to_part(self, x: Array) -> Part:
        """Return the part, sides settled, with its geometry at `x`."""
        return placed(self.part, self.slots, self.raw(x))
