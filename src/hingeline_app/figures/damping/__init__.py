"""Damping and frequency: over speed, over a mass; computed and recorded."""
