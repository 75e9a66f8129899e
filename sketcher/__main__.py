"""Run the program with ``python -m sketcher``."""

import sys

from sketcher.cli import main

if __name__ == "__main__":
    sys.exit(main())
