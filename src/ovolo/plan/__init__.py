"""How to make it: reach, stations, roughing, order, rounding to the readout."""
