"""Writes: one file a noun, each act through the write door."""
