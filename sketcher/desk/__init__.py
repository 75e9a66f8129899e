"""The Qt program on top of the board.

Nothing here knows geometry or changes a part: that is the board's. What would keep the window away
from its events for long goes elsewhere: a job is tried for 50 ms of the thread's own time and then
done by another process (`worker`, `process`), which is ended where it asks `interrupt.check` too
seldom; very much to paint goes into a `sliced_picture`, and until that is done the last one of the
same stands in its place; packing, sending and unpacking large values are events of their own,
without a look for garbage (`heap`). ``pytest tests/bench/test_latency.py -s`` prints the longest
time away from events, step by step, on parts of up to 9,720 holes and 888 dimensions.
"""

import builtins

PLAIN_IMPORT = builtins.__import__
"""The import function as it is before PySide6 puts its own in its place (see `plain_imports`)."""
