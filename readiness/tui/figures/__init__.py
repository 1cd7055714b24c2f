"""The Figures screen."""
