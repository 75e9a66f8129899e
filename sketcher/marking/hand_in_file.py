"""Read a hand-in from its file: a part file, or a DXF of any origin."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import numpy as np

from sketcher.exchange.dxf_content import DxfContent
from sketcher.geometry.bounds import bounds_of
from sketcher.marking.hand_in import HandCurve, HandIn, LayerRole

FOLLOWED = 1e-5
"""How near arcs follow a free curve, as a part of the drawing: 0.001 mm on 100 mm, a tenth of what
is marked as right."""


def read_hand_in(path: str | Path, layers: Mapping[str, LayerRole] | None = None) -> HandIn:
    """Return what a file holds; nothing is repaired.

    Parameters
    ----------
    path : str or Path
    layers : mapping of str to LayerRole, optional
        What layers are for, by name in lower case, where a class agreed on it.

    Raises
    ------
    SketcherError
        When it cannot be read.
    """
    path = Path(path)
    if path.suffix.lower() == ".json":
        return _part_file(path)
    return _dxf(path, layers or {})


def _dxf(path: Path, layers: Mapping[str, LayerRole]) -> HandIn:
    from sketcher.exchange.dxf_content import FileCurve
    from sketcher.exchange.dxf_read import read_dxf
    from sketcher.marking.free_outline import plain_curves
    from sketcher.marking.layer_roles import curve_roles

    content = read_dxf(path)
    told = list(content.mended)
    drawn = list(content.curves)
    if content.splines:
        within = FOLLOWED * _size(content)
        drawn += [FileCurve(curve, free.entity, free.layer)
                  for free in content.splines for curve in plain_curves(free.curve, within)]
        drawn.sort(key=lambda each: each.entity)
        told.append(f"{len(content.splines)} free curves were taken as arcs and lines")
    found = curve_roles(drawn, content.entities, layers)
    curves = tuple(HandCurve(each.curve, each.entity, role)
                   for each, role in zip(drawn, found.roles, strict=True))
    told += [f"layer {each.layer} was taken for {each.role}: {each.reason}"
             for each in found.questions]
    return HandIn(path.name, curves, content.unit, content.factor, content.entities,
                  content.dimensions, content.words, tuple(told), content,
                  questions=found.questions)


def _size(content: DxfContent) -> float:
    """Return the greater of width and height of all that is drawn, in the file's numbers."""
    places = [at for each in content.splines for at in each.curve.points]
    if content.curves:
        x0, y0, x1, y1 = bounds_of([each.curve for each in content.curves])
        places += [(x0, y0), (x1, y1)]
    return float(np.ptp(places, axis=0).max())


def _part_file(path: Path) -> HandIn:
    from sketcher.inspect.sketched import solve_sketch
    from sketcher.part.store import load
    from sketcher.part.whole import whole

    solution = solve_sketch(load(path))
    curves = tuple(HandCurve(piece.curve, number) for number, piece in enumerate(
        (p for p in whole(solution.part) if p.role == "outline"), 1))
    return HandIn(path.name, curves, solution.part.unit, part=solution.part,
                  report=solution.report)
