"""The sheet taken to the lathe."""
