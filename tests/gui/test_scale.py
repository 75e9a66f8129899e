"""The main layout on a screen of 200 % scale, in a process of its own: it is set at start."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
RATIO = "from PySide6.QtGui import QGuiApplication as A; a = A([]); print(a.devicePixelRatio())"


def doubled(*args: str) -> subprocess.CompletedProcess[str]:
    env = {**os.environ, "QT_SCALE_FACTOR": "2", "QT_QPA_PLATFORM": "offscreen"}
    return subprocess.run([sys.executable, *args], cwd=ROOT, env=env, capture_output=True,
                          text=True, timeout=120, check=False)


def test_everything_fits_at_twice_the_scale() -> None:
    assert doubled("-c", RATIO).stdout.strip() == "2.0"
    done = doubled("-m", "pytest", "-q", "--assert=plain", "-p", "no:xdist", "-p",
                   "no:cacheprovider", "tests/gui/test_window.py", "-k", "everything_fits")
    assert done.returncode == 0, done.stdout[-2000:]
    assert "2 passed" in done.stdout or "4 passed" in done.stdout, done.stdout[-500:]
