"""A problem beside the student's own sheet: which dimensions of the paper hold in what is drawn.

`paper_key.py` (the key by its features, and the list that the paper gives), `attempt_poses.py` (how
an unfinished drawing lies beside it), `attempt.py` (each dimension measured on the student's own
curves), `hints.py` (the next step of the construction), `done_problems.py` (what was solved).
Works on parts alone: it knows no tool, no step of the bench, and repairs nothing.
"""
