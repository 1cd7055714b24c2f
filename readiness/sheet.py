"""What was seen and done at a farm on one day: the base of the day sheet."""
