"""The part at full size on paper: ``--template OUT.pdf``."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import TYPE_CHECKING

from sketcher.errors import EditError, SketcherError
from sketcher.terminal import ExportOutput, ExportWork, minded, progress

if TYPE_CHECKING:
    from sketcher.exchange.outputs import Form


def _form() -> Form:
    from sketcher.exchange.outputs import TEMPLATE

    return TEMPLATE


def _options(_: argparse.ArgumentParser, group: argparse._ActionsContainer) -> None:
    group.add_argument("--mirrored", action="store_true",
                       help="the template turned over, to be scribed on the back side")


def _make(work: ExportWork) -> Iterator[str]:
    from sketcher.drafting.template.tiling import template_paper
    from sketcher.exchange.template_file import CAUTION, write_template
    from sketcher.inspect.release import release_marking_out

    release_marking_out(work.inspection, work.despite)
    paper = "auto" if work.args.paper is None else work.args.paper
    try:
        template_paper(paper, work.inspection.part.unit)
    except SketcherError as error:
        raise EditError("--paper", error.problem, error.remedy) from None
    with progress("drawing the template"):
        written = write_template(work.inspection.part, work.place, paper, work.args.mirrored,
                                 work.put)
    side = ", mirrored" if work.args.mirrored else ""
    yield f"{work.place}: template of {written.told}{side}{written.lacking}"
    yield from minded(() if work.args.cut else work.inspection.findings)
    yield f"  caution: {CAUTION}"


OUTPUT = ExportOutput("template", "OUT.pdf",
                      "a template at full size to export, in tiles of --paper A4 or letter",
                      _form, "the template", _options, _make, ("mirrored", "paper"), rank=30)
