"""One view model for each thing shown, and the drawings and tables made of it."""
