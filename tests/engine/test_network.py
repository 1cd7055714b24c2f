"""The temporal network against networkx's shortest paths (Bellman-Ford), over random networks."""

from __future__ import annotations

from itertools import pairwise

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from readiness.engine.network import FAR, Contradiction, Network

NAMES = tuple("abcdefg")
BOUND = st.tuples(
    st.sampled_from(NAMES),
    st.sampled_from(NAMES),
    st.one_of(st.none(), st.integers(-9, 9)),
    st.one_of(st.none(), st.integers(-9, 9)),
).filter(lambda bound: bound[0] != bound[1])


def _network(bounds: list[tuple[str, str, int | None, int | None]]) -> Network:
    network = Network()
    network.anchor("a", 0)
    for bound in bounds:
        network.add(*bound)
    return network


def _graph(bounds: list[tuple[str, str, int | None, int | None]]) -> nx.DiGraph:
    """The distance graph: an edge u → v of weight w says v − u ≤ w."""
    graph = nx.DiGraph()
    graph.add_node("a")

    def put(frm: str, to: str, weight: int) -> None:
        old = graph.get_edge_data(frm, to, {"weight": weight})["weight"]
        graph.add_edge(frm, to, weight=min(weight, old))

    for frm, to, lower, upper in bounds:
        graph.add_nodes_from((frm, to))
        if upper is not None:
            put(frm, to, upper)
        if lower is not None:
            put(to, frm, -lower)
    return graph


@given(st.lists(BOUND, max_size=14))
def test_first_and_last_days_are_the_reference_librarys_shortest_paths(
    bounds: list[tuple[str, str, int | None, int | None]],
) -> None:
    network, graph = _network(bounds), _graph(bounds)
    bound_to_a = graph.subgraph(nx.descendants(graph, "a") | nx.ancestors(graph, "a") | {"a"})
    if nx.negative_edge_cycle(nx.DiGraph(bound_to_a)):
        assert not _fits(network)
    if nx.negative_edge_cycle(graph):
        return
    last = nx.single_source_bellman_ford_path_length(graph, "a")
    first = nx.single_source_bellman_ford_path_length(graph.reverse(), "a")
    assert {e: d for e, d in network.latest().items() if d < FAR} == last
    assert {e: -d for e, d in network.earliest().day.items() if d > -FAR} == first
    assert network.fits()


def _fits(network: Network) -> bool:
    try:
        return network.fits()
    except Contradiction as contradiction:
        _assert_is_a_cycle_that_cannot_be_met(contradiction)
        return False


def _assert_is_a_cycle_that_cannot_be_met(contradiction: Contradiction) -> None:
    own = _graph([bound[:4] for bound in contradiction.cycle])
    assert nx.negative_edge_cycle(own)


@given(st.lists(BOUND, max_size=10))
def test_the_path_told_adds_up_to_the_first_day(
    bounds: list[tuple[str, str, int | None, int | None]],
) -> None:
    network = _network(bounds)
    try:
        earliest = network.earliest()
    except Contradiction:
        return
    for event, day in earliest.day.items():
        path = earliest.path(event)
        assert sum(step.days for step in path) == (day if path else 0)
        assert all(one.to == two.frm for one, two in pairwise(path))


def test_no_day_fits_shows_by_how_much() -> None:
    network = Network()
    network.anchor("fitted", 0)
    network.anchor("turnout", 30)
    network.add("fitted", "block off", lower=28)
    network.add("block off", "turnout", lower=7)
    assert network.earliest().day["block off"] - network.latest()["block off"] == 5
    assert not network.fits()


def test_bounds_between_given_days_are_checked() -> None:
    network = Network()
    network.anchor("fitted", 0)
    network.anchor("turnout", 3)
    network.add("fitted", "turnout", lower=4)
    assert not network.fits()


def test_among_equal_paths_the_first_added_is_told() -> None:
    network = Network()
    network.anchor("one", 0)
    network.anchor("two", 1)
    network.add("one", "walk", lower=3, rule="first")
    network.add("two", "walk", lower=2, rule="second")
    assert [step.bound.rule for step in network.earliest().path("walk")] == ["first"]


def test_an_event_that_nothing_bounds_has_no_day() -> None:
    network = Network()
    network.anchor("a", 0)
    network.add("a", "b", upper=4)
    with pytest.raises(KeyError):
        network.earliest().day["c"]
    assert network.earliest().day["b"] == -FAR
