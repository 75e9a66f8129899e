"""Hand-ins of a class measured against a key, and variants of a problem for a class.

The way of a hand-in: `hand_in.py` (what a file holds), `layer_roles.py` (what is outline, what a
center line), `comparison.py` (laid on the key, explained by `explain.py`), `rules/` (what costs
points, one rule a file), `marks.py` (points by a rubric), `class_run.py` (a folder of files), then
tables and marked sheets. It reads the board and the desk from nowhere, and repairs nothing that it
does not tell.
"""
