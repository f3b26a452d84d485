"""The hangar: checks ahead, their tasks, hours and calendar."""
