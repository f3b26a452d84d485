"""Serving the pages to the tablets of a workshop: start, certificates, backups."""
