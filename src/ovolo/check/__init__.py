"""What came out: readings, fit, verdict, correction."""
