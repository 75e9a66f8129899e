"""The finished drawing as a display list: line classes, center lines, dimensions, sheet.

`sheet.pages(part, measured=None)` returns `Page` values: everything to be drawn, in mm on paper, y
up, which every writer shares. Alone to be had: `center_marks.center_marks(part, view)`, each mark
with the id by which ``drawing.centers`` switches it ``off`` or adds mm to its `start` and `end`;
`record.record`, the inspection record; and `layout.lay_out`, which the screen uses too.

Nothing here writes a file or knows a format, a font's painter or Qt; a kind of dimension is known
by its form alone. A sheet is judged by reading the written file back (`tests/sheet_checker.py`).
"""
