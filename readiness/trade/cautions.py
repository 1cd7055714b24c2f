"""What has to be said beside every bull: how to be near him, when he may be loaded, who decides.

Standing: published, but for the transport line's scores, which are derived.
"""

from __future__ import annotations

HANDLING = (
    "Never work a bull alone; use a crush big and strong enough for him, and know your way out. "
    "Follow HSE AIS35 and your local codes."
)
LOOSE = "Never enter a pen with a loose bull."
TRANSPORT = (
    "An animal that cannot move without pain is not fit to be moved (Regulation (EC) 1/2005 as "
    "retained, Annex I): at the worst walk score do not load him; where he is lame, ask a vet "
    "first."
)
PUBLIC_PATHS = (
    "England and Wales: bulls over 10 months of recognised dairy breeds may not run in a field "
    "crossed by a public path, other bulls only with cows or heifers (Wildlife and Countryside "
    "Act 1981, section 59). Elsewhere ask what the law is."
)
VET_DECIDES = (
    "This page informs. It is no diagnosis, no certificate and no legal record: the vet decides on "
    "all that is the vet's, and law and local codes go before anything said here."
)
FORECAST = (
    "The days given hold only if every check passes. Waiting clears no bull: somebody must look. "
    "The vet decides on all that is the vet's."
)
