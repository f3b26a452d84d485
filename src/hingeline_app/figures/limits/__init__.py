"""A moment against its approved limits: one, two beside each other, many, over the years, in little, in plain text."""
