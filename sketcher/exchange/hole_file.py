"""The list of holes as a file: what it is called, and what it may replace."""

from __future__ import annotations

from sketcher.exchange.outputs import Form, has_titles
from sketcher.shop.hole_csv import PLACES, as_csv, titles
from sketcher.shop.hole_rows import HoleList

HOLE_LIST = Form("a list of holes", (".csv",),
                 lambda data: has_titles(data, *(titles(unit) for unit in PLACES)), ".csv")


def hole_file(holes: HoleList) -> bytes:
    """Return the content of the file; spreadsheets tell by its first bytes that it is UTF-8."""
    return as_csv(holes).encode("utf-8-sig")
