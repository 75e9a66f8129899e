"""A drawing that lies tilted in space is laid level, if all of it lies in planes of one direction.

The plane is where most of it says it looks, or the best one through the ends of its lines.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sketcher.errors import FileError
from sketcher.exchange.dxf_curves import FLAT, has_edges
from sketcher.exchange.dxf_walk import SeenEntity


def level_plane(seen: Sequence[SeenEntity], place: str, why: str) -> list[SeenEntity]:
    """Return the entities turned so that their common plane is level.

    Raises
    ------
    FileError
        When they have no common plane; it names the first entity that does not lie level.
    """
    from ezdxf.math import Matrix44

    drawn = [each.entity for each in seen if has_edges(each.entity.dxftype()) and not each.hidden]
    normal = _normal(drawn)
    if normal is None:
        raise FileError(f"{place}, {why.partition(':')[0]}",
                        f"the drawing is not flat:{why.partition(':')[2]}",
                        "export a flat view of the part")
    along = np.cross(np.eye(3)[np.argmin(np.abs(normal))], normal)
    along /= np.linalg.norm(along)
    back = Matrix44.ucs(*(tuple(map(float, way)) for way in
                          np.transpose([along, np.cross(normal, along), normal])))
    turned = []
    for each in seen:
        if has_edges(each.entity.dxftype()) and not each.hidden:
            copy = each.entity.copy()
            turned.append(replace(each, entity=copy.transform(back)))
        else:
            turned.append(each)
    return turned


def _normal(drawn: Sequence[Any]) -> NDArray[np.float64] | None:
    """Return the direction that is square to everything, looking up; None when there is none."""
    points = np.array([point for entity in drawn for point in _places(entity)])
    if len(points) < 3:
        return None
    _, sizes, ways = np.linalg.svd(points - points.mean(axis=0), full_matrices=False)
    normal: NDArray[np.float64] = ways[2]
    if sizes[2] > FLAT * sizes[0] or sizes[1] <= FLAT * sizes[0]:
        return None
    last = np.flatnonzero(np.abs(normal) > FLAT)[-1]
    return normal if normal[last] > 0.0 else -normal


def _places(entity: Any) -> Iterator[tuple[float, float, float]]:
    """Yield points of an entity in space: enough of them that its plane is known."""
    from ezdxf.path import make_path

    for vertex in make_path(entity).control_vertices():
        yield (float(vertex.x), float(vertex.y), float(vertex.z))
