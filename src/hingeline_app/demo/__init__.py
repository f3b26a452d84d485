"""The invented workshop of Fenholt with its invented Merle T2s, told through the same acts that people use.

Nothing here is approved data, and nothing is written past the write door: a demonstration
that could do what the program cannot would teach something false.
"""
