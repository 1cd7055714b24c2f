"""Words and numbers of the trade: feet and zones, finding codes, scales, tags, dates in words.

Plain values only: no rules, no pydantic. What a finding means for a bull stands in the rules, with
its source; here stand the vocabulary and what can be checked from a word alone.
"""
