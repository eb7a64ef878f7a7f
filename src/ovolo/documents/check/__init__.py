"""The check of a part as documents: readings as they come in, check.json, and what was found in words."""
