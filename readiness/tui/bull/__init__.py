"""The Bull screen."""
