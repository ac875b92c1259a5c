"""What running a bath looks like: rulers of readings, lines of today, strips and years, signs and reasons."""
