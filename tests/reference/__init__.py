"""A plain brute-force assessment for the tests: slow, obvious, and written apart from the engine.

It shares no line with ``readiness.engine`` or ``readiness.history``: what the two agree on, two
people read out of the same sentences.
"""
