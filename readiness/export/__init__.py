"""Everything in the book as files for other programs: JSON Lines, CSV, Parquet, ICAR messages.

``shape.py`` says what a table is; ``said.py`` and ``derived.py`` define every table once, and the
CSV, its schema and the Parquet file all come from that one definition.
"""
