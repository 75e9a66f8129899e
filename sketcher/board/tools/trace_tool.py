"""Trace: the region under the pointer becomes outline, or a walk along spans does."""

from __future__ import annotations

from math import dist

from sketcher.board.places.span_walk import Walk, Ways, nearest_half
from sketcher.board.preview import Box, Ghost, Mood, Pointer, Preview, RegionFill
from sketcher.board.steps.bench import Bench, listed
from sketcher.board.steps.redundancy import lean
from sketcher.board.toolkit.tool_base import Tool
from sketcher.geometry.arrangement import OUTSIDE
from sketcher.geometry.curves import XY
from sketcher.geometry.regions import width_of
from sketcher.part.arranged import Arranged, arranged
from sketcher.part.edited import Edited
from sketcher.part.edits.trace import trace
from sketcher.part.edits.trace_along import trace_along
from sketcher.part.value import Part
from sketcher.quantity.format import length

Chosen = dict[int, XY]
"""Regions of the layout by number, each with a place in it."""


class TraceTool(Tool):
    """Makes outline of regions of crossing layout, or of a walk along spans.

    All regions of one use of the tool are those of the part as it was taken in hand, so that a
    further one joins on without a seam; each press is a step that can be undone.
    """

    name = "trace"
    label = "Trace outline"
    hint = ("Press in a region: its boundary becomes outline, further ones join on. Sweep over "
            "several, or from outside a box round them. W walks along spans instead.")
    ask = "Press in a region, or sweep over several. W walks along spans instead."
    key = "W"
    group = "scribe"

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self._base = bench.part
        self._states: list[tuple[Part, Chosen]] = [(bench.part, {})]
        self._face = OUTSIDE
        self._sweep: Chosen | None = None
        self._box: tuple[XY, XY] | None = None
        self._adding = True
        self.walking = False
        self._walk: Walk = ()
        self._kept_ways: Ways | None = None
        self._toward: int | None = None
        self._seen: tuple[tuple[object, ...], Preview] | None = None

    def begin(self) -> None:
        """Say so when what is to be traced is hidden."""
        if not self.bench.settings["show_layout"]:
            self.bench.say("Layout lines are hidden: View, Layout lines shows them.")

    # What it knows.

    @property
    def known(self) -> Arranged:
        """The regions of the part as the tool was taken in hand."""
        return arranged(self._base)

    @property
    def _ways(self) -> Ways:
        net = self.known.arrangement
        if self._kept_ways is None or self._kept_ways.net is not net:
            self._kept_ways = Ways(net)
        return self._kept_ways

    @property
    def _edges(self) -> set[int]:
        return {half >> 1 for half in self._walk}

    @property
    def chosen(self) -> Chosen:
        """The regions that are traced."""
        return next((c for part, c in reversed(self._states) if part is self.bench.part), {})

    @property
    def prompt(self) -> str:
        """What can be done."""
        if self.walking:
            if not self._walk:
                return ("Press the first span of the outline; a double press takes a whole circle. "
                        "W goes back to regions.")
            return ("Point along the spans and press. Enter takes what is shown, then makes "
                    "outline of the walk; Backspace takes a span back.")
        if not self.chosen:
            return self.opening
        return ("Press further regions to add them; with Shift traced ones are taken away. "
                "Enter is done, Backspace undoes.")

    # Regions.

    def move(self, pointer: Pointer) -> None:
        """Find the region, or the way along spans, under the pointer; sweep on."""
        if not self._base.curves:
            return
        if self.walking:
            self._toward = nearest_half(self.known.arrangement, pointer.at, pointer.reach)
            return
        self._face = self.known.arrangement.face_at(pointer.at)
        if self._sweep is None:
            self._adding = "shift" not in pointer.keys
        if self._box is not None:
            self._stretch(pointer)
        elif self._sweep is not None and self._face != OUTSIDE and (
            (self._face in self.chosen) != self._adding
        ) and not (self._adding and self.known.is_hole(self._face)):
            self._sweep.setdefault(self._face, pointer.at)

    def press(self, pointer: Pointer) -> None:
        """Begin with a region, or take the walk up to the pointer."""
        self.move(pointer)
        if self.walking:
            self._step()
            return
        if self._face == OUTSIDE:
            self._box, self._sweep = (pointer.at, pointer.at), {}
        elif self._adding and self.known.is_hole(self._face):
            self.bench.say("This lies in a hole that is drawn, which stays a hole: delete the hole "
                           "to fill it.", "warning")
            self._sweep = {}
        elif (self._face in self.chosen) == self._adding:
            self.bench.say("This region is traced already: Shift and a press take it away."
                           if self._adding else "This region is not traced.")
            self._sweep = {}
        else:
            self._sweep = {self._face: pointer.at}

    def release(self, pointer: Pointer) -> None:
        """Trace what was swept over."""
        box, self._box = self._box, None
        sweep, self._sweep = self._sweep, None
        if sweep:
            self._trace(self._with(sweep))
        elif box is not None:
            self.bench.say(
                "Nothing closes a region here: scribe the lines that are missing, or close the "
                "half with an axis." if dist(*box) <= pointer.reach else
                "No region lies wholly in the box: sweep it round all of a region's lines.")

    def _stretch(self, pointer: Pointer) -> None:
        """Sweep a box up to the pointer: what lies in it is taken."""
        assert self._box is not None
        (ax, ay), (bx, by) = self._box = self._box[0], pointer.at
        found = self.known.inside((min(ax, bx), min(ay, by), max(ax, bx), max(ay, by)))
        self._sweep = {face: at for face, at in found.items()
                       if (face in self.chosen) != self._adding}

    def _with(self, sweep: Chosen) -> Chosen:
        if self._adding:
            return {**self.chosen, **sweep}
        return {face: at for face, at in self.chosen.items() if face not in sweep}

    def _trace(self, chosen: Chosen) -> None:
        bench, base = self.bench, self._base

        def edit(part: Part) -> Part | Edited:
            if not chosen:
                return base
            return lean(trace(base, tuple(chosen.values())), bench.solve)

        if bench.do("Trace", edit):
            self._states.append((bench.part, chosen))
            self._tell_slivers(chosen)

    def _tell_slivers(self, chosen: Chosen) -> None:
        """Say what thin region beside the traced ones was left out: nobody sees it."""
        thin = self.known.slivers_beside(chosen)
        if not thin:
            return
        net = self.known.arrangement
        bench = self.bench
        spans = sorted(net.boundary(thin[0])[0].spans, key=lambda each: -each.curve.length)
        curves = sorted({span.sources[0] for span in spans[:2]})  # the long sides
        unit = bench.part.unit
        width = length(width_of(net, thin[0]), unit, 2 if unit == "mm" else 4)
        bench.say(f"A sliver {width} {unit} wide between {listed(curves)} stays outside: "
                  "Backspace, then mend what should meet, or sweep a box round it too.",
                  "warning", curves[0])

    # Walking.

    def _step(self) -> None:
        if self._toward is None:
            self.bench.say("No span is under the pointer.")
            return
        ways = self._ways
        if self._toward >> 1 not in self._edges:
            walk = ways.extended(self._walk, self._toward)
            if walk == self._walk:
                self.bench.say("No way leads there along the spans.")
                return
            self._walk = walk
        elif self._toward >> 1 == self._walk[0] >> 1 and len(self._walk) > 1:
            self._close()
            return
        if ways.is_closed(self._walk):
            self._finish_walk()

    def double(self, pointer: Pointer) -> None:
        """Trace the whole circle under the pointer."""
        if not self.walking:
            return
        half = self._walk[-1] if self._walk else self._toward
        ring = self._ways.whole_ring(half) if half is not None else ()
        if ring:
            self._walk = ring
            self._finish_walk()

    def _close(self) -> None:
        """Go round to where the walk began."""
        walk = (*self._walk, *self._ways.onward(self._walk[-1], self._walk[0]))
        if walk[-1] != self._walk[0] or len(walk) == len(self._walk):
            self.bench.say("The walk does not close there. Enter makes outline of it as it is.")
            return
        self._walk = walk[:-1]
        self._finish_walk()

    def _finish_walk(self) -> None:
        bench, base, walk = self.bench, self._base, self._walk
        if bench.do("Trace", lambda part: lean(trace_along(base, walk), bench.solve)):
            self._begin_again()

    # Keys.

    def type_key(self, name: str) -> bool:
        """Take W (regions or spans), Enter (done), Backspace (back), Escape (lets the walk go)."""
        if name == "w":
            self.walking, self._walk, self._toward = not self.walking, (), None
            self._begin_again()
            return True
        if name == "enter" and self.walking and (self._walk or self._toward is not None):
            if self._toward is not None and self._toward >> 1 not in self._edges:
                self._step()  # what is shown
            else:
                self._finish_walk()
            return True
        if name == "enter" and self.chosen and self._face in (OUTSIDE, *self.chosen):
            self.finished = True
            return True
        if name == "backspace" and self._walk:
            self._walk, self._toward = self._walk[:-1], None
            return True
        if name == "backspace" and self.chosen:
            self.bench.undo()
            return True
        if name == "escape" and (self._walk or self._sweep or self._box):
            self._walk, self._sweep, self._box = (), None, None
            return True
        return False

    def refresh(self) -> None:
        """Begin again when something else has changed the part."""
        if not any(part is self.bench.part for part, _ in self._states):
            self._begin_again()

    def _begin_again(self) -> None:
        self._base = self.bench.part
        self._states = [(self.bench.part, {})]
        self._face, self._sweep, self._walk, self._toward = OUTSIDE, None, (), None

    # Showing.

    @property
    def preview(self) -> Preview:
        """The region under the pointer with what is traced, or the walk."""
        key = (self._base, self.bench.part, self._face, self.walking, self._walk, self._toward,
               tuple(self._sweep or ()), self._box, self._adding)
        if self._seen is None or self._seen[0][:2] != key[:2] or self._seen[0] != key:
            self._seen = (key, self._walk_shown() if self.walking else self._regions_shown())
        return self._seen[1]

    def _regions_shown(self) -> Preview:
        box = None if self._box is None else Box(self._box, touching=False)
        sweep = self._sweep
        if sweep is None:
            known = self._face == OUTSIDE or (self._face in self.chosen) == self._adding
            sweep = {} if known else {self._face: (0.0, 0.0)}
        if not sweep:
            return Preview(box=box)
        mood: Mood = "new" if self._adding else "leaves"
        fills = tuple(
            RegionFill(tuple(loop.curves for loop in self.known.arrangement.boundary(face)), mood)
            for face in sweep
        )
        shown = {**self.chosen, **sweep} if self._adding else sweep
        ghosts = tuple(
            Ghost(span.curve, "outline", mood)
            for loop in self.known.outline(shown) for span in loop.spans
            if self.known.axes.isdisjoint(span.sources)
        )
        return Preview(ghosts, box=box, fills=fills)

    def _walk_shown(self) -> Preview:
        net, walk = self.known.arrangement, self._walk
        if self._toward is not None and self._toward >> 1 not in self._edges:
            walk = self._ways.extended(walk, self._toward)
        if not walk:
            return Preview()
        new = tuple(Ghost(net.span(half).curve, "outline", "new") for half in walk)
        return Preview(new)


TOOL = TraceTool
