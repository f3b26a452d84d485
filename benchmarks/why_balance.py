"""How soon "Why balance" answers a slider: point and picture (aim 50 ms), and the band (aim 300 ms), by surface.

Run ``python benchmarks/why_balance.py``; compiling the loops takes up to a minute first. Times are of this process's
own work on one core, so that a busy machine tells the same; beside each stands what it is of a fixed piece of NumPy
work in the same run, to compare machines by.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from statistics import median

import numpy as np

from hingeline_app.why_balance import shown
from hingeline_app.why_balance.answers import curve_of, draw_by_compiled_loops
from hingeline_app.why_balance.compiled_way import make_ready
from hingeline_app.why_balance.state import State, start_of
from hingeline_app.why_balance.surfaces import SURFACES

RUNS, POINT_AIM, BAND_AIM = 7, 50.0, 300.0


def work_of(act: Callable[[], object]) -> float:
    """Give the processor time of one call [ms], the middle of several."""
    times = []
    for _ in range(RUNS):
        start = time.process_time()
        act()
        times.append(1000.0 * (time.process_time() - start))
    return median(times)


def plain() -> object:
    """Do a fixed piece of work: 2,000 eigenvalue problems of three rows."""
    return np.linalg.eigvals(np.random.default_rng(1).standard_normal((2000, 3, 3)))


def main() -> None:
    """Print a line a surface."""
    thread = make_ready(lambda: draw_by_compiled_loops([start_of(surface) for surface in SURFACES.values()]))
    if thread is not None:
        thread.join()
    unit = work_of(plain)
    print(f"plain work {unit:.1f} ms")
    print("surface      point and picture     another curve     band")
    for name, surface in SURFACES.items():
        start = start_of(surface)
        knob = surface.knob(start.axis)
        along = iter(range(1000))

        def slid(state: State = start, low: float = knob.low, step: float = knob.step, turn: object = along) -> object:
            # Along the axis the curve stays: only the point, the motion and the pictures are made anew.
            return shown.show(state.moved(**{state.axis: low + step * (next(turn) % 9)}), band=False)  # type: ignore[call-overload]

        times = [work_of(slid), work_of(lambda s=start: curve_of(s, band=False)), work_of(lambda s=start: curve_of(s))]
        print(f"{name:<11}" + "".join(f"  {each:7.0f} ms {each / unit:6.1f}" for each in times))


if __name__ == "__main__":
    main()
