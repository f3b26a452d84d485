"""Recordings of the invented workshop, drawn from a formula: nothing here was ever measured."""

from __future__ import annotations

import math
from random import Random
from uuid import UUID

from hingeline_app.demo.bench_trials import KNOCKS, trial
from hingeline_app.demo.bench_trials import REMARK as ON_THE_BENCH
from hingeline_app.demo.cast import Workshop
from hingeline_app.demo.hangar import Hangar
from hingeline_app.evidence.answer import answer_of_file
from hingeline_app.evidence.asked import Asked
from hingeline_app.evidence.series import AskedSeries, answer_of_series, member_of
from hingeline_app.records.actions.recordings import About, TakenIn, keep_finding, take_recording_in
from hingeline_app.records.actions.series import keep_series
from hingeline_app.records.queries.series import offered

RATE, SECONDS = 100, 12
SIMULATED = "Simulated for the demonstration, as a phone's video of the tail would give it."


def take_recordings_in(shop: Workshop, hangar: Hangar) -> None:
    """Keep three recordings: one that grows, one that dies out, one that nobody has read yet; and a series."""
    growing = table(frequency=6.4, growth=0.84, size=0.8, turned=4.2, seed=1)
    ringing = table(frequency=6.1, growth=-0.9, size=18.0, turned=99.0, seed=2)
    unread = table(frequency=6.3, growth=-0.3, size=9.0, turned=99.0, seed=3)
    for registration, name, data, read in (
        ("T2-15", "tail-in-flight.csv", growing, True),
        ("T2-03", "tail-tapped.csv", ringing, True),
        ("T2-03", "tail-tapped-again.csv", unread, False),
    ):
        about = About(aircraft=hangar.aircraft[registration])
        taken = TakenIn("table", [data], len(data), "text/csv", name, remark=SIMULATED)
        row = take_recording_in(shop.mara, about, taken)
        if read:
            document = answer_of_file(data, Asked(), name).document
            keep_finding(shop.mara, row.pk, document, Asked().plain())
    _take_a_series_in(shop, hangar.aircraft["T2-03"])


def _take_a_series_in(shop: Workshop, aircraft: UUID) -> None:
    """Keep trials of the section on the bench with more mass from one to the next, and what they show together."""
    findings = {}
    for seed, mass in enumerate(KNOCKS, 21):
        data = trial(mass, seed)
        taken = TakenIn("table", [data], len(data), "text/csv", f"bench-{mass}-g.csv", remark=ON_THE_BENCH)
        row = take_recording_in(shop.mara, About(aircraft=aircraft), taken)
        document = answer_of_file(data, Asked(), taken.name).document
        findings[keep_finding(shop.mara, row.pk, document, Asked().plain()).pk] = f"{mass} g"
    there = {each.finding: each for each in offered(shop.mara.person, list(findings))}  # type: ignore[arg-type]
    members = [member_of(there[finding], at) for finding, at in findings.items()]
    asked = AskedSeries("weight", "the same", "within its limits")
    keep_series(shop.mara, aircraft, None, answer_of_series(members, asked), asked.plain(members), said=ON_THE_BENCH)


def table(*, frequency: float, growth: float, size: float, turned: float, seed: int) -> bytes:
    """Write plunge and pitch of a swing that grows until something is done about it, and dies out then.

    Parameters
    ----------
    frequency : float
        [Hz]
    growth : float
        [1/s]
    size : float
        Of the plunge at the start [mm].
    turned : float
        When it begins to die out [s].
    seed : int
    """
    chance = Random(seed)
    lines = ["# simulated; plunge positive down, pitch positive nose up", "time_s,plunge_mm,pitch_deg"]
    for step in range(RATE * SECONDS):
        time = step / RATE
        envelope = size * math.exp(growth * min(time, turned) - 1.1 * max(0.0, time - turned))
        angle = 2.0 * math.pi * frequency * time
        plunge = envelope * math.sin(angle) + chance.gauss(0.0, 0.12)
        pitch = 0.14 * envelope * math.sin(angle - math.radians(58.0)) + chance.gauss(0.0, 0.02)
        lines.append(f"{time:.2f},{plunge:.3f},{pitch:.4f}")
    return ("\n".join(lines) + "\n").encode()
