"""Texts that go into a table which a spreadsheet opens.

Names come from people and files. A cell that a spreadsheet would take for a formula gets an
apostrophe in front, as it would be typed there (OWASP, "CSV Injection", from memory: signs = + - @,
tab and carriage return).
"""

from __future__ import annotations

import re

FORMULA = re.compile(r"(^|[;\t\r\n])(\s*)(?=[=+\-@\t\r])")
PLAIN_NUMBER = re.compile(r"[+-]?\d+(?:[.,]\d+)?°?")


def safe_cell(text: str) -> str:
    """Return a text as one line that no spreadsheet takes for a formula.

    Examples
    --------
    >>> safe_cell("=1+1"), safe_cell("-12.5"), safe_cell("Ø12")
    ("'=1+1", '-12.5', 'Ø12')
    """
    if PLAIN_NUMBER.fullmatch(text):
        return text
    return " ".join(FORMULA.sub(r"\1\2'", text).splitlines())
