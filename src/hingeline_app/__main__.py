"""``python -m hingeline_app``: the command line."""

from __future__ import annotations

import sys

from hingeline_app.cli.main import main

if __name__ == "__main__":
    sys.exit(main())
