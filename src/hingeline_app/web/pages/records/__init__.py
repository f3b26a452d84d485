"""Records: the list, the ledger, backups, one aircraft out and in."""
