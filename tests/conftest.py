"""Set-up that every test shares."""

from __future__ import annotations

import os

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("PYTEST_QT_API", "pyside6")
os.environ.setdefault("LC_ALL", "C.UTF-8")
os.environ["TZ"] = "UTC"
# As the program does, here before a test brings numpy in ahead of it.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from hypothesis import settings

if settings.get_current_profile_name() == "default":
    # a limit by the clock fails where the machine pauses; times are the matter of tests/bench
    settings.register_profile("unhurried", deadline=None)
    settings.load_profile("unhurried")
