"""The planner of return visits held to references that share no line with it."""
