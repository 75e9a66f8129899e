"""Dimensions: point at geometry, choose what is measured, place the text."""

from __future__ import annotations

from sketcher.board.places.pending_bindings import Typed, read_typed
from sketcher.board.preview import Pointer, Preview
from sketcher.board.readout.readout_content import row
from sketcher.board.readout.row import Row
from sketcher.board.steps.bench import Bench
from sketcher.board.toolkit.tool_base import Tool
from sketcher.errors import SketcherError
from sketcher.geometry.curves import XY
from sketcher.part import kinds
from sketcher.part.edits.add_binding import add_binding
from sketcher.part.edits.set_drives import set_drives
from sketcher.part.kinds import KINDS
from sketcher.part.value import Binding, Part

MOST = 2


class DimensionTool(Tool):
    """Makes a dimension of one or two points or curves, with its text where the pointer is."""

    name = "dimension"
    label = "Dimension"
    hint = "Press a line, a circle or arc, or a point; then a second one, or the place of the text."
    key = "D"
    group = "bind"

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self._ids: tuple[str, ...] = ()
        self._kind = ""
        self._pointer: Pointer | None = None
        self._typed: Typed | None = None

    def begin(self) -> None:
        """Take what is selected, when it can be dimensioned."""
        ids = self.bench.selection.geometry(self.bench.part)
        if ids and len(ids) <= MOST and self._fitting(ids):
            self._take(ids)

    # What it says.

    @property
    def prompt(self) -> str:
        """What is measured, and what can be done."""
        if not self._ids:
            return self.opening
        if not self._kind:
            return f"{self._ids[0]}: press what it is measured to."
        kinds_here = self._fitting(self._ids)
        other = ""
        if len(kinds_here) > 1:
            other = f" W: {self._next()}."
        return (f"{self._kind.capitalize()} of {' and '.join(self._ids)}: press the place of its "
                f"text, or type its value.{other}")

    @property
    def kind(self) -> str:
        """The kind that will be made; empty before anything is chosen."""
        return self._kind

    def rows(self) -> tuple[Row, ...]:
        """Return the value of the dimension as a row that takes one."""
        if not self._kind:
            return ()
        quantity = KINDS[self._kind].quantity
        binding = self._binding(self.bench.part)
        value = kinds.measure(self.bench.part, binding) if binding is not None else None
        return (row(self.bench, self._kind, value, self._typed, True, quantity),)

    @property
    def preview(self) -> Preview:
        """The dimension as it would stand."""
        from sketcher.board.dimensions.desk_layout import lines_of

        binding = self._binding(self.bench.part) if self._kind else None
        if binding is None or self._pointer is None:
            return Preview(lit=self._ids)
        px = self._pointer.reach / self.bench.settings["reach"]
        part = self.bench.part
        placed = _placed(part, "", self._pointer.at)
        size = self.bench.settings["text_size"]
        return Preview(dims=(lines_of(placed, binding, px, size),), lit=self._ids)

    def _binding(self, part: Part) -> Binding | None:
        try:
            return kinds.bind(part, self._kind, self._ids,
                              self._typed.text if self._typed else None)
        except SketcherError:
            return None

    def _fitting(self, ids: tuple[str, ...]) -> tuple[str, ...]:
        """Return the kinds with a value that fit and that can be measured here."""
        part, found = self.bench.part, list[tuple[float, str]]()
        for name in kinds.fitting(part, ids):
            if KINDS[name].quantity is None:
                continue
            try:
                binding = kinds.bind(part, name, ids)
                kinds.measure(part, binding)
            except SketcherError:
                continue
            found.append((KINDS[name].preference(part, binding.of), name))
        return tuple(name for _, name in sorted(found, key=lambda pair: pair[0]))

    def _next(self) -> str:
        names = self._fitting(self._ids)
        return names[(names.index(self._kind) + 1) % len(names)]

    # Events.

    def move(self, pointer: Pointer) -> None:
        """Let the text follow."""
        self._pointer = pointer
        target = self._target(pointer)
        self.bench.hover = (target,) if target else ()

    def press(self, pointer: Pointer) -> None:
        """Take geometry, or the place of the text."""
        self._pointer = pointer
        target = self._target(pointer)
        if target is not None and target not in self._ids and len(self._ids) < MOST:
            ids = (*self._ids, target)
            if self._fitting(ids):
                self._take(ids)
            elif not self._ids:
                self._ids = ids  # a single point: the second one makes a distance
            else:
                self.bench.say(f"No dimension fits {' and '.join(ids)}.")
            return
        if self._kind:
            self._make(pointer.at)

    def _target(self, pointer: Pointer) -> str | None:
        found = self.bench.derived.picker().nearest(pointer.at, pointer.reach)
        return found.source if found is not None and found.drawn else None

    def _take(self, ids: tuple[str, ...]) -> None:
        self._ids = ids
        self._kind = self._fitting(ids)[0]

    def type_key(self, name: str) -> bool:
        """Take W (another kind), Enter (makes it), Backspace and Escape (begin again)."""
        if name == "w" and self._kind:
            self._kind, self._typed = self._next(), None
            return True
        if name == "enter" and self._kind and self._pointer is not None:
            self._make(self._pointer.at)
            return True
        if name in ("escape", "backspace") and self._ids:
            self._one_back()
            return True
        return False

    def take_typed(self) -> None:
        """Make the dimension; its text stands where the layout puts it while nobody pointed."""
        if self._kind:
            moved = self._pointer is not None and self._target(self._pointer) not in self._ids
            self._make(self._pointer.at if moved and self._pointer is not None else None)

    def _one_back(self) -> None:
        """Let the typed value go, else what was chosen last."""
        if self._typed is not None:
            self._typed = None
            return
        ids = self._ids[:-1]
        self._reset()
        if ids and self._fitting(ids):
            self._take(ids)
        else:
            self._ids = ids

    def hold(self, row: str, text: str) -> bool:
        """Take a typed value."""
        if row != self._kind:
            return False
        bench = self.bench
        quantity = KINDS[row].quantity or "length"
        typed = read_typed(text, quantity, bench.part, bench.shown_unit, bench.derived.values())
        add_binding(bench.part, self._kind, self._ids, typed.text)  # says why it could not be
        self._typed = typed
        return True

    def refresh(self) -> None:
        """Let go what is no longer there."""
        part = self.bench.part
        if any(name not in part.points and name not in part.curves for name in self._ids):
            self._reset()

    def _reset(self) -> None:
        self._ids, self._kind, self._typed = (), "", None

    def _make(self, at: XY | None) -> None:
        bench, kind, ids = self.bench, self._kind, self._ids
        value = self._typed.text if self._typed else None
        made = [""]
        reference = False

        def edit(part: Part) -> Part:
            nonlocal reference
            edited = add_binding(part, kind, ids, value)
            made[0] = edited.made[0]
            part = edited.part if at is None else _placed(edited.part, made[0], at)
            # What follows from the other dimensions is worth printing but must not drive.
            if made[0] in bench.solve(part).report.doubled:
                reference = True
                part = set_drives(part, made[0], False).part
            return part

        if bench.do(f"Dimension {' and '.join(ids)}", edit):
            if reference:
                bench.say(f"{made[0]} follows from the other bindings: kept as a reference "
                          "dimension.", "done")
            bench.select((made[0],))
            self._reset()


def _placed(part: Part, binding: str, at: XY) -> Part:
    from sketcher.part.edits.set_drawing import set_drawing

    return set_drawing(part, placed={**part.drawing.placed, binding: at}).part


TOOL = DimensionTool
