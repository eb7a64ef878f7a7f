"""What there is to make it with: slides, readouts, dials, tools, materials, stock."""
