"""Every drawing of a plan, by what it shows."""
