"""The Board screen."""
