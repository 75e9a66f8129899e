"""What the cut takes: ``--estimate OUT.txt``, times by ``--rates FILE.toml``."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from sketcher.commands.deliverables.cut_output import WITH_CUT, asked_plan
from sketcher.terminal import ExportOutput, ExportWork, json_text

if TYPE_CHECKING:
    from sketcher.exchange.outputs import Form


OF_THE_FILE = ("form", "pieces", "lower_left")
"""Options of the cut that change its file alone, and not what it takes."""
MOST_BYTES = 1024 * 1024
"""Of a file of rates."""


def _form() -> Form:
    from sketcher.exchange.outputs import Form

    return Form("an estimate", (".txt", ".json"), _is_estimate, ".txt")


def _is_estimate(data: bytes) -> bool:
    return data.startswith(b"Estimate: ") or all(key in data for key in (b'"pierces"', b'"blank"'))


def _options(_: argparse.ArgumentParser, group: argparse._ActionsContainer) -> None:
    group.add_argument("--rates", metavar="FILE.toml",
                       help="speeds and prices of your own; an estimate without them says how such "
                            "a file is written")


def _make(work: ExportWork) -> Iterator[str]:
    from sketcher.part.atomic import read_bytes
    from sketcher.shop.cut_rates import read_rates
    from sketcher.shop.estimate import as_lines, estimate_cut, figures

    given = work.args.rates
    rates = None if given is None else read_rates(read_bytes(given, MOST_BYTES), Path(given).name)
    found = estimate_cut(work.inspection, asked_plan(work), rates)
    work.facts.update(found.as_dict())
    told = json_text("estimate", found.as_dict()) \
        if work.place.lower().endswith(".json") else "\n".join(as_lines(found))
    work.put(work.place, f"{told}\n".encode())
    yield f"wrote {work.place}"
    for each in found.times:
        yield f"  {each.rate.process}: {figures(each.minutes)} min by the rates given"
    if rates is None:
        yield "  no times: give speeds of your own with --rates FILE.toml"


OUTPUT = ExportOutput("estimate", "OUT.txt",
                      "what the cut takes, to export: lengths, mass, blank, time", _form,
                      "the estimate", _options, _make,
                      ("rates", *(name for name in WITH_CUT if name not in OF_THE_FILE)), rank=40)
