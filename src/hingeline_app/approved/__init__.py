"""Approved data: a row of limits as typed off the page, checked against itself.

It knows no request and no database.
"""
