"""What to make: outlines, forms and their tolerances."""
