"""The ways to turn one curve, side by side."""
