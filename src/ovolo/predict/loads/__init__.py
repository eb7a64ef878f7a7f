"""What each move asks of edge, work and spindle."""
