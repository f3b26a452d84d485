"""The bench: jobs that are open, a new one, a visit's work order, a surface found by its label."""
