"""The Crush screen."""
