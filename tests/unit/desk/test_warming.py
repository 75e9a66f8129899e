"""What the first desk does without is left for later, and everything left for later exists."""

from __future__ import annotations

import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

import pytest

from sketcher.desk.warming import MODULES

ROOT = Path(__file__).resolve().parents[3]
LATER = ("sketcher.drafting", "sketcher.exchange.pdf", "sketcher.inspect.inspection",
         "sketcher.inspect.sketched", "shapely", "ezdxf", "scipy", "numpy.ma")
EMPTY_DESK = """
import sys
from pathlib import Path
from PySide6.QtWidgets import QApplication
from sketcher.board.settings import Settings
from sketcher.desk.theme import dress, load_font
from sketcher.desk.window import MainWindow
app = QApplication([])
desk = MainWindow(Settings(), Path(sys.argv[1]), dress(app, "dye", load_font()))
desk.show()
desk.begin(None)
app.processEvents()
desk.grab()
print(*sys.modules)
import os; sys.stdout.flush(); os._exit(0)
"""


@pytest.mark.parametrize("name", MODULES)
def test_what_is_loaded_later_exists(name: str) -> None:
    assert find_spec(name) is not None


def test_an_empty_desk_loads_nothing_that_only_a_part_needs(tmp_path: Path) -> None:
    done = subprocess.run([sys.executable, "-c", EMPTY_DESK, str(tmp_path)], capture_output=True,
                          text=True, check=True, cwd=ROOT)
    loaded = set(done.stdout.split())
    assert "sketcher.desk.scene.scene_view" in loaded
    assert [name for name in LATER if name in loaded] == []
