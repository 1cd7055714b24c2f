"""What one begins with, where there is no bull yet."""
