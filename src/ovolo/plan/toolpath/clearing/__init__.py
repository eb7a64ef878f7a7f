"""Clearing: how the metal over the outline is taken away before finishing, in the fewest minutes.

Two kinds of cut: strips, fed in across the work one beside the other, and layers, passes along it one below the other.
Each region of the work is cleared by whichever takes less time; the metal of the moment is a row of heights.
"""
