"""Coming in: first run, sign-in, lock, yourself, and the tablet at hand."""
