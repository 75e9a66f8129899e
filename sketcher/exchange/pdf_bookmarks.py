"""Bookmarks for a finished PDF, one for each page, and the wish to be printed at its own size.

Qt's writer makes none. A PDF may be changed by appending (ISO 32000-1, 7.5.6, from memory): new
objects, a table of where they stand, and a trailer that points back to the older one. The outline
is a list of items that hang together by First, Last, Next and Prev (12.3.3). Of PrintScaling a
viewer takes what its dialog for printing offers first, which is else to fit the paper (12.2, table
150); a drawing that is printed smaller measures wrong.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

_TRAILER = re.compile(rb"trailer\s*<<(.*?)>>\s*startxref\s*(\d+)\s*%%EOF\s*$", re.S)
_TABLE = re.compile(rb"xref\s+0 (\d+)\s+")
_REFERENCE = rb"/%s\s+(\d+)\s+0\s+R"
_KIDS = re.compile(rb"/Kids\s*\[(.*?)\]", re.S)
ENTRY = 20  # bytes of an entry in the table of objects


class _OtherwiseBuilt(Exception):
    """The document is a PDF that this page does not know how to read."""


def with_bookmarks(document: bytes, titles: Sequence[str]) -> bytes:
    """Return a PDF with a bookmark to each of its pages, shown when it is opened.

    Parameters
    ----------
    document : bytes
        A PDF with one plain table of objects and its pages in one list, as Qt writes it. One that
        is built otherwise comes back as it is: its drawing is right without bookmarks too.
    titles : sequence of str
        One for each page, in order.
    """
    try:
        return _bookmarked(document, titles)
    except _OtherwiseBuilt:
        return document


def _bookmarked(document: bytes, titles: Sequence[str]) -> bytes:
    trailer = _TRAILER.search(document)
    if trailer is None:
        raise _OtherwiseBuilt
    entries, table = trailer[1], int(trailer[2])
    size = int(_found(rb"/Size\s+(\d+)", entries))
    root = int(_found(_REFERENCE % b"Root", entries))
    catalog = _object(document, table, root)
    pages = _object(document, table, int(_found(_REFERENCE % b"Pages", catalog)))
    kids = _KIDS.search(pages)
    numbers = [int(n) for n in re.findall(rb"(\d+)\s+0\s+R", kids[1])] if kids else []
    if len(numbers) != len(titles) or not numbers:
        raise _OtherwiseBuilt
    items = range(size + 1, size + 1 + len(titles))
    changed = {root: _catalog(catalog, size),
               size: f"<</Type /Outlines /First {items[0]} 0 R /Last {items[-1]} 0 R "
                     f"/Count {len(titles)}>>".encode()}
    for number, title, page in zip(items, titles, numbers, strict=True):
        beside = "".join(f" /{word} {other} 0 R" for word, other in
                         (("Prev", number - 1), ("Next", number + 1)) if other in items)
        changed[number] = (f"<</Title {_text(title)} /Parent {size} 0 R{beside} "
                           f"/Dest [{page} 0 R /Fit]>>").encode()
    return _appended(document, changed, entries, table)


def _found(pattern: bytes, where: bytes) -> bytes:
    found = re.search(pattern, where, re.S)
    if found is None:
        raise _OtherwiseBuilt
    return found[1]


def _object(document: bytes, table: int, number: int) -> bytes:
    """Return the content of an object by its place in the table."""
    head = _TABLE.match(document, table)
    if head is None or number >= int(head[1]):
        raise _OtherwiseBuilt
    at = head.end() + ENTRY * number
    place = int(document[at:at + 10])
    return _found(rb"^%d 0 obj\s*(.*?)\s*endobj" % number, document[place:])


def _catalog(catalog: bytes, outlines: int) -> bytes:
    inside = catalog.strip().removesuffix(b">>")
    return inside + (f"\n/Outlines {outlines} 0 R\n/PageMode /UseOutlines\n"
                     "/ViewerPreferences <</PrintScaling /None>>\n>>").encode()


def _text(title: str) -> str:
    """Return a text string as UTF-16 in hexadecimal (7.9.2.2): no letter needs an escape."""
    return f"<FEFF{title.encode('utf-16-be').hex().upper()}>"


def _appended(
    document: bytes, changed: Mapping[int, bytes], entries: bytes, before: int
) -> bytes:
    body = bytearray(document if document.endswith(b"\n") else document + b"\n")
    places = {}
    for number in sorted(changed):
        places[number] = len(body)
        body += b"%d 0 obj\n%s\nendobj\n" % (number, changed[number])
    start = len(body)
    body += b"xref\n"
    for number, place in places.items():
        body += b"%d 1\n%010d 00000 n \n" % (number, place)
    kept = re.sub(rb"/(Size|Prev)\s+\d+", b"", entries).strip()
    body += b"trailer\n<<\n/Size %d\n/Prev %d\n%s\n>>\nstartxref\n%d\n%%%%EOF\n" % (
        max(places) + 1, before, kept, start)
    return bytes(body)
