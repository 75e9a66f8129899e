"""An X server of its own with a window manager, and random hands on what it shows."""

from __future__ import annotations

import os
import select
import shutil
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from random import Random

NEEDS = ("Xvfb", "xdotool", "openbox")
SIZE = (1366, 860)
MANAGER = """<?xml version="1.0"?>
<openbox_config xmlns="http://openbox.org/3.4/rc">
<focus><focusNew>yes</focusNew></focus><placement><policy>Smart</policy></placement>
<keyboard/><mouse>
<context name="Client"><mousebind button="Left" action="Press"><action name="Focus"/>
</mousebind></context></mouse>
<applications><application class="*" type="normal"><maximized>yes</maximized></application>
</applications></openbox_config>
"""
"""Nothing but focus and a full screen: no keys that close, no menus of its own."""


def lacking() -> str:
    """What this machine lacks for an X server, or nothing."""
    missing = [name for name in NEEDS if shutil.which(name) is None]
    return f"needs {', '.join(missing)}" if missing else ""


@contextmanager
def x_server(folder: Path) -> Iterator[str]:
    """The display of a fresh X server with openbox on it."""
    hear, say = os.pipe()
    with (folder / "x.txt").open("w") as log:
        server = subprocess.Popen(
            ["Xvfb", "-displayfd", str(say), "-screen", "0", f"{SIZE[0]}x{SIZE[1]}x24",
             "-nolisten", "tcp"], pass_fds=(say,), stdout=log, stderr=log)
        os.close(say)
        manager = None
        try:
            if not select.select([hear], [], [], 20.0)[0]:
                raise TimeoutError("the X server did not start")
            display = f":{int(os.read(hear, 20))}"
            (folder / "rc.xml").write_text(MANAGER, encoding="utf-8")
            manager = subprocess.Popen(
                ["openbox", "--config-file", str(folder / "rc.xml")], stdout=log, stderr=log,
                env={**os.environ, "DISPLAY": display, "HOME": str(folder)})
            yield display
        finally:
            os.close(hear)
            for process in (manager, server):
                if process is not None:
                    process.kill()
                    process.wait()


def xdotool(display: str, *words: object, patience: float = 30.0) -> str:
    """What xdotool prints for these words; a word that it cannot do is no error."""
    done = subprocess.run(["xdotool", *map(str, words)], capture_output=True, text=True,
                          timeout=patience, check=False, env={**os.environ, "DISPLAY": display})
    return done.stdout.strip()


def wait(seconds: float, look: object) -> bool:
    """Look again until it is true, or the time is over."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if look():
            return True
        time.sleep(0.1)
    return False


NAMED = {" ": "space", ".": "period", "+": "plus", "-": "minus", "*": "asterisk", ",": "comma",
         "(": "parenleft", ")": "parenright", "[": "bracketleft", "]": "bracketright",
         "=": "equal", "°": "degree", "'": "apostrophe", '"': "quotedbl", "?": "question"}
VALUES = ("10", "25.5", "1 5/8", "45", "2*12", "0", "-8", "300", "1e3", "abc", "12 mm", "90°",
          "(3", "7, 9, 12", "0.001")
LETTERS = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789 .+-*,()[]=?"
"""No slash and no tilde: what is typed into a file dialog stays in its folder."""
CHORDS = ("ctrl+z", "ctrl+y", "ctrl+shift+z", "ctrl+a", "ctrl+d", "ctrl+l", "ctrl+g", "ctrl+f",
          "ctrl+shift+i", "ctrl+i", "ctrl+e", "ctrl+shift+e", "ctrl+p", "ctrl+o", "ctrl+s",
          "ctrl+shift+s", "ctrl+n", "ctrl+c", "ctrl+v", "ctrl+x", "ctrl+w", "ctrl+comma",
          "F1", "F2", "F5", "F6",
          "F10", "Home", "End", "Delete", "BackSpace", "Return", "Return", "Tab", "shift+Tab",
          "Up", "Down", "Left", "Right", "Page_Up", "Page_Down", "space", "Escape", "Escape",
          "alt+f", "alt+e", "alt+v", "Menu")


class Hands:
    """Random mouse and keys; each call of `some` is a second or less of them."""

    def __init__(self, display: str, random: Random, tools: list[str]) -> None:
        self.display, self.random, self.tools = display, random, tools
        self.events = 0

    def at(self) -> tuple[int, int]:
        """A place: mostly on the sheet, now and then anywhere."""
        if self.random.random() < 0.15:
            return self.random.randrange(SIZE[0]), self.random.randrange(SIZE[1])
        return (int(SIZE[0] * self.random.uniform(0.28, 0.68)),
                int(SIZE[1] * self.random.uniform(0.1, 0.75)))

    def move(self) -> list[object]:
        return ["mousemove", *self.at()]

    def some(self) -> None:
        """Do a few random things."""
        words: list[object] = []
        for _ in range(self.random.randint(2, 5)):
            words += self.random.choices(self.WAYS, self.WEIGHTS)[0](self)
            words += ["sleep", round(self.random.choice((0.01, 0.03, 0.1)), 3)]
        self.do(*words)

    def do(self, *words: object) -> None:
        self.events += sum(word in ("mousemove", "key", "click", "mousedown") for word in words)
        xdotool(self.display, *words)

    def press(self) -> list[object]:
        return [*self.move(), "click", self.random.choice((1, 1, 1, 1, 1, 3))]

    def twice(self) -> list[object]:
        return [*self.move(), "click", "--repeat", 2, "--delay", 60, 1]

    def drag(self) -> list[object]:
        way = [word for _ in range(3) for word in (*self.move(), "sleep", 0.02)]
        return [*self.move(), "mousedown", 1, *way, "mouseup", 1]

    def wheel(self) -> list[object]:
        return [*self.move(), "click", "--repeat", self.random.randint(1, 4), "--delay", 15,
                self.random.choice((4, 5))]

    def draw(self) -> list[object]:
        """A tool in hand and a few presses, a value now and then."""
        words: list[object] = ["key", "Escape", "key", self.random.choice(self.tools)]
        for _ in range(self.random.randint(1, 4)):
            words += self.press() if self.random.random() < 0.75 else self.value()
        return words

    def chord(self) -> list[object]:
        return ["key", self.random.choice(CHORDS)]

    def letter(self) -> list[object]:
        letter = self.random.choice(LETTERS)
        return ["key", NAMED.get(letter, letter)]

    def value(self) -> list[object]:
        typed = [NAMED.get(letter, letter) for letter in self.random.choice(VALUES)]
        return ["key", "--delay", 8, *typed, self.random.choice(("Return", "Tab", "Return"))]

    def undo(self) -> list[object]:
        return ["key", "--delay", 20, *[self.random.choice(("ctrl+z", "ctrl+z", "ctrl+y"))
                                        for _ in range(self.random.randint(1, 5))]]

    def held(self) -> list[object]:
        key = self.random.choice(("shift", "ctrl", "alt"))
        return ["keydown", key, *self.press(), "keyup", key]

    WAYS = (move, press, twice, drag, wheel, draw, chord, letter, value, undo, held)
    WEIGHTS = (2, 6, 1, 3, 1, 8, 4, 2, 2, 2, 1)
