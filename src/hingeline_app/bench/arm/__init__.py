"""The arm that carries a weight: its places, walls, metals, and the estimate made of them."""
