"""Return visits: the fewest journeys that catch every check of the trimmer's in its window.

Pure: a board in, a plan out. Days are ordinals.
"""
