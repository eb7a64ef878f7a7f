"""How fast, measured with `make bench`. Ratios and growth hold on any machine; seconds hold on this one only."""
