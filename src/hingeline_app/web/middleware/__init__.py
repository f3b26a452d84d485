"""What every request passes: when it fails, what may come, who is here."""
