"""Whether the bulls are enough for the females, and which moves mend a shortage."""
