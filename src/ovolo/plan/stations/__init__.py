"""Where to set the slides: what a setting covers, the fewest settings, and which tool takes which stretch."""
