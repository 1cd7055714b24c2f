"""A damaged book: what can be read of it, completed, into a new one."""
