"""Modules are loaded without PySide6 reading their sources."""

import subprocess
import sys

LOADED = """
import builtins, inspect, sys
import sketcher.desk
from PySide6.QtCore import QObject
from sketcher.desk.plain_imports import plain_imports
read = []
def getsource(module, really=inspect.getsource):
    read.append(module.__name__)
    return really(module)
inspect.getsource = getsource
qts = builtins.__import__
with plain_imports():
    import sketcher.part.value
inside = list(read)
assert builtins.__import__ is qts
import sketcher.solve.solve_report
print(inside, [name for name in read if name.startswith("sketcher.solve")])
"""


def test_no_source_is_read_inside_and_all_is_as_before_outside() -> None:
    done = subprocess.run(
        [sys.executable, "-c", LOADED], capture_output=True, text=True, check=True)
    inside, outside = done.stdout.strip().split("] [")
    assert inside == "["
    # what it spares: should PySide6 give that up one day, so can we
    assert "'sketcher.solve.solve_report'" in outside


def test_an_error_inside_puts_the_function_back() -> None:
    import builtins

    from sketcher.desk.plain_imports import plain_imports

    before = builtins.__import__
    try:
        with plain_imports():
            raise ValueError("inside")
    except ValueError:
        pass
    assert builtins.__import__ is before
