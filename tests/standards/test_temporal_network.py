"""The worked example of Dechter, Meiri & Pearl, "Temporal constraint networks", Artificial
Intelligence 49 (1991) 61-95: John leaves home, John arrives, Fred leaves home, Fred arrives, in
minutes after 7:00. From memory of the paper: the example's bounds, and the shortest paths of its
distance graph."""

from __future__ import annotations

import pytest

from readiness.engine.network import Network

EVENTS = ("7:00", "John leaves", "John arrives", "Fred leaves", "Fred arrives")
BOUNDS = (
    ("7:00", "John leaves", 10, 20),
    ("John leaves", "John arrives", 30, 40),
    ("Fred leaves", "John arrives", 10, 20),
    ("Fred leaves", "Fred arrives", 40, 50),
    ("7:00", "Fred arrives", 60, 70),
)
SHORTEST = (
    (0, 20, 50, 30, 70),
    (-10, 0, 40, 20, 60),
    (-40, -30, 0, -10, 30),
    (-20, -10, 20, 0, 50),
    (-60, -50, -20, -40, 0),
)


def _example(start: str) -> Network:
    network = Network()
    network.anchor(start, 0)
    for frm, to, lower, upper in BOUNDS:
        network.add(frm, to, lower, upper)
    return network


@pytest.mark.parametrize(("row", "start"), enumerate(EVENTS))
def test_shortest_paths_of_the_papers_example(row: int, start: str) -> None:
    network = _example(start)
    assert tuple(network.latest()[event] for event in EVENTS) == SHORTEST[row]
    first = network.earliest().day
    assert tuple(first[event] for event in EVENTS) == tuple(-line[row] for line in SHORTEST)


def test_papers_example_has_a_time_for_everyone() -> None:
    assert _example("7:00").fits()


def test_fred_leaving_after_half_past_cannot_be_met_in_the_papers_example() -> None:
    """The minimal network bounds Fred's leaving to 20-30 minutes past seven."""
    network = _example("7:00")
    network.add("7:00", "Fred leaves", 31, None)
    assert not network.fits()
