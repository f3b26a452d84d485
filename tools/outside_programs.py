"""Have the programs that the whole suite needs and pip cannot give: a browser, a database server, a C compiler.

    outside_programs.py

Called by ``./check``, not by ``./check fast``. What is missing is installed through the system's
package manager where this user may; else one line says what to install, and the check fails.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path

# What Debian, Ubuntu and their kin call it; where else it may lie than on the path.
PROGRAMS = {
    "chromium": ("chromium", ("/usr/bin/chromium-browser", "/usr/bin/google-chrome", "/Applications/Chromium.app")),
    "initdb": ("postgresql", ("/usr/lib/postgresql/*/bin/initdb", "/usr/pgsql-*/bin/initdb")),
    "cc": ("gcc libc6-dev", ()),
}
QUIET = {"DEBIAN_FRONTEND": "noninteractive", "LC_ALL": "C"}


def main() -> int:
    """Look, install, look again."""
    if may_install() and missing():
        install(missing())
    lacking = missing()
    if lacking:
        print(f"to be installed first (Debian, Ubuntu): apt-get install {' '.join(packages(lacking))}")
    return 1 if lacking else 0


def missing() -> list[str]:
    """Name the programs that are not here."""
    return [name for name, (_, places) in PROGRAMS.items() if not is_here(name, places)]


def is_here(name: str, places: Iterable[str]) -> bool:
    """Whether a program is on the path or in one of its places."""
    return shutil.which(name) is not None or any(any(Path("/").glob(place[1:])) for place in places)


def packages(programs: Iterable[str]) -> list[str]:
    """Name the packages that hold some programs."""
    return [package for name in programs for package in PROGRAMS[name][0].split()]


def may_install() -> bool:
    """Whether this user may install packages without being asked for a password."""
    return os.geteuid() == 0 and shutil.which("apt-get") is not None


def install(programs: Iterable[str]) -> None:
    """Install through the system's package manager; what fails is said, and seen at the next look."""
    words = ["apt-get", "install", "-q", "-y", "--no-install-recommends", *packages(programs)]
    for command in (["apt-get", "update", "-q"], words):
        done = subprocess.run(
            command, env=os.environ | QUIET, stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False
        )
        if done.returncode:
            print(" ".join(command), "failed:", done.stderr.strip()[-400:])


if __name__ == "__main__":
    sys.exit(main())
