"""What to expect of a plan: scatter, minutes, settings against ridge, the usual way for comparison."""
