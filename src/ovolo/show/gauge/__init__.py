"""The gauge: a template of the curve, drawn and cut."""
