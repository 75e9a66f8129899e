"""Killed while it saves, a program leaves the old part or the new one and nothing else.

A child saves one version after the other and says so after each; it is killed with SIGKILL at a
random moment. The file, as the program reads it, must then be the last version that was said to be
saved or the one behind it, byte for byte, and what the child left lying must be gone after the next
save. A fourth of the cases save recovery copies, a fourth a file with two names (hard links).
"""

from __future__ import annotations

import contextlib
import os
import signal
import time
from dataclasses import replace
from pathlib import Path

from sketcher.errors import SketcherError
from sketcher.part import file_text as text
from sketcher.part.atomic import read_bytes
from sketcher.part.autosave import RecoveryFolder
from sketcher.part.store import load, save
from sketcher.part.value import Part, frozen
from tests.demo_parts import SOUND as DEMOS
from tests.proof.proof import Proof
from tests.proof.tally import Case

KEY, SECOND = "kept", "second name"


def version(part: Part, number: int) -> Part:
    """The part with a number on it; versions differ in length too."""
    points = {**part.points, **{f"v{k}": (float(number), float(k)) for k in range(number % 40)}}
    return replace(part, name=f"{part.name} {number}", points=frozen(points))


def write(part: Part, path: Path, recovery: bool) -> None:
    """Save as the command does, or keep a recovery copy as the window does."""
    if recovery:
        RecoveryFolder(path.parent).keep(KEY, part, path)
    else:
        save(part, path)


def saves_until_killed(part: Part, path: Path, recovery: bool, said: int) -> None:
    """Save version 1, 2, 3 ... and say each number once it is saved."""
    number = 0
    while True:
        number += 1
        write(version(part, number), path, recovery)
        os.write(said, b"%d\n" % number)


def one_kill(case: Case) -> None:
    random = case.random
    part = load(random.choice(DEMOS))
    recovery = case.number % 4 == 0
    path = case.folder / (f"{KEY}.profile.json" if recovery else "part.profile.json")
    write(version(part, 0), path, recovery)
    if case.number % 4 == 1:  # a file with two names is written into and not replaced
        os.link(path, path.with_name(SECOND))
    hear, say = os.pipe()
    child = os.fork()
    if not child:
        # Nothing of the parent's may run here, whatever happens.
        with contextlib.suppress(BaseException):
            saves_until_killed(part, path, recovery, say)
        os._exit(1)
    os.close(say)
    os.read(hear, 1)  # the child is in its rounds
    time.sleep(random.uniform(0.0, 0.03))
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    with os.fdopen(hear, "rb") as rest:
        numbers = rest.read().split()
    case.tally.count("kills")
    if os.WIFEXITED(status):
        case.tally.fault("lost", f"case {case.number}: the child could not save")
        return
    # The first digit of number 1 was read above.
    last = int(numbers[-1]) if numbers else 1
    judge(case, part, path, last, recovery)


def judge(case: Case, part: Part, path: Path, last: int, recovery: bool) -> None:
    """Compare the file with the versions that it may be; then save again and look around."""
    after = sorted(at.name for at in path.parent.iterdir())
    try:
        found = read_bytes(path, text.MAX_BYTES)
    except SketcherError:
        found = b""
    allowed = [text.write(version(part, n)).encode() for n in (last, last + 1)]
    if found not in allowed:
        case.tally.fault("lost", f"case {case.number}: neither version {last} nor {last + 1}: "
                                 f"{len(found)} bytes")
    if recovery:
        try:
            (kept,) = RecoveryFolder(path.parent).all()
            kept.part()
        except (ValueError, SketcherError) as error:
            case.tally.fault("lost", f"case {case.number}: recovery: {error}")
    linked = SECOND in after
    if len(after) > 1 + recovery + linked:
        case.tally.count("killed with a temporary file open")
    write(version(part, last + 2), path, recovery)
    there = {at.name for at in path.parent.iterdir()}
    if linked and not path.samefile(path.with_name(SECOND)):
        case.tally.fault("lost", f"case {case.number}: the second name")
    left = sorted(there - {path.name, f"{KEY}.note.json", SECOND})
    if left:
        case.tally.fault("left over", f"case {case.number}: {', '.join(left)}")


PROOF = Proof(
    "saving", "killed while it saves: the old part or the new one, nothing left over", "kills",
    ("lost", "left over"), whole=500, short=12, case=one_kill,
    ready=lambda: "" if hasattr(os, "fork") else "needs fork",
)
