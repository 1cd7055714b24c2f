"""The engine: from a bull's history and the rules to GO or HOLD. Pure: no clock, disk or screen."""
