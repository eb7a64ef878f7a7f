"""What is kept: jobs, runs, readings."""
