"""What the hangar shows: a check as a row, a check in full, the arm's estimates."""
