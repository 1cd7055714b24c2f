"""readiness: is each breeding bull GO or HOLD for his turnout, and what is still to be done."""

__version__ = "0.2.0"
