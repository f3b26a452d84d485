"""Which printed row of limits a job follows, and how it reads as limits of a weighing."""
