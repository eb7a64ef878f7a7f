"""Plane geometry, without a word of the shop: segments, outlines, offsets, sweeps, fits."""
