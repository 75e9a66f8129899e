"""Puts a piece that was just pasted where it belongs: in hand until a place is pressed or typed."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import replace
from math import dist

from sketcher.board.places.picking import Picker
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.preview import Preview
from sketcher.board.steps.bench import Bench
from sketcher.board.steps.drawing_step import Sketch
from sketcher.board.toolkit.drawing_words import follows
from sketcher.board.toolkit.placing_tool import PlacingTool
from sketcher.board.toolkit.point_joining import joined
from sketcher.board.toolkit.trial import Trial
from sketcher.errors import SketcherError
from sketcher.geometry.curves import XY
from sketcher.part.edited import Edited
from sketcher.part.edits.paste import paste
from sketcher.part.value import CircleCurve, Part

STEP = "Paste"


class PastedPiece(PlacingTool):
    """Carries a pasted piece by one of its points, which snaps as a point that is drawn does.

    The piece stands in the part already; its place is part of the same step. Put down without a
    place, the tool leaves it where it stands.

    Parameters
    ----------
    bench : Bench
        Holds the part with the piece.
    before : Part
        The part without it.
    piece : Part
        What was pasted.
    step : tuple of float
        By how much it was moved then, in the part's unit.
    made : tuple of str
        Its curves in the part, or its points where it has none.
    """

    name = "paste"
    label = "Paste"
    keeps_selection = True  # which is the piece
    hint = ("Press where the piece goes, or type X and Y of the point that it is held by; Space "
            "takes the next point, Esc leaves the piece where it stands.")

    def __init__(
        self, bench: Bench, before: Part, piece: Part, step: XY, made: tuple[str, ...]
    ) -> None:
        super().__init__(bench)
        self._before, self._piece, self._step, self._made = before, piece, step, made
        self._pasted = bench.part
        self._picker = Picker(before, bench.finds_layout)
        self._trial = Trial(bench)
        self._grips = grips(piece)
        self._grip = 0

    @property
    def grip(self) -> str:
        """The point in the part that the piece is held by."""
        return self._named(self._pasted, self._made)

    def _named(self, part: Part, made: tuple[str, ...]) -> str:
        """Return the point of the grip in a part that holds the piece."""
        wanted = self._grips[self._grip]
        for name, mine in zip(self._piece.curves or self._piece.points, made, strict=True):
            curve = self._piece.curves.get(name)
            if curve is None:
                if name == wanted:
                    return mine
            elif wanted in curve.points:
                return part.curves[mine].points[curve.points.index(wanted)]
        raise AssertionError("a piece is held by a point of its own")

    # Looking.

    def around(self) -> Around:
        """Return what the snaps may look at: the part without the piece."""
        touched = tuple(n for n in self._touched
                        if n in self._before.points or n in self._before.curves)
        return replace(super().around(), part=self._before, picker=self._picker, touched=touched)

    def way(self, spot: Spot) -> XY:
        """Return by how much the piece is moved from where it was copied, to a place."""
        x, y = self._pasted.points[self.grip]
        return (self._step[0] + spot.at[0] - x, self._step[1] + spot.at[1] - y)

    def type_key(self, name: str) -> bool:
        """Take Space, which goes on to the next point, and the keys of all placing tools."""
        if name == "space" and len(self._grips) > 1:
            self._grip = (self._grip + 1) % len(self._grips)
            self.look()
            return True
        return super().type_key(name)

    def complete(self) -> None:
        """Leave the piece where it stands."""
        self.finished = True

    def refresh(self) -> None:
        """Put the piece down once the part is another: its place is no part of that step."""
        if self.bench.part is self._pasted:
            super().refresh()
        else:
            self.finished = True

    # Placing.

    def place(self, spot: Spot) -> bool:
        """Put the grip to a place, bound as a drawn point is."""
        bench, before = self.bench, self.bench.part
        done = bench.do(STEP, lambda part: self._placed(spot), merge=merging(self._before)).done
        if done:
            bench.select(n for n in bench.part.curves if n not in self._before.curves)
            if not bench.selection.ids:
                bench.select(n for n in bench.part.points if n not in self._before.points)
            if self._notes:
                self.remark(bench.message.text)
        self.finished = done or bench.part is not before
        return done

    def _placed(self, spot: Spot) -> Edited:
        edited = paste(self._before, self._piece, self.way(spot))
        bench, grip = self.bench, self._named(edited.part, edited.made)
        if spot.point is not None and spot.point in self._before.points:
            return replace(edited, part=joined(bench, edited.part, spot.point, grip).part)
        sketch = Sketch(edited.part, bench.zero, bench.settings["bind_drawn"],
                        bench.settings["bind_typed"])
        sketch.ties(spot.ties, grip)
        part = sketch.finish(bench.solve)
        self._notes = [follows(tie) for tie in sketch.implied]
        return replace(edited, part=part)

    # Showing.

    @property
    def preview(self) -> Preview:
        """The place with its mark and word, and the piece there."""
        shown, spot = super().preview, self.spot
        if spot is None:
            return shown
        step = self.way(spot)
        question: Hashable = (self.name, step)
        if isinstance(self._trial.of(question, lambda part: paste(
                self._before, self._piece, step)), SketcherError):
            return shown
        return shown + Preview(self._trial.ghosts, lit=(self.grip,))


def merging(before: Part) -> str:
    """Return what makes one step of a paste into a part and of the place that follows."""
    return f"{STEP} {id(before)}"


def grips(piece: Part) -> tuple[str, ...]:
    """Return the points that a piece can be held by: centers of circles, nearest its middle first.

    Parameters
    ----------
    piece : Part
        Its loose points count only where it has no curve.
    """
    named = dict.fromkeys(p for curve in piece.curves.values() for p in curve.points) \
        or dict.fromkeys(piece.points)
    xs, ys = zip(*(piece.points[p] for p in named), strict=True)
    middle = (0.5 * (min(xs) + max(xs)), 0.5 * (min(ys) + max(ys)))
    centers = {c.center for c in piece.curves.values() if isinstance(c, CircleCurve)}
    return tuple(sorted(named, key=lambda p: (p not in centers, round(
        dist(piece.points[p], middle), 9))))
