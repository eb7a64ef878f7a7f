"""The job as the planner looks at it: air above, metal below; undercuts turned to their entry."""
