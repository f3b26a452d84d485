"""``python -m hingeline_app`` and the installed command: the command line, or what it lacks."""

from __future__ import annotations

import sys


def run() -> int:
    """Start the command line; where its packages are not installed, say what installs them."""
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
