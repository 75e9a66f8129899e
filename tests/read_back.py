"""What the program has written, as others read it: tables by Python's CSV, words by pdfplumber."""

from __future__ import annotations

import csv
from pathlib import Path


def rows(path: Path) -> list[dict[str, str]]:
    """The rows of a table under its headings, as a spreadsheet opens it."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


def words_of(path: Path) -> str:
    """All words of a PDF, page after page."""
    import pdfplumber

    with pdfplumber.open(path) as document:
        return "\n".join(page.extract_text() for page in document.pages)
