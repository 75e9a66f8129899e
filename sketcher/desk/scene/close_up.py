"""How near the sheet goes to what a row speaks of: near enough to see it, with what is around."""

from __future__ import annotations

from sketcher.geometry.bounds import Box
from sketcher.geometry.curves import XY

CONTEXT = 0.25
"""Least share of the part that is shown around a place: less is two bare lines (tried: 1/12)."""
WHOLE = 0.6
"""Share of the part up to which the curves are shown whole; longer ones are cut at its edge."""
AIR = 1.3
"""Times their own size that is shown of the curves."""
SEEN = 8.0
"""Times its own size that is shown around a gap that can be seen without a loupe."""


def close_up(own: Box | None, at: XY | None, gap: float, whole: Box) -> Box:
    """Return the frame in which a place is shown with the curves that it is about.

    Parameters
    ----------
    own : (x0, y0, x1, y1) or None
        Around the curves that are spoken of, where it is about any.
    at : (x, y) or None
        The place; the middle of the curves without it.
    gap : float
        Size of what is to be seen there, in the part's unit; 0 where it has none.
    whole : (x0, y0, x1, y1)
        Around the part.

    Returns
    -------
    (x0, y0, x1, y1)
        A square.
    """
    size = max(whole[2] - whole[0], whole[3] - whole[1], 1e-9)
    least = max(CONTEXT * size, SEEN * gap)
    boxes = [box for box in (own, (*at, *at) if at is not None else None) if box is not None]
    if not boxes:
        return whole
    x0, y0, x1, y1 = (pick(side) for pick, side in
                      zip((min, min, max, max), zip(*boxes, strict=True), strict=True))
    span, (x, y) = AIR * max(x1 - x0, y1 - y0), (0.5 * (x0 + x1), 0.5 * (y0 + y1))
    if at is not None and span > max(WHOLE * size, least):
        span, (x, y) = WHOLE * size, at
    half = 0.5 * max(span, least)
    return x - half, y - half, x + half, y + half


def grown(frame: Box, times: float) -> Box:
    """Return a frame with the same middle and so many times the size."""
    x0, y0, x1, y1 = frame
    dx, dy = 0.5 * (times - 1.0) * (x1 - x0), 0.5 * (times - 1.0) * (y1 - y0)
    return x0 - dx, y0 - dy, x1 + dx, y1 + dy
