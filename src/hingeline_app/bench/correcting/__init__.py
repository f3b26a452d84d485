"""A correction from the records to its prediction, and what a page shows of it."""
