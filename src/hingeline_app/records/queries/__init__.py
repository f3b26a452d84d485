"""Reads: one file a noun, each for a person: only what that person may see."""
