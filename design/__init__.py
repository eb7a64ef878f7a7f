"""Runnable scripts that chose a constant or an algorithm; each prints why."""
