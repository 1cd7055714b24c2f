"""How often what was found, per foot, claw and bull that was looked at."""
