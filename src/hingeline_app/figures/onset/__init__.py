"""Where a motion starts to grow: over one number, over two."""
