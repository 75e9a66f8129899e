"""From a row or a finding to its place on the sheet, and from a dimension to its field."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QPointF, Slot

from sketcher.board.board import Board
from sketcher.board.dimensions.shown_value import shown_text
from sketcher.board.ledger.ledger_edits import set_as_shown
from sketcher.board.ledger.spacing_rows import spacing_text
from sketcher.board.preview import Ghost
from sketcher.desk.panes.inplace import InPlace
from sketcher.desk.panes.sections import SectionEntry
from sketcher.desk.scene.close_up import close_up, grown
from sketcher.desk.scene.loupe import look_at, span_for
from sketcher.desk.scene.scene_state import boxes_of, frame_of
from sketcher.desk.scene.scene_view import SceneView
from sketcher.geometry.curves import XY, Curve
from sketcher.part.image_id import read_image_id
from sketcher.part.kinds import KINDS

if TYPE_CHECKING:
    from sketcher.inspect.mend import Defect


ROOMIER = (1.2, 1.4, 1.7)
"""Times as much is shown where the loupe would cover what is spoken of."""

PLAIN = 40.0
"""Pixels from which a narrow place is seen without the loupe."""


class Pointing(QObject):
    """Shows what a pane asks for on the sheet."""

    def __init__(self, board: Board, view: SceneView, field: InPlace, parent: QObject) -> None:
        super().__init__(parent)
        self.board = board
        self.view = view
        self.field = field
        self._editing = ""

    @Slot(str)
    def edit(self, name: str) -> None:
        """Open the field of a dimension where it stands."""
        binding = self.board.part.bindings.get(name)
        value = spacing_text(self.board.bench, name) if binding is None else (
            binding.value and shown_text(self.board.part, name))
        if value is None and binding is not None and KINDS[binding.kind].quantity is not None:
            value = ""  # it follows
        if value is None:
            return
        self._editing = name
        at = next((dim.anchor for dim in self.view.sheet.dims() if dim.binding == name), None)
        camera = self.view.sheet.camera
        pixel = camera.to_screen(at) if at is not None else (camera.width / 2, camera.height / 2)
        self.field.open_at(QPointF(*pixel), value, self._submit)

    def _submit(self, text: str) -> str:
        return set_as_shown(self.board.bench, self._editing, text)

    @Slot(str)
    def show_binding(self, name: str) -> None:
        """Select what a row of the ledger speaks of."""
        self.board.bench.select((name,))

    @Slot(object)
    def try_on(self, ghosts: tuple[Ghost, ...]) -> None:
        """Show where curves would lie if a way to mend were taken; nothing takes them away."""
        if ghosts != self.view.sheet.tried:
            self.view.sheet.tried = ghosts
            self.view.viewport().update()

    @Slot(object)
    def show_entry(self, entry: SectionEntry) -> None:
        """Go to what a row of the inspection speaks of; a finding is shown enlarged.

        What is said of a binding selects that alone, so that its row in the ledger is not one
        among all those of the same curves, and Delete does not mean them; they are lit.
        """
        part = self.board.part
        ids = [i for i in entry.ids if i in part.points or i in part.bindings
               or read_image_id(i).source in part.curves]
        self.view.light(tuple(ids))
        if ids:
            chosen = [i for i in ids if i in part.bindings] or ids
            self.board.bench.select(dict.fromkeys(read_image_id(i).source for i in chosen))
        self.view.loupe.loupe = None
        if entry.at is not None and (entry.bad or entry.leads):
            self._go_to(entry, ids)
        self.view.refresh()

    def _go_to(self, entry: SectionEntry, ids: list[str]) -> None:
        part = self.board.part
        measured = [end for i in ids if i in part.bindings for end in part.bindings[i].of]
        # A dimension is looked at whole, not in its middle; so is what lies between points.
        places = [part.points.get(i) for i in ids]
        between = len(places) > 1 and None not in places and entry.at not in places
        at = None if measured or between else entry.at
        ids = list(entry.about) or ids
        self._lead_to(measured or ids, at, entry.gap)
        pair = self._pair(entry)
        seen = entry.leads and entry.gap * self.view.sheet.camera.scale > PLAIN
        if pair is not None and at is not None and not seen:
            title, gap = entry.cells[0].text, self._open_gap(entry)
            self.view.loupe.put(look_at(pair, at, gap, title), pair)
            for times in (*ROOMIER, 1.0):  # long curves are under it in any view
                if self.view.loupe.is_clear:
                    break
                self._lead_to(ids, at, entry.gap, times)

    def _lead_to(
        self, names: Sequence[str], at: XY | None, gap: float, times: float = 1.0
    ) -> None:
        """Show some curves and points, or a place, with what is around, or so much more."""
        sheet, points = self.view.sheet, self.board.part.points
        boxes = boxes_of([curve for name in names for curve in self._curves(name)])
        whole = sheet.around()
        if whole is not None:
            own = frame_of(boxes, [points[name] for name in names if name in points])
            self.view.way_back.lead_to(grown(close_up(own, at, gap, whole), times))

    def _curves(self, name: str) -> list[Curve]:
        """Return the very curve of a name, without the images of a drawn one."""
        return [piece.curve for piece in self.view.sheet.pieces if piece.id == name]

    @Slot(object)
    def show_defect(self, defect: Defect) -> None:
        """Go to what a row of the clean-up speaks of; a small gap is shown enlarged."""
        self.view.zoom_to(defect.at, max(span_for(defect.size, self._size()), 4.0 * defect.size))

    def _size(self) -> float:
        x0, y0, x1, y1 = self.view.sheet.around() or (0.0, 0.0, 1.0, 1.0)
        return max(x1 - x0, y1 - y0, 1e-9)

    def _pair(self, entry: SectionEntry) -> tuple[Curve, Curve] | None:
        """Return the two curves of a joint, images included."""
        by_id = {piece.id: piece.curve for piece in self.view.sheet.pieces}
        found = [by_id[name] for name in entry.about or entry.ids if name in by_id]
        return (found[0], found[1]) if len(found) == 2 else None

    def _open_gap(self, entry: SectionEntry) -> float:
        """Return the gap of a joint that does not close; 0 for one that meets at an angle."""
        if entry.cells[0].text in ("near-tangent", "off-tangent"):
            return 0.0
        return entry.gap
