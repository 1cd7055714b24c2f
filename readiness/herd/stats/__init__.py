"""How often what was found, per foot, claw and bull that was looked at.

What is counted:

- A *lift* is one foot in one ``feet`` entry. Entries after the day asked for do not count, struck
  ones are gone before they come here, and so is what was said of a bull after he left.
- A finding counts at every lift that *lists* it as found, be it new or open still: the figures say
  how often a lifted foot bore it, not how many findings began. Seen clear ("healed") is no finding,
  nor is digital dermatitis of stage M0, which says that there is none.
- Several spots of one finding on one claw, or one listed twice, are one. ``both`` is both claws.
- A claw's finding is of the outer or the inner claw. A finding of the *skin* is of no claw: it
  belongs to the foot as a whole, and counts among feet.

``lifts`` finds the lifts, ``figures`` counts them, ``results`` says how far a share can be trusted.
Pure: no clock, disk, SQL or screen; days are ordinals.
"""
