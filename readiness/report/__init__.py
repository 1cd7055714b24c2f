"""What is computed, put into words, tables and JSON. Nothing here reads or writes a book."""
