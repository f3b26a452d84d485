"""The page of a weighing says of each limit what the statement beside it says."""

from __future__ import annotations

from tests.faults.running import Runner

IN_THE_GAP = """\
format = "hingeline/weighing/1"
[surface]
name = "rudder"
mass = "0.92 kg"
[[support]]
arm = "200 mm"
side = "aft"
readings = ["0.10 kg", "0.11 kg"]
[limits]
source = "page 1"
[[limits.band]]
mass = ["0.70 kg", "0.90 kg"]
lower = "0 N m"
upper = "1 N m"
[[limits.band]]
mass = ["0.95 kg", "1.00 kg"]
lower = "0 N m"
upper = "1.5 N m"
"""


def test_a_mass_between_two_bands_is_not_told_inside_a_limit(runner: Runner) -> None:
    """It read "mass 0.92 kg outside, 0.08 kg inside the upper limit": the outer edges of all bands are no limits."""
    shown = " ".join(runner.on(IN_THE_GAP, "weigh").out.replace("\u00a0", " ").split())
    assert "mass 0.92 kg outside, in none of the mass bands." in shown
    assert "inside the upper limit" not in shown
    heavier = " ".join(runner.on(IN_THE_GAP.replace("0.92 kg", "1.02 kg"), "weigh").out.replace("\u00a0", " ").split())
    assert "mass 1.02 kg outside, 0.02 kg beyond the upper limit." in heavier
