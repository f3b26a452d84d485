"""Recordings of a shaking surface: tracks over time in, a statement with its reasons out."""

from __future__ import annotations

from hingeline.motion.model import Channel, Recording, TimeScale, recording_of

__all__ = ["Channel", "Recording", "TimeScale", "recording_of"]
