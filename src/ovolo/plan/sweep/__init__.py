"""The tool taken over the metal: what each move removes, what remains, and whether the part is touched."""
