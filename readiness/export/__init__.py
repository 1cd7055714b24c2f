"""Everything in the book as files that other programs read."""
