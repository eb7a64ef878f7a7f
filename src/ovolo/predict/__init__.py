"""What will come out: what is left, load, deflection, scatter, time."""
