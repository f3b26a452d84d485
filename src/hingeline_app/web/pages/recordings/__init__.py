"""Recordings: taken in, marked, followed, shown, replayed, and series of them."""
