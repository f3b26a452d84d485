"""A weighing seen from the side, to scale."""
