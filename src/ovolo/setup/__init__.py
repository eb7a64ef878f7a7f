"""What is done ahead of a move: where the work stands, touching off, clearances, what to measure, stops."""
