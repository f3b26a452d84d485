"""How the pages and the records are set up: embedded (one file on this machine), server (PostgreSQL), test."""
