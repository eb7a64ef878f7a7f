"""Formulas of the trade: force, bending, speeds, pace, nose, roughness, uncertainty; nothing of a plan."""
