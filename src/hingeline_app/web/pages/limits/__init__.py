"""Limits: the list, and one row as it is read twice."""
