"""Which messages there are, and the file of each: an array for each type of resource."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import chain

from readiness.desk.reading import Reading
from readiness.export.icar import animals, events, feet
from readiness.export.icar.common import Json

# resourceType (resources/resourceTypeCatalog.md, 8ccda44) → its messages.
MESSAGES: dict[str, Callable[[Reading], Iterator[Json]]] = {
    animals.ANIMAL: animals.animals,
    animals.SET: animals.sets,
    animals.DO_NOT_BREED: animals.do_not_breed,
    events.SCORE: events.scores,
    events.WEIGHT: events.weights,
    feet.DIAGNOSIS: feet.diagnoses,
    events.TREATMENT: lambda book: chain(events.treatments(book), feet.procedures(book)),
    events.ARRIVAL: events.arrivals,
    events.DEPARTURE: events.departures,
    events.DEATH: events.deaths,
}
