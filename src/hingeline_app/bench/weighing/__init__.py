"""A weighing from the records to its statement, and what a page shows of it."""
