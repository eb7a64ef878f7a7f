"""From settings to moves of one slide at a time: roughing, finishing, undercuts, tapers, and their order."""
