"""What the pages ask for."""
