"""The construction on paper, each page with a figure: ``--figure OUT.pdf``."""

from __future__ import annotations

from collections.abc import Iterator

from sketcher.commands.lesson_outputs import LessonOutput, LessonWork
from sketcher.terminal import progress


def _make(work: LessonWork) -> Iterator[str]:
    from sketcher.drafting.further_pages.order_page import order_pages
    from sketcher.drafting.sheet import pages_of_kind
    from sketcher.exchange.outputs import FIGURES
    from sketcher.exchange.sheet_file import write_pages
    from sketcher.inspect.words import plural

    path = work.outputs.add("--figure", work.place, FIGURES)
    with progress("drawing figures"):
        drawn = pages_of_kind(order_pages(work.steps, work.args.moves), work.solution.part)
    write_pages(drawn, path, work.outputs.put)
    yield f"{path}: construction in {plural(len(work.steps), 'step')}, {plural(len(drawn), 'page')}"


OUTPUT = LessonOutput("figure", "OUT.pdf",
                      "the steps on paper, each page with a figure (.pdf, .svg, .png)", _make)
