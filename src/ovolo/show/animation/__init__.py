"""The cut as something that moves: a page, a picture."""
