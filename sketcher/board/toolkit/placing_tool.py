"""Base of the drawing tools: from the pointer, the snaps and the held values to a place."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Hashable, Iterable, Mapping
from dataclasses import replace
from math import dist, radians
from typing import ClassVar

from sketcher.board.places.line_ups import is_lined_up, line_ups_shown
from sketcher.board.places.pending_bindings import Tie, Typed, read_typed
from sketcher.board.places.point_place import Around, Spot
from sketcher.board.places.snap_choice import free, incident, snapped
from sketcher.board.preview import Ghost, Pointer, Preview
from sketcher.board.readout.held_conflicts import admit, listed
from sketcher.board.readout.held_values import QUANTITIES, Stage, held_spot
from sketcher.board.readout.readout_content import stage_rows
from sketcher.board.readout.row import Row
from sketcher.board.steps.bench import Bench
from sketcher.board.steps.drawing_step import Sketch
from sketcher.board.steps.reach import check_place
from sketcher.board.toolkit.drawing_words import follows, freedoms_told
from sketcher.board.toolkit.tool_base import Tool
from sketcher.errors import EditError
from sketcher.geometry.curves import XY, Curve
from sketcher.geometry.project import nearest
from sketcher.part.value import Part, Role

REMEMBERED = 4
NO_PLACE = "no place"


class PlacingTool(Tool):
    """A tool that asks for one place after the other.

    A subclass says what it asks for (`stage`), what a place would draw (`drawn`) and what happens
    when it is taken (`place`).
    """

    role: ClassVar[Role] = "outline"

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.pointer: Pointer | None = None
        self.spot: Spot | None = None
        self.held: dict[str, Typed] = {}
        self._touched: deque[str] = deque(maxlen=REMEMBERED)
        self._direction: Spot | None = None
        self._fresh = False  # the pointer moved, or a value was typed, since the last place
        self._guessed = True  # no motion yet has said where the pointer is
        self._taken_at: XY | None = None  # the place taken last, until the pointer has left it
        self._stages = 0
        self._notes: list[str] = []  # what is to be told of typed values with the next remark

    # What a subclass says.

    def stage(self) -> Stage:
        """Return what is asked for now."""
        return Stage(("x", "y"), None, self.zero)

    def place(self, spot: Spot) -> bool:
        """Take a place; return False where it cannot be used, so that what is held stays."""
        raise NotImplementedError

    def drawn(self, spot: Spot) -> Iterable[Curve]:
        """Return the curves that a place would draw."""
        return ()

    def aim(self, around: Around, held: Spot | None) -> Spot:
        """Return the place that the pointer means."""
        return snapped(around, held)

    def start(self) -> tuple[XY | None, str | None]:
        """Return where the piece that is being drawn begins, and its point when there is one."""
        return self.stage().origin, None

    def before(self) -> tuple[str | None, XY | None]:
        """Return the curve that ends at the start, and its heading there."""
        return None, None

    def back(self) -> bool:
        """Take the last thing back; return whether there was one."""
        return False

    def is_begun(self) -> bool:
        """True when a place was taken and the figure is not complete."""
        return False

    def restart(self) -> None:
        """Begin afresh with the same tool."""

    @property
    def stage_mark(self) -> Hashable:
        """The rows, and how many stages came before."""
        return self._stages, self.stage().rows

    # Events.

    @property
    def zero(self) -> XY:
        """Where the readout counts from."""
        return self.bench.zero.place(self.bench.part)

    def move(self, pointer: Pointer) -> None:
        """Follow the pointer."""
        self._fresh = self._fresh or self.pointer is None or pointer.at != self.pointer.at
        self._guessed = False
        self.pointer = pointer
        self.look()
        if self._taken_at is not None and dist(self._taken_at, pointer.at) > pointer.reach:
            self._taken_at = None

    def press(self, pointer: Pointer) -> None:
        """Take the place under the pointer."""
        self.pointer, self._guessed = pointer, False
        self.look()
        self.take()

    def take(self) -> None:
        """Take the place that is shown."""
        spot = self.spot
        if spot is None:
            return
        if spot.word.startswith(NO_PLACE):
            self.bench.say("The held values exclude each other: let one of them go.", "warning")
            return
        self.bench.lined_up += is_lined_up(spot, self._touched)
        if self.place(spot):
            self.next_stage()
        self.look()
        self._taken_at = None if self.pointer is None else self.pointer.at

    def next_stage(self) -> None:
        """Begin another stage: nothing is held in it, and typing begins in its first row."""
        self.held = {}
        self._direction = None
        self._fresh = False
        self._stages += 1

    def take_typed(self) -> None:
        """Take the place; where the pointer never was, only what the held values fix."""
        if self._guessed and len(self.held) < self.stage().freedoms:
            self.bench.say(f"{listed(self.held)} is held: type another value, or point.")
            return
        super().take_typed()

    def type_key(self, name: str) -> bool:
        """Take Enter (takes the place), Backspace and Escape (take one thing back)."""
        if name == "enter":
            if self.pointer is not None and (self._fresh or self.held):
                self.look()
                self.take()
            else:
                self.complete()
            return True
        if name in ("backspace", "escape"):
            done = self.one_back(name)
            self.look()
            return done
        return False

    def one_back(self, key: str) -> bool:
        """Let the value held last go, else take the last stage back; tell if there was one."""
        if self.held:
            self.held.popitem()
            return True
        done = self.is_begun() and self.back()
        if done:
            self.next_stage()
        return done

    def complete(self) -> None:
        """Say what is missing: nothing is typed, and the pointer stands where it was."""
        self.bench.say("Nothing is typed, and the pointer has not moved: point, or type a value.")

    def refresh(self) -> None:
        """Look again after the part changed."""
        self.look()

    # Held values.

    def hold(self, row: str, text: str) -> bool:
        """Hold a row at what was typed."""
        if row not in self.stage().rows:
            return False
        typed = self.read(row, text)
        if self._guessed:
            origin = self.stage().origin
            # To the right: what is typed without a sign goes right and up while nobody points.
            self.pointer = Pointer(*(self.zero if origin is None else (origin[0] + 1.0, origin[1])))
        assert self.pointer is not None
        admitted = admit(self.stage(), self.held, row, typed, self.meant)
        self.held = admitted.held
        self._fresh = True
        if admitted.notice:
            self.bench.say(admitted.notice)
        if admitted.follows:
            self._notes.append(admitted.notice)
        self.look()
        if self.spot is not None:
            try:
                check_place(row, self.spot.at)
            except EditError:
                self.let_go(row)
                raise
        return True

    def read(self, row: str, text: str) -> Typed:
        """Return what was typed into a row.

        Raises
        ------
        QuantityError
            When it cannot be understood.
        """
        bench, quantity = self.bench, QUANTITIES.get(row, "length")
        return read_typed(text, quantity, bench.part, bench.shown_unit, bench.derived.values())

    def let_go(self, row: str) -> bool:
        """Let a row follow the pointer again."""
        gone = self.held.pop(row, None) is not None
        self.look()
        return gone

    # Looking.

    @property
    def meant(self) -> XY:
        """Where the pointer is for what is typed: on the start while it has hardly left it."""
        assert self.pointer is not None
        origin = self.stage().origin
        rests = origin is not None and dist(origin, self.pointer.at) <= self.pointer.reach
        return origin if origin is not None and rests else self.pointer.at

    def look(self) -> None:
        """Find the place that the pointer means now."""
        if self.pointer is None:
            self.spot = None
            return
        keys = self.pointer.keys
        unsnapped = "ctrl" in keys or not self.bench.settings["snaps"]
        held = held_spot(self.stage(), self.held, self.meant)
        if held is None and "shift" in keys and self._direction is not None:
            held = _on_direction(self._direction, self.pointer)
        if held is not None and held.locus is None:
            self.spot = held if self.stage().freedoms < 2 or held.word.startswith(NO_PLACE) \
                else incident(held, self.bench.derived.picker(), self.start()[1], not unsnapped)
        elif unsnapped:
            self.spot = held or free(self.pointer.at)
        else:
            self.spot = self.aim(self.around(), held)
            self._remember(self.spot)
        if "shift" not in keys:
            self._direction = self.spot if self.spot and self.spot.locus is not None else None

    def around(self) -> Around:
        """Return what the snaps may look at."""
        assert self.pointer is not None
        origin, point = self.start()
        name, heading = self.before()
        return Around(
            self.pointer, self.bench.part, self.bench.derived.picker(), origin, point,
            self.stage().straight, name, heading, tuple(self._touched), self.bench.zero,
            radians(self.bench.settings["snap_direction"]),
        )

    def _remember(self, spot: Spot) -> None:
        names = [spot.point] if spot.point else []
        if spot.shape in ("on", "free"):
            assert self.pointer is not None
            near = self.bench.derived.picker().nearest_curve(
                self.pointer.at, 0.6 * self.pointer.reach, drawn_only=True)
            names += [near.source] if near else []
        for name in names:
            if name in self._touched:
                self._touched.remove(name)
            self._touched.append(name)

    # Showing.

    @property
    def preview(self) -> Preview:
        """The place, its word, and what it would draw."""
        if self.spot is None or self.pointer is None:
            return Preview()
        ghosts = tuple(Ghost(curve, self.role) for curve in self.drawn(self.spot))
        shown = Preview(ghosts, self.spot.marks, self.spot.words, self.spot.guides)
        if "ctrl" in self.pointer.keys or not self.bench.settings["snaps"]:
            return shown
        bench, spot = self.bench, self.spot
        return shown + line_ups_shown(bench.part, self._touched, spot, bench.lined_up,
                                      self._taken_at is None)

    def rows(self) -> tuple[Row, ...]:
        """Return the rows that can be held, with their values at the place."""
        at = self.spot.at if self.spot is not None else None
        drawn = self.drawn_values(self.spot) if self.spot is not None else {}
        return stage_rows(self.bench, self.stage(), at, self.held, drawn)

    def drawn_values(self, spot: Spot) -> Mapping[str, float]:
        """Return values of what a place would draw, where they are not those of the place."""
        return {}

    # Drawing.

    def draw(self, name: str, build: Callable[[Sketch], None]) -> bool:
        """Make one step of what `build` draws; return whether the part changed."""
        bench = self.bench

        def edit(part: Part) -> Part:
            sketch = Sketch(part, bench.zero, bench.settings["bind_drawn"],
                            bench.settings["bind_typed"])
            build(sketch)
            part = sketch.finish(bench.solve)
            implied[:] = sketch.implied
            return part

        implied: list[Tie] = []
        before = bench.report.freedoms
        done = bench.do(name, edit).done
        if done:
            self._notes += [follows(tie) for tie in implied]
            if bench.report.freedoms > before:
                self._notes.append(freedoms_told(bench.report.freedoms))
        return done

    def remark(self, text: str) -> None:
        """Say what was drawn and what became of typed values, unless there is trouble to tell."""
        if self.bench.message.severity not in ("warning", "error"):
            self.bench.say(" ".join((text, *self._notes)), "done")
        self._notes = []

    def is_same(self, a: XY, b: XY) -> bool:
        """Tell whether two places are one to the eye."""
        reach = self.pointer.reach if self.pointer is not None else 1.0
        return dist(a, b) <= 1e-6 * reach


def _on_direction(held: Spot, pointer: Pointer) -> Spot:
    """Return the place along a direction, held by key, that is nearest to the pointer."""
    assert held.locus is not None
    return replace(held, at=nearest(held.locus, pointer.at, bounded=False).point)
