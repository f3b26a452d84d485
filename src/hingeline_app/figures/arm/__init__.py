"""The arm of a balance weight: from the side, cut through at its root, and what is said of it."""
