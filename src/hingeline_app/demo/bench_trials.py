"""Trials of the section on the bench as our own model moves it: nothing here was ever filmed.

The rig that is simulated is not quite the one that the page computes: its spring is softer and its bearings damp less,
as a rig that was built differs from its drawing. So points and line part a little, as they would.
"""

from __future__ import annotations

from dataclasses import replace
from random import Random

import numpy as np

from hingeline.flutter import build_system
from hingeline.flutter.marching import rates_of
from hingeline.flutter.system import AeroelasticSystem, Array
from hingeline_app.why_balance.surfaces.bench_section import BENCH_SECTION

KNOCKS = {0: 0.006, 10: 0.0004, 20: 0.0003, 30: 0.0003, 40: 0.002, 50: 0.006, 60: 0.008, 80: 0.008}
"""By the mass added ahead of the hinge line [g]: how far a knock moves the section [m]. What grows needs little."""
SPEED, SPRING, DAMPING = 14.0, 1.14, 0.0235
RATE, SECONDS = 120, 10
STOPS = 0.022
"""Where a video is ended, before the stops are reached [m]."""
REMARK = (
    "Section on the bench at 14 m/s, discs of 10 g added. Simulated for the demonstration by our own "
    "model; nothing was filmed."
)


def rig(mass: float) -> AeroelasticSystem:
    """Give the simulated rig with a mass added [g], its structural damping as a viscous one at each freedom's own."""
    settings = {knob.name: knob.start * knob.to_si for knob in BENCH_SECTION.knobs}
    settings |= {"weight": 1e-3 * mass, "spring": SPRING}
    system = build_system(replace(BENCH_SECTION.model(settings), scatter=(), structural_damping=(0.0,)))
    stiffness, inertia = np.diag(system.stiffness), np.diag(system.mass)
    return replace(system, damping=np.diag(DAMPING * np.sqrt(stiffness * inertia)))


def moved(system: AeroelasticSystem, knock: float, times: Array) -> Array:
    """Give plunge [m] and pitch [rad] after a knock that moved the section down by so much [m]: (times, 2)."""
    values, vectors = np.linalg.eig(rates_of(system, SPEED))
    start = np.zeros(len(values))
    start[system.freedoms.index("plunge")] = knock
    parts = vectors * np.linalg.solve(vectors, start)
    whole = (np.exp(np.outer(times, values)) @ parts.T).real
    return np.asarray(whole[:, [system.freedoms.index(name) for name in ("plunge", "pitch")]])


def trial(mass: int, seed: int) -> bytes:
    """Write a trial as a table, with the scatter of marks that are followed in a video, to where it nears the stops."""
    times = np.arange(RATE * SECONDS) / RATE
    motion, chance = moved(rig(mass), KNOCKS[mass], times), Random(seed)
    lines = ["# simulated; plunge positive down, pitch positive nose up", "time_s,plunge_mm,pitch_deg"]
    for time, (plunge, pitch) in zip(times, motion, strict=True):
        if abs(plunge) > STOPS:
            break
        seen = 1e3 * plunge + chance.gauss(0.0, 0.15), np.degrees(pitch) + chance.gauss(0.0, 0.15)
        lines.append(f"{time:.4f},{seen[0]:.3f},{seen[1]:.4f}")
    return ("\n".join(lines) + "\n").encode()
