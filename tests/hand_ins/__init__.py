"""Hand-ins drawn by plain trigonometry, with known mistakes: what marking is judged by.

Nothing here uses the solver or the whole part of the program: a paper (`papers/`) is a function
from its values to an outline, written by hand; `drawer.py` writes it as students do.

- ``python -m tests.hand_ins.series --seed A``: 500 hand-ins with one to three wrong values, with
  and without another fault; ``--only 37`` shows one of them again and keeps its file.
"""
