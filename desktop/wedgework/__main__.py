"""`python -m wedgework`."""

from __future__ import annotations

import sys

from wedgework.cli import main

if __name__ == "__main__":
    sys.exit(main())
