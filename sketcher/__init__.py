"""Part-profile sketcher: exact profiles of flat plate parts, solved, inspected and delivered."""

import os

__version__ = "0.1.0"

# The matrices of a part are small. Threads in the linear algebra only wait for each other there:
# on a busy machine four times as long as the work itself takes. numpy reads this when it is loaded.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
