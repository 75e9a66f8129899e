"""Half an hour of random mouse and keys in the real window, killed in the middle.

The program runs under an X server of its own and is driven by the server's pointer and keys. No
traceback may reach the crash file or stderr, the event loop may not stand for over a second, memory
may not grow after the first five minutes, in which what is loaded when it is first needed is made
to be needed: the solver's library for large parts, the sheet, its writers. Killed with SIGKILL, it
leaves a copy that is the last part seen on the board, and the next start takes it up.
"""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path
from statistics import median

from sketcher.board.action_table import all_actions
from sketcher.part.edits.draft import Draft
from sketcher.part.store import save
from sketcher.part.value import Binding, Part
from tests.bench.gaps import plate_of_drawn_holes
from tests.proof import paper, screen
from tests.proof.proof import Proof
from tests.proof.tally import Case

ROOT = Path(__file__).resolve().parents[3]
LONG = 30.0 * 60.0
FREEZE = 1.0
QUIET = 3.5
"""Seconds after which the last edit must be in the recovery copy: two of rest and some."""
LARGE, CURVES = "large.profile.json", 100
"""A part for which the libraries of large systems are loaded, and how many curves it has."""
SHORT = 300.0
"""Seconds below which a session is too short for its memory to be judged."""
GROWTH = 1.15, 30.0
"""Memory may grow by this factor or these MiB, whichever is more: caches fill, parts differ."""


def tool_keys() -> list[str]:
    """The keys of the tools as X names them."""
    found = [action.keys[0] for name, action in all_actions().items()
             if name.startswith("tool.") and action.keys]
    return [key.replace("Shift+", "shift+") if "+" in key else key.lower() for key in found]


class Session:
    """The program in a home of its own, started again where it ends."""

    def __init__(self, case: Case, display: str) -> None:
        self.case, self.display = case, display
        self.home = case.folder / "home"
        self.notes = self.home / "notes"
        self.data = self.home / "data"
        for folder in (self.home, self.notes, self.data):
            folder.mkdir()
        for demo in sorted(paper.DEMOS.glob("*.profile.json")):
            shutil.copy(demo, self.home / demo.name)
        save(large_part(), self.home / LARGE)
        self.hands = screen.Hands(display, case.random, tool_keys())
        self.saved = 0
        self.memory: list[tuple[float, float]] = []

    def start(self) -> None:
        """Start the program and wait for its window."""
        with (self.home / "stderr.txt").open("a") as said:
            kept = {name: value for name, value in os.environ.items()
                    if not name.startswith(("XDG_", "QT_", "DBUS"))}
            self.process = subprocess.Popen(
                [sys.executable, "-m", "tests.proof.watched", str(self.notes)],
                stdin=subprocess.DEVNULL, stdout=said, stderr=said, cwd=self.home,
                env={**kept, "PYTHONPATH": os.pathsep.join(
                        [str(ROOT), *filter(None, [kept.get("PYTHONPATH")])]),
                     "HOME": str(self.home), "SKETCHER_DATA": str(self.data),
                     "DISPLAY": self.display, "QT_QPA_PLATFORM": "xcb",
                     "PYTHONDONTWRITEBYTECODE": "1", "XDG_RUNTIME_DIR": str(self.home)})
        # What was kept is offered before the event loop of the window runs.
        if not screen.wait(60.0, lambda: self.windows("Part profile sketcher")
                           or self.windows("Unsaved work was kept")):
            self.case.tally.fault("died", "no window within a minute")
        self.case.tally.count("starts")

    def windows(self, title: str) -> list[str]:
        """Visible windows of the program whose title holds these words."""
        return screen.xdotool(self.display, "search", "--all", "--onlyvisible", "--pid",
                              self.process.pid, "--name", title).split()

    def need_everything(self) -> None:
        """Solve and change a large part, look at its drawing, write its sheet and its cut."""
        hands = self.hands
        hands.do("key", "ctrl+o", "sleep", 1.0, "type", "--delay", 5, LARGE)
        hands.do("key", "Return", "sleep", 5.0, "key", "ctrl+d", "sleep", 5.0, "key", "Escape")
        for key, name in (("ctrl+shift+e", "sheet.pdf"), ("ctrl+e", "cut.dxf")):
            # The first form that is offered, then the name.
            hands.do("key", key, "sleep", 1.5, "key", "Return", "sleep", 1.5)
            hands.do("key", "ctrl+a", "type", "--delay", 5, name)
            hands.do("key", "Return")
            if not screen.wait(60.0, (self.home / name).exists):
                self.case.tally.fault("lost", f"no {name} was written")
            hands.do("key", "Escape")

    def drive(self, seconds: float) -> None:
        """Random hands for so long."""
        end = time.monotonic() + seconds
        rounds, sampled = 0, 0.0
        while time.monotonic() < end:
            if self.process.poll() is not None:
                self.ended()
                self.start()
                self.hands.do("key", "Escape")
            rounds += 1
            self.hands.some()
            if rounds % 12 == 0:  # dialogs are left, so that the sheet gets most of it
                self.hands.do("key", "Escape", "key", "Escape", "key", "Escape")
            if rounds % 90 == 1:
                self.another_part()
            if time.monotonic() - sampled > 2.0:
                sampled = time.monotonic()
                self.sample()

    def another_part(self) -> None:
        """Save what there is and begin or open another part, as a person would."""
        hands, random = self.hands, self.case.random
        hands.do("key", "Escape", "key", "Escape", "key", "Escape", "key", "ctrl+s", "sleep", 0.5)
        if self.windows("Save the part"):
            self.saved += 1
            hands.do("key", "ctrl+a", "type", "--delay", 5, f"part{self.saved}")
            hands.do("key", "Return", "sleep", 0.3, "key", "Return")
        if random.random() < 0.6:
            hands.do("key", "ctrl+o", "sleep", 0.6)
            if self.windows("Open"):
                name = random.choice(sorted(self.home.glob("*.profile.json"))).name
                hands.do("type", "--delay", 5, name)
                hands.do("key", "Return", "sleep", 0.3)
        else:
            hands.do("key", "ctrl+n", "sleep", 0.3)
        hands.do("key", "Escape")

    def sample(self) -> None:
        """Note how much memory the program and its helpers have in use, in MiB."""
        pages = 0
        for pid in self.processes():
            with contextlib.suppress(OSError, IndexError):
                pages += int(Path(f"/proc/{pid}/statm").read_text().split()[1])
        self.memory.append((time.monotonic(), pages * os.sysconf("SC_PAGE_SIZE") / 2**20))

    def processes(self) -> list[int]:
        """Every process that lives in this home: the program and what it started."""
        mark = f"HOME={self.home}\0".encode()
        found = []
        for folder in Path("/proc").glob("[0-9]*"):
            with contextlib.suppress(OSError):
                if mark in (folder / "environ").read_bytes():
                    found.append(int(folder.name))
        return found

    def ended(self) -> None:
        """Judge an end that nobody forced."""
        status = self.process.returncode
        self.case.tally.count("ended by Quit")
        if status:
            self.case.tally.fault("died", f"exit status {status}; {self.told()}")

    def told(self) -> str:
        crash = self.data / "crash.txt"
        return (self.home / "stderr.txt").read_text(errors="replace")[-300:] + (
            crash.read_text(errors="replace")[-600:] if crash.exists() else "")

    def seen(self) -> dict:
        """The last part seen on the board."""
        return json.loads((self.notes / "part.json").read_text(encoding="utf-8"))

    def kill(self) -> str | None:
        """End it with SIGKILL once it is quiet; return the part that must not be lost."""
        self.hands.do("mouseup", 1, "key", "Escape", "key", "Escape", "key", "Escape")
        self.hands.do("key", "h", *self.hands.press()[:-1], 1, "mousemove_relative", 60, 25,
                      "click", 1, "sleep", 0.2)
        time.sleep(QUIET)
        note = self.seen()
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()
        self.case.tally.count("kills")
        if not screen.wait(5.0, lambda: not self.processes()):
            self.case.tally.fault("left running", f"{len(self.processes())} processes")
        self.look_at_crashes()
        if not note["changed"]:
            return None
        copies = sorted((self.data / "recovery").glob("*.profile.json"),
                        key=lambda path: path.stat().st_mtime)
        if not copies or copies[-1].read_text(encoding="utf-8") != note["text"]:
            self.case.tally.fault("lost", f"{len(copies)} copies, the newest is not the last part")
        return note["text"]

    def recover(self, wanted: str | None) -> None:
        """Start again and take up what was kept."""
        (self.notes / "part.json").unlink()
        self.start()
        if wanted is None:
            return
        if not screen.wait(20.0, lambda: self.windows("Unsaved work was kept")):
            self.case.tally.fault("lost", "no copy was offered")
            return
        self.hands.do("sleep", 0.3, "key", "alt+g")
        if not screen.wait(20.0, lambda: (self.notes / "part.json").exists()
                           and self.seen()["text"] == wanted):
            self.case.tally.fault("lost", "what came back is not the last part")
        self.case.tally.count("parts recovered")

    def look_at_crashes(self) -> None:
        """A crash file with something in it is a fault; one for each last line of a traceback."""
        for name in ("crash.txt", "crash-before.txt"):
            crash = self.data / name
            text = crash.read_text(errors="replace") if crash.exists() else ""
            if text:
                for block in text.split("Traceback (most recent call last):")[1:] or [text]:
                    self.case.tally.fault("traceback", " | ".join(block.splitlines()[-7:]))
                crash.unlink()

    def finish(self) -> None:
        """End it and count what was noted."""
        if self.process.poll() is None:
            self.process.kill()
            self.process.wait()
        for pid in self.processes():
            with contextlib.suppress(OSError):
                os.kill(pid, signal.SIGKILL)
        tally = self.case.tally
        self.look_at_crashes()
        said = (self.home / "stderr.txt").read_text(errors="replace").strip()
        if said:
            tally.fault("stderr", said[-400:])
        noted = self.notes / "late.jsonl"
        for line in noted.read_text().splitlines() if noted.exists() else ():
            late = json.loads(line)
            tally.worst("stand of the event loop, s", late["gap"])
            if late["gap"] > FREEZE:
                tally.fault("freeze", f"{late['gap']:.1f} s: {late['stack']}")
        tally.count("events", self.hands.events)
        refused = self.notes / "outside.txt"
        if refused.exists() and refused.read_text():
            tally.count("writes outside refused", len(refused.read_text().splitlines()))


def large_part() -> Part:
    """A plate of many holes, each with its own dimensions, and nothing left to move."""
    draft = Draft(plate_of_drawn_holes(CURVES))
    low, right, high, left, hole, *_ = draft.done().curves.items()
    corner = low[1].points[0]
    for kind, curve in (("level", low), ("plumb", right), ("level", high), ("plumb", left)):
        draft.binding(Binding(kind, (curve[0],)))
    draft.binding(Binding("fixed", (corner,)))
    for kind in ("run", "rise"):
        draft.binding(Binding(kind, (corner, hole[1].points[0]), "10"))
    return draft.done()


def flat(case: Case, memory: list[tuple[float, float]], warm: float) -> None:
    """Judge the memory of the first process from the end of its warm-up on."""
    after = [amount for at, amount in memory if at - memory[0][0] > warm]
    if len(after) < 20:
        return
    fifth = len(after) // 5
    first, last = median(after[:fifth]), median(after[-fifth:])
    case.tally.worst("memory at first, MiB", first)
    case.tally.worst("memory at last, MiB", last)
    if last > max(GROWTH[0] * first, first + GROWTH[1]):
        case.tally.fault("memory", f"{first:.0f} MiB grew to {last:.0f} MiB")


def one_session(case: Case) -> None:
    """A session: five sixths of the time, a kill, recovery, the rest."""
    seconds = LONG * case.scale
    with screen.x_server(case.folder) as display:
        session = Session(case, display)
        session.start()
        try:
            if seconds > SHORT:
                session.need_everything()
            session.drive(seconds * 5.0 / 6.0)
            flat(case, session.memory, seconds / 6.0)
            session.recover(session.kill())
            session.drive(seconds / 6.0)
        finally:
            session.finish()
            case.tally.count("minutes", round(seconds / 60.0))


PROOF = Proof(
    "window", "half an hour of random mouse and keys in the window, killed in the middle",
    "events", ("traceback", "stderr", "freeze", "memory", "died", "lost", "left running"),
    whole=1, short=1, case=one_session, limit=LONG + 600.0, short_scale=18.0 / LONG, alone=True,
    ready=screen.lacking,
)
