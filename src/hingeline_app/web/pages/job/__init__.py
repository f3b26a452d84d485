"""One job: its steps, its file, its photographs, its signatures and what is printed of it."""
