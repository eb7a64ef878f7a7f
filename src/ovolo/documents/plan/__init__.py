"""The plan as a document: what is in plan.json, written, read back, and its notes in words."""
