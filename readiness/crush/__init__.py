"""What is said of one bull while he stands in the crush: pure, so that a test can press the keys.

A ``Slip`` is what has been said of him so far; a ``Pad`` is where the next key goes; a ``Session``
is all that stands on the screen between two keys.
"""
