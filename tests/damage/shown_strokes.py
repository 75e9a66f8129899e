"""What a DXF shows, as ezdxf reads it: blocks resolved, hidden layers left out."""

from __future__ import annotations

from math import dist, pi, tau
from pathlib import Path

import ezdxf
from ezdxf.disassemble import recursive_decompose

from tests.damage.strokes import Bow, Ring, Straight, Stroke


def shown(path: Path) -> list[Stroke]:
    """Lines, arcs and circles of the visible layers, polylines in single strokes."""
    doc = ezdxf.readfile(path)
    hidden = {layer.dxf.name for layer in doc.layers if layer.is_off() or layer.is_frozen()}
    found: list[Stroke] = []
    for entity in recursive_decompose(doc.modelspace()):
        if entity.dxf.layer in hidden:
            continue
        pieces = (entity.virtual_entities() if entity.dxftype() in ("LWPOLYLINE", "POLYLINE")
                  else [entity])
        for piece in pieces:
            kind = piece.dxftype()
            if kind == "LINE":
                a, b = piece.dxf.start, piece.dxf.end
                if dist(a, b) > 0.0:
                    found.append(Straight((a.x, a.y), (b.x, b.y)))
                continue
            assert kind in ("ARC", "CIRCLE"), kind
            center = piece.dxf.center
            at = (center.x, center.y)
            if kind == "CIRCLE":
                found.append(Ring(at, piece.dxf.radius))
            else:
                start = piece.dxf.start_angle * pi / 180.0
                sweep = (piece.dxf.end_angle - piece.dxf.start_angle) * pi / 180.0 % tau
                found.append(Bow(at, piece.dxf.radius, start, sweep))
    return found
