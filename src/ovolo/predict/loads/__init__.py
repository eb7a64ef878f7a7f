"""What each move takes of edge, work and spindle."""
