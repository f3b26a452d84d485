"""Flutter: from mass, stiffness and air to the speed where a motion starts to grow."""
