"""Dimensions: point at geometry, choose what is measured, place the text."""

from __future__ import annotations

from sketcher.board.places.pending_bindings import Typed, read_typed
from sketcher.board.places.picking import Pick
from sketcher.board.preview import Pointer, Preview
from sketcher.board.readout.readout_content import row, shown
from sketcher.board.readout.row import Row
from sketcher.board.steps.bench import Bench
from sketcher.board.toolkit.new_dimension import JustMade, NewDimension, placed
from sketcher.board.toolkit.pressed_images import differs
from sketcher.board.toolkit.tool_base import Tool
from sketcher.board.toolkit.whole_size import WholeSize, across_axis, point_image
from sketcher.errors import SketcherError
from sketcher.geometry.curves import XY
from sketcher.part import kinds
from sketcher.part.curve_questions import center_of
from sketcher.part.edited import Edited
from sketcher.part.image_id import read_image_id
from sketcher.part.kinds import KINDS
from sketcher.part.value import Binding, Part

MOST = 2
ACROSS = "across"
"""Row of a length between something and its reflection."""


class DimensionTool(Tool):
    """Makes a dimension of one or two points or curves, with its text where the pointer is.

    Something and its reflection mean the whole size across the axis, bound as half of it. What is
    typed after the place was taken changes the dimension just made, in the same step.
    """

    name = "dimension"
    label = "Dimension"
    hint = "Press a line, a circle or arc, or a point; then a second one, or the place of the text."
    key = "D"
    group = "bind"

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self._ids: tuple[str, ...] = ()
        self._pressed: tuple[str, ...] = ()  # the images of them that were pressed
        self._whole: WholeSize | None = None
        self._just: JustMade | None = None
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
        just = self.just_made
        if just is not None and not self._ids:
            return (f"{just.name} is {self._shown(just)}: type another value for it, "
                    "or press what comes next.")
        if not self._ids:
            return self.opening
        if self._whole is not None:
            return (f"Whole size of {self._whole.name} and its reflection: press the place of its "
                    "text, or type it.")
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

    @property
    def just_made(self) -> JustMade | None:
        """The dimension that typing changes: the one made last, until the next press."""
        return self._just if self._just and self._just.after is self.bench.part else None

    def _shown(self, just: JustMade) -> str:
        """Return the value of the dimension made last as it was put in."""
        amount = just.new.measured(just.after, just.after.bindings[just.name])
        return shown(self.bench, KINDS[just.new.kind].quantity or "length", amount)

    def rows(self) -> tuple[Row, ...]:
        """Return the value of the dimension as a row that takes one."""
        just = self.just_made
        if self._kind:
            value = None
            binding = self._binding(self.bench.part)
            if binding is not None:
                part = self.bench.part if self._whole is None else self._whole.part
                value = kinds.measure(part, binding)
            new, typed = self._new(None), self._typed
        elif just is not None and not self._ids:
            new, typed = just.new, None
            value = new.measured(just.after, just.after.bindings[just.name])
        else:
            return ()
        return (row(self.bench, row_of(new), value, typed, True, KINDS[new.kind].quantity),)

    @property
    def preview(self) -> Preview:
        """The dimension as it would stand."""
        from sketcher.board.dimensions.desk_layout import lines_of

        binding = self._binding(self.bench.part) if self._kind else None
        if binding is None or self._pointer is None:
            return Preview(lit=self._ids)
        px = self._pointer.reach / self.bench.settings["reach"]
        part = self.bench.part if self._whole is None else self._whole.part
        size = self.bench.settings["text_size"]
        lit = self._ids if self._whole is None else (self._whole.name,)
        return Preview(dims=(lines_of(placed(part, "", self._pointer.at), binding, px, size),),
                       lit=lit)

    def _binding(self, part: Part) -> Binding | None:
        """Return the dimension as it is shown; None where it cannot be measured."""
        try:
            if self._whole is not None:
                return self._whole.binding(self._typed.text if self._typed else None)
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
        self.bench.hover = (target.source,) if target else ()

    def press(self, pointer: Pointer) -> None:
        """Take geometry, or the place of the text."""
        self._pointer, self._just = pointer, None
        if len(self._ids) < MOST and self._whole is None and self._take_geometry(pointer):
            return
        if self._kind:
            self._make(pointer.at)

    def _take_geometry(self, pointer: Pointer) -> bool:
        """Take what is under the pointer; return whether the press was meant for that."""
        pick, part = self._target(pointer), self.bench.part
        name = self._ids[0] if self._ids else ""
        number = point_image(part, name, pointer.at, pointer.reach) if name in part.points else None
        if number is not None:
            return self._take_whole(name, number)
        if pick is None or pick.id in self._pressed:
            return False
        if pick.source == name:
            return self._take_own_image(name, pick)
        if pick.source in self._ids:
            return False
        ids = self._by_centers((*self._ids, pick.source), pick)
        if not self._fitting(ids):
            if self._ids:
                self.bench.say(f"No dimension fits {' and '.join(ids)}.")
            else:
                self._ids, self._pressed = ids, (pick.id,)  # a point: another makes a distance
            return True
        other = differs(self.bench, self._fitting(ids)[0], ids, (*self._pressed, pick.id))
        if other:
            self.bench.say(other)
            return True
        self._pressed = (*self._pressed, pick.id)
        self._take(ids)
        return True

    def _by_centers(self, ids: tuple[str, ...], pick: Pick) -> tuple[str, ...]:
        """Return what is meant, with rounds that fit nothing as their centers: paper does so."""
        drawn = pick.id == pick.source and set(self._pressed) <= set(self._ids)
        if not drawn or self._fitting(ids):
            return ids
        curves = self.bench.part.curves
        return tuple((center_of(curves[name]) or name) if name in curves else name for name in ids)

    def _take_own_image(self, name: str, pick: Pick) -> bool:
        """Take the size between a curve and its reflection, or say why there is none."""
        here, there = (read_image_id(each) for each in (self._pressed[0], pick.id))
        if here.instance != there.instance:
            self.bench.say(f"That is a repeat of {name}: its step is a number of the pattern.")
            return True
        return self._take_whole(name, {1: 0, 2: 1}.get(here.mirrors ^ there.mirrors))

    def _take_whole(self, name: str, number: int | None) -> bool:
        found = None if number is None else across_axis(self.bench.part, name, number)
        if found is None:
            self.bench.say(f"There is no whole size between {name} and that image of it.")
        else:
            self._whole, self._ids, self._kind, self._typed = found, found.ids, found.kind, None
        return True

    def _target(self, pointer: Pointer) -> Pick | None:
        return self.bench.derived.picker().nearest(pointer.at, pointer.reach)

    def _take(self, ids: tuple[str, ...]) -> None:
        self._ids = ids
        if len(self._pressed) < len(ids):
            self._pressed = (*self._pressed, *ids[len(self._pressed):])
        self._kind = self._fitting(ids)[0]

    def type_key(self, name: str) -> bool:
        """Take W (another kind), Enter (makes it), Backspace and Escape (begin again)."""
        if name == "w" and self._kind and self._whole is None:
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
            target = None if self._pointer is None else self._target(self._pointer)
            moved = self._pointer is not None and (target is None or target.source not in self._ids)
            self._make(self._pointer.at if moved and self._pointer is not None else None)

    def _one_back(self) -> None:
        """Let the typed value go, else what was chosen last."""
        if self._typed is not None:
            self._typed = None
            return
        pressed = self._pressed[:-1] if self._whole is None else self._pressed
        ids = self._ids[:-1] if self._whole is None else (self._whole.name,)
        self._reset()
        self._pressed = pressed
        if ids and self._fitting(ids):
            self._take(ids)
        else:
            self._ids = ids

    def hold(self, row: str, text: str) -> bool:
        """Take a typed value, for what is chosen or for the dimension just made."""
        bench, just = self.bench, self.just_made
        new = just.new if just is not None and not self._kind else self._new(None)
        if not new.kind or row != row_of(new):
            return False
        quantity = KINDS[new.kind].quantity or "length"
        typed = read_typed(text, quantity, bench.part, bench.shown_unit, bench.derived.values())
        if just is not None and not self._kind:
            self._make_anew(just, typed.text)
            return True
        new.added(bench.part, typed.text)  # says why it could not be
        self._typed = typed
        return True

    def refresh(self) -> None:
        """Let go what is no longer there."""
        part = self.bench.part
        gone = any(name not in part.points and name not in part.curves for name in self._ids)
        if gone or self._whole is not None:
            self._reset()

    def _reset(self) -> None:
        self._ids, self._kind, self._typed = (), "", None
        self._pressed, self._whole = (), None

    def _new(self, at: XY | None) -> NewDimension:
        """Return what would be made with its text at a place."""
        return NewDimension(self._kind, self._ids, at, self._whole is not None)

    def _make(self, at: XY | None) -> None:
        bench, before = self.bench, self.bench.part
        new = self._new(at)
        text = self._typed.text if self._typed else None
        made = None

        def edit(part: Part) -> Part:
            nonlocal made
            made = new.made(bench, part, text)
            return made.part

        step = f"dimension {bench.history.position}"
        if bench.do(f"Dimension {' and '.join(new.ids)}", edit, step).done and made is not None:
            if made.is_reference:
                bench.say(f"{made.name} follows from the other bindings: kept as a reference "
                          "dimension.", "done")
            elif new.halves and bench.message.severity == "done":
                whole = shown(bench, KINDS[new.kind].quantity or "length",
                              new.measured(bench.part, bench.part.bindings[made.name]))
                bench.say(f"{made.name} holds half of {whole}, {' to '.join(new.ids)}.", "done")
            self._just = JustMade(new, before, bench.part, made.name, step)
            bench.select((made.name,))
            self._reset()

    def _make_anew(self, just: JustMade, text: str) -> None:
        """Give the dimension just made another value, as if that had been typed at once."""
        bench = self.bench

        def edit(_: Part) -> Edited:
            made = just.new.made(bench, just.before, text)
            return Edited(made.part, f"{made.name} is {text}.")

        if bench.do(f"Dimension {' and '.join(just.new.ids)}", edit, just.step).done:
            self._just = just.then(bench.part)


def row_of(new: NewDimension) -> str:
    """Return the row that takes a dimension's value."""
    return ACROSS if new.halves and KINDS[new.kind].quantity == "length" else new.kind


TOOL = DimensionTool
