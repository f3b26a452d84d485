"""``python -m hingeline_app`` and the installed command: the command line, or what it lacks."""

from __future__ import annotations

import os
import sys

# Our matrices have a handful of rows: a second thread of linear algebra only turns round and takes a core from others.
ONE_THREAD = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")


def run() -> int:
    """Start the command line; where its packages are not installed, say what installs them."""
    for name in ONE_THREAD:
        os.environ.setdefault(name, "1")
    try:
        from hingeline_app.cli.main import main
    except ModuleNotFoundError as missing:
        if missing.name is None or missing.name.startswith("hingeline"):
            raise
        print(
            f'hingeline: the package "{missing.name}" is not installed. '
            'Install the command line with all that it needs: pip install "hingeline[app]"',
            file=sys.stderr,
        )
        return 2
    return main()


if __name__ == "__main__":
    sys.exit(run())
