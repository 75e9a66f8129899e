"""The last moves at the board: reflect the half, repeat what a pattern repeats."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.part.value import GridPattern, Part


def repeats(part: Part) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield the text and the curves of each pattern and each mirror, patterns first."""
    for name, pattern in part.patterns.items():
        names = ", ".join(pattern.curves)
        if isinstance(pattern, GridPattern):
            turned = f", the rows turned by {pattern.angle}°" if pattern.angle != "0" else ""
            yield (f"Repeat {names} in {pattern.count[0]} columns {pattern.step[0]} apart and "
                   f"{pattern.count[1]} rows {pattern.step[1]} apart{turned} (pattern {name}).",
                   pattern.curves)
        else:
            yield (f"Repeat {names} about {pattern.center}: {pattern.count} places over "
                   f"{pattern.span}° (pattern {name}).", pattern.curves)
    for mirror in part.mirrors:
        what = "the outline" if mirror.curves == "outline" else ", ".join(mirror.curves)
        yield (f"Reflect {what} about {mirror.axis}: from each point and center draw square to "
               f"{mirror.axis} and step off the same distance beyond it; radii stay.",
               () if mirror.curves == "outline" else mirror.curves)
