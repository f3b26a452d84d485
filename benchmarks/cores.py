"""How much sooner a study is worked by two processes and by a cluster of two workers than by one core: the same call.

    python benchmarks/cores.py [DRAWS]

The strip of the first example, by compiled loops where the compiler is installed. Each way is run once to be warm,
then timed; the numbers of all are compared to the last bit. It reports ratios; nothing fails.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(ROOT), str(ROOT / "src")]
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the command starts: else one core is two
os.environ.setdefault("NUMBA_CACHE_DIR", str(Path(tempfile.gettempdir()) / f"hingeline-loops-{os.getuid()}"))


def main() -> None:
    """Work the study each way, and print times and ratios."""
    from hingeline.flutter.scatter import scatter_onsets
    from hingeline_app.files.flutter_file import read_flutter
    from hingeline_app.longwork.sharing import shared
    from tests.hingeline_app.longwork.cluster_here import cluster

    draws = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000
    task = read_flutter((ROOT / "examples" / "flutter" / "01-elevator-strip.toml").read_bytes())
    found, seconds = {}, {}
    with tempfile.TemporaryDirectory() as folder, cluster(Path(folder)) as (address, _workers):
        for name, way in {"one core": {}, "two cores": {"cores": 2}, "cluster of two": {"cluster": address}}.items():
            with shared(**way) as run:  # type: ignore[arg-type]
                scatter_onsets(task, 4000, seed=1, run=run, compiled=True)
                began = time.perf_counter()
                found[name] = scatter_onsets(task, draws, seed=1, run=run, compiled=True)
                seconds[name] = time.perf_counter() - began
    print(f"{draws} onsets, load of the machine {os.getloadavg()[0]:.1f}")
    for name, taken in seconds.items():
        same = "same to the last bit" if found[name] == found["one core"] else "NOT THE SAME"
        print(f"{name:<16} {taken:8.1f} s   {seconds['one core'] / taken:5.2f} times one core   {same}")


if __name__ == "__main__":
    main()
