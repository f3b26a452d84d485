"""Approved data: a row of limits as a person typed it off the page, checked against itself, and compared with another's.

It knows no request and no database.
"""
