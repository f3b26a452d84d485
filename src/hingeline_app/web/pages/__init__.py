"""The pages, one file a question."""
