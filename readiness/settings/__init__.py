"""A person's own settings: who he is, what he leaves unsaid, how his screens look."""
