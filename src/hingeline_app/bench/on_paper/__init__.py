"""A job as the plain records that its sheets are printed from."""
