"""What is to be written, looked at before anything is: no output takes away what is not its own.

An output replaces without being asked only what it would have made itself: a cutting file a cutting
file, a drawing a drawing of this program. A part, a file of another kind and a file of another
program need a yes (`force`). A folder, a device, the file that is worked from and another output of
the same run are never replaced.
"""

from __future__ import annotations

import os
import re
import sys
from codecs import BOM_UTF8
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from sketcher.errors import FileError
from sketcher.part.atomic import may_be_written, read_bytes, refuse_special, said, write_bytes
from sketcher.part.store import SUFFIX

MOST_BYTES = 64 * 1024 * 1024
MADE_HERE = "part-profile-sketcher"
"""Stands in every PDF, SVG and PNG that the program writes."""
STREAM = "-"
"""In place of a file's name: standard output."""
RECORD_MADE_HERE = f"{MADE_HERE}, inspection record"
"""Stands in the PDF of a record in its place."""
TEMPLATE_MADE_HERE = f"{MADE_HERE}, full-size template"
"""Likewise in that of a template."""

PLACE = str | os.PathLike[str]


@dataclass(frozen=True, slots=True)
class Form:
    """A kind of output: what it is called, how its names end, and what it may replace unasked.

    `own` takes a file's content and tells whether this kind of output made it. `text` is the ending
    of what may go to standard output; nothing may without it.
    """

    what: str
    suffixes: tuple[str, ...]
    own: Callable[[bytes], bool]
    text: str = ""


def has_titles(data: bytes, *tables: Sequence[str]) -> bool:
    """Tell whether a CSV file begins with the titles of one of some tables."""
    titles = tuple(",".join(columns).encode() for columns in tables)
    return data.removeprefix(BOM_UTF8).startswith(titles)


def _says(data: bytes, text: str) -> bool:
    return any(text.encode(code) in data for code in ("utf-8", "utf-16-be"))


def _is_cutting(data: bytes) -> bool:
    layers = (re.search(rb"\n%b(_KERF_[0-9A-Z_]+)?\n" % name, data)
              for name in (b"INSIDE", b"OUTSIDE"))
    return b"\nENTITIES\n" in data and all(layers)


def _is_drawing(data: bytes) -> bool:
    if data.startswith((b"%PDF-", b"\x89PNG", b"<")):
        other = _says(data, RECORD_MADE_HERE) or _is_template(data)
        return _says(data, MADE_HERE) and not other
    return b"\nENTITIES\n" in data and b"\nLETTERING\n" in data


def _is_template(data: bytes) -> bool:
    return data.startswith(b"%PDF-") and _says(data, TEMPLATE_MADE_HERE)


def _is_record(data: bytes) -> bool:
    from sketcher.drafting.record import CSV_COLUMNS, EARLIER_COLUMNS

    if data.startswith(b"%PDF-"):
        return _says(data, RECORD_MADE_HERE)
    return has_titles(data, CSV_COLUMNS, EARLIER_COLUMNS)


def _is_empty_record(data: bytes) -> bool:
    from sketcher.exchange.measured_file import filled_in

    return _is_record(data) and (data.startswith(b"%PDF-") or not filled_in(data))


PART = Form("a part", (SUFFIX,), lambda data: False, SUFFIX)
CUTTING = Form("a cutting file", (".dxf",), _is_cutting, ".dxf")
DRAWING = Form("a drawing", (".pdf", ".svg", ".png", ".dxf"), _is_drawing, ".svg")
TEMPLATE = Form("a template", (".pdf",), _is_template)
FIGURES = Form("a construction with figures", (".pdf", ".svg", ".png"), _is_drawing)
PICTURE = Form("a picture", (".pdf", ".svg", ".png"), _is_drawing)
RECORD = Form("an inspection record", (".csv", ".pdf"), _is_empty_record, ".csv")
FILLED_RECORD = Form("an inspection record", (".csv", ".pdf"), _is_record, ".csv")
"""Where the measured values of the file that is there go into the new one."""
REPORT = Form("a report", (".txt", ".json", ".csv", ".html"), lambda data: not _is_part(data))
"""Inspection and construction order: text that is made anew at any time."""


@dataclass(slots=True)
class Outputs:
    """The outputs of one run: planned with `add`, filled with `put`, written with `write`.

    Parameters
    ----------
    sources : sequence of path
        Files that are worked from; no output replaces one.
    force : bool
        Replace what is there, whatever its kind.
    remedy : str
        What to do where something else is there.
    stream : path, optional
        What goes to standard output, where an output is named ``-``.
    """

    sources: Sequence[PLACE] = ()
    force: bool = False
    remedy: str = "choose another name, or replace it with --force"
    stream: Path | None = None
    _forms: dict[Path, Form] = field(default_factory=dict)
    _contents: dict[Path, bytes] = field(default_factory=dict)
    _allowed: set[Path] = field(default_factory=set)

    def add(self, option: str, name: PLACE, form: Form, ask: bool = True) -> Path:
        """Plan an output; return its path.

        What is there already is looked at here and again in `write`; a part only there, where it
        may turn out to be the same one. Without `ask` it is left to the caller (see `allow`).

        Raises
        ------
        FileError
            When it could not be written there, or must not; `option` names a file that has no name.
        """
        if os.fspath(name) == STREAM and form.text:
            return self._to_stream(option, form)
        path = self._named(option, os.fspath(name), form)
        try:
            self._check_place(path)
        except (OSError, ValueError) as error:
            if isinstance(error, FileError):
                raise
            raise FileError(str(path), said(error), "choose another name") from None
        self._forms[path] = form
        if ask and form is not PART and not self.force:
            self._refuse_strange(path, form)
        return path

    def _to_stream(self, option: str, form: Form) -> Path:
        """Note that an output goes to standard output; its path tells its kind to who writes it."""
        if self.stream is not None:
            raise FileError(option, "two outputs go to standard output", "name a file for one")
        self.stream = Path(STREAM + form.text)
        self._forms[self.stream] = form
        return self.stream

    def allow(self, path: Path) -> None:
        """Note that a person has agreed to replace what is at a path."""
        self._allowed.add(path)

    def put(self, path: PLACE, data: bytes) -> None:
        """Keep the content of an output until all are there; further pages may come unplanned."""
        self._contents[Path(path)] = data

    def write(self) -> tuple[Path, ...]:
        """Look at every place once more, then write; return what was written.

        Raises
        ------
        FileError
            Before anything is written when an output would replace what it must not; later when
            the disk fails, and then it says what is written already.
        """
        if self.stream is not None:
            pages = [path for path in self._contents if path.name.startswith(STREAM)]
            if len(pages) > 1:
                raise FileError(STREAM, f"there are {len(pages)} pages", "name a file instead")
        for path, data in self._contents.items():
            if path not in self._forms:
                self._check_place(path)
            if not self.force and path not in self._allowed and path != self.stream:
                self._refuse_strange(path, self._form(path), data)
        done: list[Path] = []
        for path, data in self._contents.items():
            if path == self.stream:
                sys.stdout.buffer.write(data.removeprefix(BOM_UTF8))  # a pipe knows its code
                sys.stdout.buffer.flush()
                continue
            try:
                write_bytes(path, data)
            except FileError as error:
                if not done:
                    raise
                names = ", ".join(map(str, done))
                raise FileError(error.place, f"{error.problem}; written already: {names}",
                                error.remedy) from None
            done.append(path)
        return tuple(done)

    def _form(self, path: Path) -> Form:
        """Return what a path was planned as; a further page is what its first page is."""
        if path in self._forms:
            return self._forms[path]
        suffix = path.suffix.lower()
        return next(form for form in reversed(self._forms.values()) if suffix in form.suffixes)

    def _named(self, option: str, name: str, form: Form) -> Path:
        if not name or name == "-":
            problem = ("'-' is no file, and this output is no text that goes to standard output"
                       if name else "is empty")
            raise FileError(option, problem, f"name a file that ends with {form.suffixes[0]}")
        lower = os.path.basename(name).lower()
        if not any(lower.endswith(end) and lower != end for end in form.suffixes):
            raise FileError(name, f"is no name for {form.what}",
                            f"end it with {' or '.join(form.suffixes)}")
        return Path(name)

    def _check_place(self, path: Path) -> None:
        place = str(path)
        refuse_special(path, place)
        folder = Path(os.path.realpath(path)).parent
        if not folder.is_dir():
            raise FileError(place, "the folder does not exist", "choose another folder")
        if not os.access(folder, os.W_OK):
            raise FileError(place, "the folder is read-only", "choose another folder")
        if not may_be_written(path):
            raise FileError(place, "the file is read-only", "choose another name")
        if any(same_file(path, other) for other in self._forms):
            raise FileError(place, "two outputs have this name", "give each a name of its own")
        if any(same_file(path, source) for source in self.sources):
            raise FileError(place, "is the file that is worked from", "choose another name")

    def _refuse_strange(self, path: Path, form: Form, data: bytes | None = None) -> None:
        problem = strange(path, form, data)
        if problem:
            raise FileError(str(path), problem, self.remedy)


def strange(path: Path, form: Form, data: bytes | None = None) -> str:
    """Return why an output should not replace what is at a path unasked; empty when it may.

    What is there may be the very content that would be written, which is no loss.
    """
    if not path.exists() or not path.stat().st_size:
        return ""
    try:
        there = read_bytes(path, MOST_BYTES)
    except FileError:
        return "is there and cannot be read"
    if there == data or form.own(there.replace(b"\r\n", b"\n")):
        return ""
    if _is_part(there):
        return "is a part"
    if form is PART:
        return "is there already"
    if form in (RECORD, FILLED_RECORD) and _is_record(there):
        return "is a record with measured values in it"
    return f"is there and is not {form.what} of this program"


def made_folder(option: str, name: PLACE, parents: bool = False) -> Path:
    """Make a folder for outputs where there is none, and return its path.

    Parameters
    ----------
    option : str
        Where another one is named.
    name : path-like
    parents : bool
        Make those above it too.

    Raises
    ------
    FileError
        When it cannot be made, or has no name.
    """
    if not str(name):
        raise FileError(option, "is empty", "name a folder")
    place = Path(name)
    try:
        place.mkdir(parents=parents, exist_ok=True)
    except (OSError, ValueError) as error:
        raise FileError(str(place), said(error), f"name a folder with {option}") from None
    return place


def same_file(one: PLACE, two: PLACE) -> bool:
    """Tell whether two paths name one file, links and relative paths followed."""
    if os.path.realpath(one) == os.path.realpath(two):
        return True
    try:
        return os.path.samefile(one, two)
    except OSError:
        return False


def _is_part(data: bytes) -> bool:
    return b'"part-profile"' in data[:4096] and b'"format"' in data[:4096]


def record_with(measured: PLACE | None, record: PLACE | None) -> Form:
    """Return what a record may replace: one with measured values only where it is given them."""
    carried = measured is not None and record is not None and same_file(measured, record)
    return FILLED_RECORD if carried else RECORD


__all__ = ["CUTTING", "DRAWING", "FILLED_RECORD", "MADE_HERE", "PART", "PICTURE", "RECORD",
           "REPORT", "TEMPLATE", "TEMPLATE_MADE_HERE", "Form", "Outputs", "has_titles",
           "made_folder", "record_with", "same_file", "strange"]
