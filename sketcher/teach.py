"""What the commands say about themselves."""

from __future__ import annotations

ABOUT = """\
Draw the exact profile of a flat plate part from its dimensions.

A part's file (NAME.profile.json) holds a rough sketch of the half, the bindings that the paper
drawing states (lengths, offsets, angles, tangency), a symmetry axis and hole patterns. The program
solves the bindings, measures every joint, reflects the half, and writes what a cutter needs.

Without a command the window opens.
"""

INSPECT = """\
Solves the part and measures the whole of it, reflection and patterns included: every dimension
against its value and limits, every joint (tangent, corner, near-tangent, gap, overrun), tangencies
away from the ends, closed contours with exact area, centroid and second moments, the symmetry, and
what a laser or a plasma cutter would mind.

A residual is what is minus what should be. For a tangency it is a length: how far the line passes
from the circle, or by how much the distance of two centers differs from the sum or the difference
of the radii.

Exit status: 0 sound, 1 findings, 2 the file cannot be read. Findings are: bindings that cannot all
hold; something that can still move; a dimension off its value or outside its limits; a joint that
is nearly tangent; a gap, an overrun, an open end; outline that is stray, drawn twice or crosses
itself. Bindings said twice that agree are told, but are no finding; cutting advice is advice."""

SOLVE = """\
Finds the geometry that satisfies every binding, near where the sketch stands: sides and tangent
senses are kept. With --set a parameter or a dimension gets another value for this run, and the
geometry is walked there; values are expressions (12.5, 1 5/8, 25.4 mm, wall*2).

Nothing is written without --out, and nothing when the bindings cannot all hold.

Exit status: 0 solved, 1 the bindings cannot all hold, 2 the file or a value cannot be read."""

ORDER = """\
Prints the steps in which a person at a drawing board would construct the half, with straightedge,
protractor and compass: each step names the curve, the binding and the value. Where several
conditions have to be met at once the step says so.

Exit status: 0 done, 1 the bindings cannot all hold, 2 the file cannot be read."""

EXPORT = """\
--cut writes a DXF for a laser or plasma cutter: closed contours only, with true arcs at real
coordinates, the inside contours on their own layer (INSIDE) and first in the file, units in the
header. No center lines, no text, no layout lines. Contours are polylines whose arcs are exact
bulges; --pieces writes single lines and arcs for controllers that want those. Sizes are nominal:
nothing is offset for the kerf, which the cutter's own program does, once.

A part with a gap, a stray, an overlap, a crossing, or bindings that do not hold is refused and the
finding named; nothing is written then.

--sheet writes the finished drawing with center lines, dimensions, frame and title block, by the
practice and on the paper that the part's file names; the ending chooses PDF, SVG, PNG or DXF.

--record writes the inspection record, a table of all dimensions with their limits and a column for
what is measured, as CSV or PDF. Fill the column in, and --measured reads it back: the next record
then says pass or fail for each.

Exit status: 0 written, 1 refused or a measured value outside its limits, 2 the file cannot be read
or written."""

DEMO = """\
Takes one of the demo parts from its rough sketch to what leaves the program, into a folder of its
own: the solved part, the inspection (text, JSON, CSV, HTML), the construction order and the cutting
DXF. Prints the table of every dimension and every tangency residual. Where there is a screen the
window then opens with the part."""

OPEN = """\
Opens the window, with a part if one is named. The window needs a screen; every other command works
without one."""
