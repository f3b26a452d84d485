"""An aeroplane to tap on, and the sign of a check ahead."""
