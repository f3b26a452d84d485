"""The bench: from what the records hold of a job to the library's questions, and from its answers to what a page shows.

It reads records as their queries give them, asks the library, and draws. It knows no request and no database.
"""
