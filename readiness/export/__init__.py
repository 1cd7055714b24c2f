"""Everything in the book as files for other programs: JSON Lines, CSV, Parquet, ICAR messages.

``shape.py`` says what a table is. Those of what was said are the entries' own
(``entries.tables``), ``tables.py`` and ``derived.py`` define the others: the CSV, its schema and
the Parquet file all come from that definition.
"""
