"""Turn: everything that the page at the lathe shows of a plan, move by move, ready before the first chip."""
