"""Compare every pinned package with the published lists of holes; for a machine that has a network, before a release.

    .venv-check/bin/python tools/holes.py

The checker is installed into a folder that is thrown away. It ends well also where it could ask no list: so what was
not compared is told here as such, and only a list of holes that was read counts. Exit status: 0 none known, 1 some
known, 2 not all of them compared.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
import venv
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
PINNED = ROOT / "requirements" / "app.txt"
CHECKER = "pip-audit"
NONE_KNOWN, KNOWN, NOT_COMPARED = 0, 1, 2


def main() -> int:
    """Install the checker, run it, tell what came of it."""
    with tempfile.TemporaryDirectory() as folder:
        venv.create(folder, with_pip=True)
        python = Path(folder) / "bin" / "python"
        subprocess.run([python, "-m", "pip", "install", "--quiet", CHECKER], check=True)
        words = ["--disable-pip", "--require-hashes", "--format", "json", "-r", str(PINNED)]
        done = subprocess.run([python, "-m", "pip_audit", *words], capture_output=True, text=True, check=False)
    try:
        document = json.loads(done.stdout)
    except ValueError:
        print(done.stderr.strip() or "the checker said nothing", "Nothing was compared.", sep="\n")
        return NOT_COMPARED
    status, told = judged(document)
    print(*told, sep="\n")
    return status


def judged(document: Mapping[str, Any]) -> tuple[int, list[str]]:
    """Say what a checker's document means, and list it; holes come before what was not compared."""
    packages = document.get("dependencies", [])
    holes = [line for each in packages for line in _holes(each)]
    left = [f"{each['name']}: not compared, {each['skip_reason']}" for each in packages if "skip_reason" in each]
    if not packages:
        return NOT_COMPARED, ["No package was compared."]
    told = [*holes, *left, f"{len(packages)} packages, {len(holes)} holes known, {len(left)} packages not compared."]
    return (KNOWN if holes else NOT_COMPARED if left else NONE_KNOWN), told


def _holes(package: Mapping[str, Any]) -> Iterator[str]:
    for each in package.get("vulns", []):
        mended = ", ".join(each.get("fix_versions", [])) or "no release yet"
        yield f"{package['name']} {package['version']}: {each['id']}; mended in {mended}"


if __name__ == "__main__":
    sys.exit(main())
