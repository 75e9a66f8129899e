"""The program under watch: ``python -m tests.proof.watched NOTES [words of the command]``.

Nothing in the program knows of it. While the event loop runs, a timer of it beats; a beat that
comes late is noted with what the main thread was doing. The part on the board is noted whenever it
is another one. Python's own writes outside the home folder are refused.
"""

from __future__ import annotations

import errno
import json
import os
import sys
import threading
import time
import traceback
from pathlib import Path
from typing import Any

BEAT = 0.05
LATE = 0.3
WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND
PLACES = {"os.rename": (0, 1), "os.remove": (0,), "os.rmdir": (0,), "os.mkdir": (0,),
          "os.link": (1,), "os.symlink": (1,), "os.chmod": (0,), "os.truncate": (0,)}


class Fence:
    """Refuses to write anywhere but below the home folder."""

    def __init__(self, notes: Path) -> None:
        self.home = os.path.realpath(os.environ["HOME"])
        self.log = os.open(notes / "outside.txt", os.O_WRONLY | os.O_CREAT | os.O_APPEND)
        sys.addaudithook(self.audit)

    def audit(self, event: str, words: tuple[Any, ...]) -> None:
        if event == "open" and words[2] & WRITES:
            self.check(words[0])
        for index in PLACES.get(event, ()):
            self.check(words[index])

    def check(self, path: Any) -> None:
        if not isinstance(path, str | bytes | os.PathLike):
            return
        real = os.path.realpath(os.fsdecode(path))
        if not real.startswith((self.home + os.sep, "/dev/null", "/proc/self/")):
            os.write(self.log, f"{real}\n".encode())
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), real)


class Beat:
    """A timer in the event loop, and a thread that looks what it is when the timer is late."""

    def __init__(self, notes: Path) -> None:
        self.notes = notes
        self.main = threading.get_ident()
        self.stat = Path(f"/proc/self/task/{threading.get_native_id()}/schedstat")
        self.late = (notes / "late.jsonl").open("a", buffering=1)
        self.last, self.waited = time.monotonic(), self.starved()
        self.stack = ""
        self.board: Any = None
        self.part: Any = None
        self.changed: bool | None = None
        threading.Thread(target=self.look, daemon=True).start()

    def starved(self) -> float:
        """Seconds that the main thread was ready and had no processor (Linux sched-stats)."""
        try:
            return int(self.stat.read_text().split()[1]) / 1e9
        except (OSError, IndexError):
            return 0.0

    def tick(self) -> None:
        now, waited = time.monotonic(), self.starved()
        gap = now - self.last - (waited - self.waited)
        if gap > LATE:
            self.late.write(json.dumps({"gap": gap, "stack": self.stack}) + "\n")
        self.last, self.waited, self.stack = now, waited, ""
        self.note_part()

    def look(self) -> None:
        """Note where the main thread is once it is late."""
        while True:
            time.sleep(0.1)
            if time.monotonic() - self.last > 0.8 and not self.stack:
                calls = traceback.extract_stack(sys._current_frames().get(self.main))
                self.stack = " < ".join(f"{Path(call.filename).name}:{call.lineno} {call.name}"
                                        for call in reversed(calls[-14:]))

    def note_part(self) -> None:
        """Write down the part on the board when it is another one."""
        if self.board is None:
            from PySide6.QtWidgets import QApplication

            windows = [w for w in QApplication.allWidgets() if type(w).__name__ == "MainWindow"]
            if not windows:
                return
            self.board = windows[0].board
        if self.board.part is self.part and self.board.bench.is_changed == self.changed:
            return
        from sketcher.part.file_text import write

        self.part, self.changed = self.board.part, self.board.bench.is_changed
        note = {"changed": self.changed, "text": write(self.part)}
        (self.notes / "part.new").write_text(json.dumps(note), encoding="utf-8")
        (self.notes / "part.new").replace(self.notes / "part.json")


def main(notes: Path, words: list[str]) -> int:
    """Run the command with its event loop under watch."""
    from PySide6.QtCore import QTimer
    from PySide6.QtWidgets import QApplication

    from sketcher.cli import main as command

    Fence(notes)
    loop = QApplication.exec

    def watched_loop(*_: object) -> int:
        beat = Beat(notes)
        timer = QTimer()
        timer.timeout.connect(beat.tick)
        timer.start(int(1000 * BEAT))
        return loop()

    QApplication.exec = watched_loop
    return command(words)


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), sys.argv[2:]))
