"""What moves: a recording as evidence, its spectrum, a computed section and a filmed one, slowed."""
