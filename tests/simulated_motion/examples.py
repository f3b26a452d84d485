"""Write the example recordings of the Merle T2's tailplane: ``python -m tests.simulated_motion.examples``.

They are simulated, with the sections and kinds beside this file; nobody filmed anything.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np

from tests.simulated_motion.kinds import KINDS, Simulated, draw_records
from tests.simulated_motion.sections import Array

FOLDER = Path(__file__).parents[2] / "examples" / "motion"
NAMES = tuple(KINDS)
EXAMPLES = {
    "01-knock-in-the-wind": ("free decay in air", 6.0, 60, 1),
    "02-in-turbulence": ("turbulence, 40-90 % of onset", 20.0, 60, 1),
    "03-steady": ("limit cycle, hardening spring, 0-2 % turbulence", 12.0, 60, 1),
    "04-growing": ("flutter growth", 6.0, 120, 16),
    "05-play-in-turbulence": ("limit cycle, play, 1-3 %", 20.0, 60, 9),
    "06-tap-on-the-ground": ("knock, two close modes", 6.0, 120, 1),
}
"""Name of the file: kind, length, rate, which of those drawn."""
SEED, DRAWN = 41, 24


def main() -> None:
    """Write the files."""
    FOLDER.mkdir(parents=True, exist_ok=True)
    for name, (kind, length, rate, which) in EXAMPLES.items():
        record = draw_records(kind, SEED, DRAWN, (length,), rate)[which]
        uneven = name.startswith("05")
        (FOLDER / f"{name}.csv").write_text(table(record, uneven=uneven), encoding="utf-8")


def table(record: Simulated, *, uneven: bool) -> str:
    """Write one recording as a table; an uneven one as a phone would: some frames late, some lost."""
    times, kept = record.times.copy(), np.ones(len(record.times), dtype=bool)
    if uneven:
        generator = np.random.default_rng(SEED)
        kept = generator.random(len(times)) > 0.02
        times = times + generator.uniform(0.0, 0.002, len(times))
    head = (
        "# Merle T2, tailplane, simulated; plunge positive down, pitch positive nose up\ntime_s,plunge_mm,pitch_deg\n"
    )
    return head + "".join(_row(*row) for row in zip(times[kept], record.plunge[kept], record.pitch[kept], strict=True))


def _row(time: Array, plunge: Array, pitch: Array) -> str:
    return f"{float(time):.4f},{1000.0 * float(plunge):.2f},{np.degrees(float(pitch)):.3f}\n"


if __name__ == "__main__":
    main()
