"""Everything in the book as files for other programs: JSON Lines, CSV, Parquet, ICAR messages.

``shape.py`` says what a table is; ``bulls.py``, ``said.py``, ``strikes.py`` and ``derived.py``
define each table once: the CSV, its schema and the Parquet file all come from that definition.
"""
