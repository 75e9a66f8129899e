"""The three files against one another: every stroke and text of the SVG is in PDF and DXF."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path

import numpy as np

from tests.sheet_marks.deductions import Fault, fault
from tests.sheet_marks.said_values import said
from tests.sheet_marks.written_sheet import Written, WrittenSheet
from tests.sheet_reader import Lettering, read_pdf

NEAR = 0.06  # mm: a PDF is written to 1/100 mm, both ends of a dash together


def judge_pdf(sheet: WrittenSheet, path: Path) -> Iterator[Fault]:
    """Edges, center lines and dimensions of the SVG that are not in the PDF, and its letters."""
    ink = read_pdf(path)
    straight = np.array([[*d.start, *d.end] for d in ink.dashes if d.center is None]
                        ).reshape(-1, 4)
    # Page sizes of a PDF are whole points: what is on it is measured from the top.
    straight += np.array([0.0, sheet.size[1] - ink.size[1]] * 2)
    straight = np.vstack([straight, straight[:, [2, 3, 0, 1]]]) if len(straight) else straight
    for stroke in sheet.strokes:
        for dash in stroke.dashes:
            if dash.center is not None or dash.length < 0.02:
                continue
            row = np.array([*dash.start, *dash.end])
            if not len(straight) or np.abs(straight - row).max(axis=1).min() > NEAR:
                yield fault("writers-differ", dash.start, f"a dash of {stroke.source} "
                                                          f"({stroke.kind}) is not in the PDF")
                break
    letters = unspaced(ink.lettering)
    wanted = unspaced(sheet.texts)
    if sorted(letters) != sorted(wanted):
        more, less = Counter(letters) - Counter(wanted), Counter(wanted) - Counter(letters)
        yield fault("writers-differ", (10, 10), f"letters only in the PDF: {''.join(more)}, only "
                                                f"in the SVG: {''.join(less)}")


def unspaced(some: Iterable[Lettering | Written]) -> str:
    """All words without the spaces: each file has its own."""
    return "".join("".join(t.text for t in some).split())


def judge_dxf(sheet: WrittenSheet, path: Path) -> Iterator[Fault]:
    """Layers by kind, and dimensions that say what they measure."""
    import ezdxf

    document = ezdxf.readfile(path)
    model = document.modelspace()
    edges = [e for e in model if e.dxf.layer == "VISIBLE"]
    count = len(sheet.outline)
    if len(edges) != count:
        yield fault("line-layer", (10, 10), f"{len(edges)} entities on the layer of the {count} "
                                            "edges")
    low = document.header.get("$EXTMIN", (1e20,))[0]
    if abs(low) > 1e10:
        yield fault("line-layer", (10, 10), "the header tells no extents")
    centers = [e for e in model if e.dxf.layer in ("CENTER", "PHANTOM")]
    if len(centers) != len(sheet.centers):
        yield fault("center-line-layer", (10, 10), f"{len(centers)} entities on the center lines' "
                                                   f"layers, {len(sheet.centers)} are drawn")
    for entity in model.query("DIMENSION"):
        yield from typed_over(entity)


def typed_over(entity: object) -> Iterator[Fault]:
    """A dimension whose text is not what it measures."""
    text = entity.dxf.get("text", "")
    if "<>" in text or not text:
        return
    plain = re.sub(r"%%[cC]", "Ø", re.sub(r"%%[dD]", "°", re.sub(r"%%[pP]", "±", text)))
    read = said(plain)
    if read is None:
        return
    measured = entity.get_measurement()
    measured = measured if isinstance(measured, float) else math.hypot(*measured)
    limit = read.last + 1e-4 + (0.05 if read.degrees else 0.0)
    if min(abs(measured - v) for v in (read.value, read.whole or read.value)) > limit:
        at = entity.dxf.get("text_midpoint", (0, 0))
        yield fault("typed-over", tuple(at)[:2], f"'{text}' measures {measured:.6g}")
