"""The running program without a window: part, history, selection, picking, tools, actions.

`Bench.do(name, edit)` applies an edit, solves, pushes the step on the history, sends one `Change`
to its listeners and returns what became of it. Each room says itself what it is for; its files may
import only from the rooms before it (`tests/rules/test_imports.py` has the order).

Long work is a `job.Job`: a function of a module and the values that it is called with, never the
board. ``worker.finish(job)`` returns what it makes, ``worker.start(job, done, failed)`` goes on at
once, and `done` drops what is out of date. A listener never waits: it starts. Nobody waits inside
a painting (``worker.standing()``): what is not known then is shown when it is.
"""
