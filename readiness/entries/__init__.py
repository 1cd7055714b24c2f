"""An entry: what it may hold, how it is checked where people and files come in, its id and digest.

Only what checks imports pydantic; whoever reads the book imports ``entry`` alone.
"""
