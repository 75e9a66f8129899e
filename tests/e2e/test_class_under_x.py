"""A class from the empty page to its report, with the X server's own pointer and keys.

Needs an X server with a window manager that nobody else uses: `.ci/under-x` gives one.
"""

from __future__ import annotations

import time
from collections import Counter
from pathlib import Path

from sketcher.marking.marking_file import load_marking
from tests.e2e.test_under_x import SMALL, Running, pytestmark, running, until, xdotool
from tests.marked_class import CHOSEN, class_on_disk
from tests.read_back import rows

__all__ = ["pytestmark", "running"]
TITLE = "Mark a class"
SECOND_ROW = (125, 112)
"""Pixels of the second student's points in the table of marks, from the page's corner."""
MINUTES = 8  # tries of 15 s


def typed(running: Running, title: str, path: Path) -> None:
    """Type a path into a dialog and have it gone."""
    until(f"the dialog {title}", lambda: running.find(title))
    time.sleep(0.5)
    xdotool("type", "--delay", 10, path)
    running.press("Return")
    until(f"{title} away", lambda: running.find(title) is None)


def test_a_class_is_marked_ruled_upon_and_exported(running: Running, tmp_path: Path) -> None:
    home = class_on_disk(tmp_path / "7b")
    out, kept = tmp_path / "out", tmp_path / "7b.marking.json"
    out.mkdir()
    running.resize(SMALL)
    running.new_part()
    running.press("ctrl+shift+m")
    page = until("the page", lambda: running.find(TITLE))
    xdotool("windowactivate", "--sync", page)
    for key, path in (("alt+k", home / "key.profile.json"), ("alt+h", home / "hand-ins"),
                      ("alt+t", home / "roster.csv")):
        running.press(key)
        xdotool("type", "--delay", 10, path)
        running.press("Return")
    running.press("alt+m")

    def marked() -> bool:  # what is exported is there when the class is marked
        running.press("alt+x")
        time.sleep(0.5)
        return running.find("Export the results") is not None

    for left in range(MINUTES, -1, -1):
        try:
            until("the class marked", marked)
            break
        except AssertionError:
            if not left:
                raise
    running.press("Escape")
    until("the dialog away", lambda: running.find("Export the results") is None)

    # The second student's gap is waived with a comment.
    xdotool("windowactivate", "--sync", page)
    xdotool("mousemove", "--sync", "--window", page, *SECOND_ROW, "click", 1)
    time.sleep(0.3)
    running.press("w", "c")
    xdotool("type", "--delay", 10, "agreed in class")
    running.press("Return", "ctrl+s")
    typed(running, "Save the marking", kept)
    until("the marking saved", kept.exists)
    said = load_marking(kept).rulings
    assert list(said) == ["04-strap.dxf"]
    assert [(each.verdict, each.comment) for each in said["04-strap.dxf"]] == [
        ("waived", "agreed in class")]

    xdotool("windowactivate", "--sync", page)
    running.press("alt+x")
    typed(running, "Export the results", out)
    until("the report", (out / "class.pdf").exists)
    # one for each hand-in, that of the torn file too
    until("the sheets", lambda: len(list(out.glob("*.marked.pdf"))) == len(CHOSEN))
    points = {row["number"]: row["points"] for row in rows(out / "marks.csv")}
    lost: Counter[str] = Counter()
    for row in rows(out / "deductions.csv"):
        lost[row["file"]] += float(row["points"])
    assert float(points["02"]) == 100.0 - lost["02-strap.dxf"] <= 96.0
    assert float(points["04"]) == 100.0 - lost["04-strap.dxf"] == 100.0
    assert float(points["09"]) <= float(points["04"]) - 5.0  # its copy has the same gap
    assert points["12"] == ""

    xdotool("windowactivate", "--sync", page)
    running.press("Escape", "Escape")  # out of the field, then of the page: all of it is saved
    until("the page away", lambda: running.find(TITLE) is None)
