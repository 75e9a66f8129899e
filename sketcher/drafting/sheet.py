"""The finished drawing: pages with frame, title block, view, dimensions, notes and tables."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from sketcher.drafting.as_measured import as_measured
from sketcher.drafting.drawn_dimension import Drawn
from sketcher.drafting.features import shown_pieces
from sketcher.drafting.further_pages import page_kinds
from sketcher.drafting.holes import hole_table
from sketcher.drafting.lettering import CUT
from sketcher.drafting.page import DetailOnPage, Page
from sketcher.drafting.page_kind import Asked, PageKind
from sketcher.drafting.paper_choice import chosen
from sketcher.drafting.paper_room import free_area, further_sheets
from sketcher.drafting.paper_scale import scale_text
from sketcher.drafting.paper_sizes import Sheet
from sketcher.drafting.paper_view import View
from sketcher.drafting.primitives import Item, Text, shifted
from sketcher.drafting.sheet_frame import draw_frame
from sketcher.drafting.sheet_notes import notes_above, notes_of
from sketcher.drafting.sheet_tables import draw_table
from sketcher.drafting.stamp import draw_stamp
from sketcher.drafting.title_block import Facts, draw_title_block
from sketcher.drafting.view_contents import Contents
from sketcher.drafting.views.arranged_views import moves_in
from sketcher.errors import SketcherError
from sketcher.part.value import Part
from sketcher.part.whole import Piece
from sketcher.progress import tell


def pages(
    part: Part, measured: Mapping[str, float] | None = None, stamp: Sequence[str] = ()
) -> tuple[Page, ...]:
    """Return the pages of the finished drawing of a solved part: of the plate alone.

    What the part does not have is not printed: such a dimension says what it measures.

    Parameters
    ----------
    part : Part
        With its `drawing` settings.
    measured : mapping of str to float, optional
        Measured values by binding id, for the inspection page.
    stamp : sequence of str
        Codes of the findings for which every page is stamped.

    Raises
    ------
    SketcherError
        For an unknown sheet or scale, a part without outline, or one that does not fit.
    """
    part = as_measured(part)
    pieces = shown_pieces(part, alone=True)
    if not any(piece.role == "outline" for piece in pieces):
        raise SketcherError("curves", "there is no outline to draw", "draw the part first")
    sheet, factor, contents = chosen(part, pieces)
    scale = scale_text(factor)
    bodies = [(kind.name, page_sheet, body)
              for kind in page_kinds().values() if kind.wanted(part)
              for page_sheet, body in _bodies(kind, part, measured)]
    count = 1 + len(bodies)
    first = _drawing_page(part, pieces, sheet, scale, contents, count)
    further = (_stamped(_further(part, page_sheet, name, (number, count), body), page_sheet, stamp)
               for number, (name, page_sheet, body) in enumerate(bodies, 2))
    drawn = (_stamped(first, sheet, stamp), *further)
    tell(1.0)
    return drawn


def pages_alone(
    name: str, part: Part, measured: Mapping[str, float] | None = None,
    stamp: Sequence[str] = (),
) -> tuple[Page, ...]:
    """Return the pages of one kind without the drawing, on the smallest sheet of the practice.

    Parameters
    ----------
    name : str
        One of `further_pages.page_kinds`.
    part : Part
        The solved part.
    measured : mapping of str to float, optional
        Measured values by binding id, in the part's unit or in degrees.
    stamp : sequence of str
        Codes of the findings for which every page is stamped.
    """
    return pages_of_kind(page_kinds()[name], part, measured, stamp)


def pages_of_kind(
    kind: PageKind, part: Part, measured: Mapping[str, float] | None = None,
    stamp: Sequence[str] = (),
) -> tuple[Page, ...]:
    """Return the same of a kind of page that need be in no registry."""
    part = as_measured(part)
    bodies = _bodies(kind, part, measured)
    count = len(bodies)
    return tuple(_stamped(_further(part, sheet, kind.name, (number, count), body), sheet, stamp)
                 for number, (sheet, body) in enumerate(bodies, 1))


def _stamped(page: Page, sheet: Sheet, codes: Sequence[str]) -> Page:
    return replace(page, items=(*draw_stamp(sheet, codes), *page.items)) if codes else page


def _bodies(
    kind: PageKind, part: Part, measured: Mapping[str, float] | None
) -> list[tuple[Sheet, list[Item]]]:
    """Return the bodies of a kind of page, each on the smallest sheet on which no text is cut.

    Of sheets as large the one that takes fewer of them, upright rather than lying. A kind that
    plans its pages cuts nothing, and is put on the smallest.
    """
    if kind.planned is not None:
        planned = kind.planned
        asked = min((Asked(part, sheet, measured) for sheet in further_sheets(part)[0]),
                    key=planned)
        return [(asked.sheet, body) for body in kind.bodies(asked)]
    best: tuple[int, list[tuple[Sheet, list[Item]]]] | None = None
    for same in further_sheets(part):
        for sheet in same:
            bodies = [(sheet, body) for body in kind.bodies(Asked(part, sheet, measured))]
            cut = sum(isinstance(item, Text) and item.text.endswith(CUT)
                      for _, body in bodies for item in body)
            if best is None or (cut, len(bodies)) < (best[0], len(best[1])):
                best = (cut, bodies)
        if best is not None and not best[0]:
            break
    return best[1] if best is not None else []


def _further(
    part: Part, sheet: Sheet, name: str, of: tuple[int, int], body: list[Item]
) -> Page:
    """Put frame and title block around the body of a page; `of` is its number and their count."""
    facts = Facts("", *of, name.capitalize())
    return _page(part, sheet, name, [*draw_frame(sheet), *body,
                                     *draw_title_block(part, sheet, facts, further=True)])


def _drawing_page(
    part: Part, pieces: tuple[Piece, ...], sheet: Sheet, scale: str, contents: Contents, count: int
) -> Page:
    area = free_area(part, sheet)
    (dx, dy), *moves = moves_in(contents, area)
    items: list[Item] = [shifted(item, dx, dy) for item in contents.items]
    moved = [_moved(d, dx, dy) for d in contents.dimensions]
    details = []
    for detail, (x, y) in zip(contents.details, moves, strict=True):
        items += [shifted(item, x, y) for item in (*detail.drawn.items, *detail.caption())]
        own = [_moved(d, x, y) for d in detail.drawn.dimensions]
        details.append(DetailOnPage(detail.ring.letter, detail.drawn.view.shifted(x, y),
                                    detail.ring.center, detail.ring.radius,
                                    tuple(d.id for d in own), tuple(sorted(detail.ring.members))))
        moved += own
    items += draw_frame(sheet)
    items += draw_title_block(part, sheet, Facts(scale, 1, count, "Drawing"))
    notes, height = notes_of(part, sheet)
    top = (sheet.block[3] + height if notes_above(sheet) else sheet.inner[1] + height)
    items += [shifted(item, sheet.inner[0], top) for item in notes]
    if part.drawing.hole_table:
        table = hole_table(part).lettered(sheet.capitals)
        wide = sum(table.widths(sheet.height))
        drawn, _ = draw_table(table, (sheet.inner[2] - wide, sheet.inner[3]), sheet.height,
                              "sheet:holes")
        items += drawn
    page = _page(part, sheet, "drawing", items, tuple(moved), contents.view.shifted(dx, dy))
    return replace(page, crowded=contents.badly, details=tuple(details))


def _moved(drawn: Drawn, dx: float, dy: float) -> Drawn:
    return replace(
        drawn, points=tuple((x + dx, y + dy) for x, y in drawn.points),
        place=(drawn.place[0] + dx, drawn.place[1] + dy),
        items=tuple(shifted(item, dx, dy) for item in drawn.items))


def _page(
    part: Part, sheet: Sheet, name: str, items: list[Item],
    dimensions: tuple[Drawn, ...] = (), view: View | None = None,
) -> Page:
    return Page(name, sheet.size, part.drawing.practice, tuple(items), dimensions, view, part.unit,
                f"{part.name}: {name}", sheet.name, author=part.drawing.fields.get("drawn by", ""))
