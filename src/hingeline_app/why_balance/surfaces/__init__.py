"""The surfaces that can be played with; all numbers are our own inventions for the Merle T2."""

from __future__ import annotations

from hingeline_app.why_balance.surfaces.aileron import AILERON
from hingeline_app.why_balance.surfaces.bench_section import BENCH_SECTION
from hingeline_app.why_balance.surfaces.elevator_tab import ELEVATOR_TAB
from hingeline_app.why_balance.surfaces.surface import Surface
from hingeline_app.why_balance.surfaces.tailplane import TAILPLANE

__all__ = ["SURFACES", "Surface"]

SURFACES = {surface.name: surface for surface in (TAILPLANE, AILERON, ELEVATOR_TAB, BENCH_SECTION)}
