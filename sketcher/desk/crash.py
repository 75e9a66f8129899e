"""What happens when something breaks: told once, written down, nothing lost."""

from __future__ import annotations

import faulthandler
import sys
import threading
import traceback
from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import IO, Any

from sketcher.errors import SketcherError


class Watch:
    """Writes crashes into a file, and unexpected errors too; tells the person through `tell`.

    Parameters
    ----------
    folder : Path
        Where the file lives; made when missing.
    """

    def __init__(self, folder: Path) -> None:
        self.path = folder / "crash.txt"
        self.tell: Callable[[str, str], None] | None = None
        self.rescue: Callable[[], None] | None = None
        self._file: IO[str] | None = None
        self._telling = False

    def start(self) -> str:
        """Begin to watch; return what the last run wrote when it broke, else an empty text."""
        self.path.parent.mkdir(parents=True, exist_ok=True)
        before = self.path.read_text("utf-8", "replace") if self.path.exists() else ""
        self._file = self.path.open("w", encoding="utf-8")
        faulthandler.enable(self._file)
        sys.excepthook = self.caught
        threading.excepthook = self._caught_in_thread
        return before

    def stop(self) -> None:
        """End the watch after a run that went well: the file goes."""
        sys.excepthook = sys.__excepthook__
        threading.excepthook = threading.__excepthook__
        if self._file is not None:
            faulthandler.disable()
            self._file.close()
            self._file = None
            self.path.unlink(missing_ok=True)

    def caught(
        self, kind: type[BaseException], error: BaseException, trace: TracebackType | None
    ) -> None:
        """Write an error down, rescue the work, tell it once."""
        if issubclass(kind, KeyboardInterrupt):
            sys.__excepthook__(kind, error, trace)
            return
        text = "".join(traceback.format_exception(kind, error, trace))
        if self._file is not None:
            self._file.write(text)
            self._file.flush()
        else:
            sys.stderr.write(text)
        if self._telling:
            return
        self._telling = True
        try:
            if self.rescue is not None and not isinstance(error, SketcherError):
                self.rescue()
            if self.tell is not None:
                self.tell(*wording(error))
        finally:
            self._telling = False

    def _caught_in_thread(self, what: Any) -> None:
        self.caught(what.exc_type, what.exc_value, what.exc_traceback)


def wording(error: BaseException) -> tuple[str, str]:
    """Return severity and the sentence that a person reads about an error."""
    if isinstance(error, SketcherError):
        return "error", str(error)
    if isinstance(error, OSError):
        return "error", f"{error.filename or 'file'}: {error.strerror or error}"
    return "error", (
        f"Something went wrong inside the program ({type(error).__name__}: {error}). "
        "Your part is untouched; save it under another name if this comes back."
    )
