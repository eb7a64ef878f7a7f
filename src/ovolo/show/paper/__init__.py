"""The drawing layer: SVG, line styles, lettering, shapes from (z, r) to paper."""
