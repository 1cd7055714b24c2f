"""Messages of the ICAR Animal Data Exchange (ADE) standard, for what fits into them.

Standard: ICAR ADE JSON schemas, https://github.com/adewg/ICAR, licence Apache-2.0; the members are
those of release 1.4 (positions of single toes: pull request 593 of March 2026). Which file of the
standard, at which commit, each message follows stands in its module. Only members of the schemas
are written; ``icar/not-covered.json`` lists what has no place there. Code schemes that the standard
does not register are named by URNs of our own, and no score is converted.
"""
