"""Whether the part can be made from its sheet alone: the drawing is read, redrawn and solved.

`rebuild(page)` reads only what stands on a page: the outline as the eye sees it, the center lines,
the wording and places of the dimensions, and the notes. From these it makes a fresh part, whose
coordinates are distorted first so that none is trusted, solves it, and returns a `Rebuilt`: whether
everything is bound and comes out as drawn, and else which dimension stands nowhere, contradicts or
cannot be read. The part's own bindings are never looked at.

In the order of the files: `read_wording` (text to numbers), `redrawn` (the fresh part while it is
made), `drawn_outline` and `drawn_marks` (strokes to curves, center lines to lines and centers),
`evident` and `evident_symmetry` (what a drawing says without a number), `operand_places` (what a
dimension starts from), `stated` (dimensions to bindings), `distorted`, `missing` (what is loose, in
words), `rebuilding` (all of it).
"""

from sketcher.drafting.rebuild.rebuilding import Lack, Rebuilt, rebuild

__all__ = ["Lack", "Rebuilt", "rebuild"]
