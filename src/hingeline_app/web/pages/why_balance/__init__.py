"""Why balance: the page that explains it, its bench, models of the workshop's own and their studies."""
