"""Makes networkx_times.jsonl: early and late times of random project networks, worked out by networkx.

Run: python networkx_times.py > networkx_times.jsonl   (needs networkx; the version is written into the first line)
"""

import json
import random

import networkx as nx


def random_edges(chance, nodes, circular):
    edges = []
    for _ in range(chance.randint(0, 3 * nodes)):
        before, after = chance.randrange(nodes), chance.randrange(nodes)
        if not circular and before > after:
            before, after = after, before
        if circular or before != after:
            edges.append([before, after])
    return edges


def weighted(nodes, edges, days):
    graph = nx.DiGraph()
    graph.add_nodes_from(range(nodes))
    graph.add_edges_from((a, b, {"weight": days[a]}) for a, b in edges)
    return graph


def longest(graph, nodes):
    return nx.dag_longest_path_length(graph.subgraph(nodes), weight="weight")


def times(chance, number):
    nodes = chance.randint(1, 24)
    days = [chance.choice([0, 0.25, 0.5, 1, 1.75, 2, 3, 5, 8.5]) for _ in range(nodes)]
    edges = random_edges(chance, nodes, circular=False)
    # An extra node after all others, so that the last activity's own days count.
    graph = weighted(nodes + 1, edges + [[node, nodes] for node in range(nodes)], days + [0])
    length = longest(graph, graph.nodes)
    early = [longest(graph, nx.ancestors(graph, node) | {node}) for node in range(nodes)]
    tails = [longest(graph, nx.descendants(graph, node) | {node}) for node in range(nodes)]
    return {
        "graph": number,
        "days": days,
        "edges": edges,
        "length": length,
        "early_start": early,
        "late_start": [length - tail for tail in tails],
    }


def cycles(chance, number):
    nodes = chance.randint(1, 16)
    edges = random_edges(chance, nodes, circular=True)[: nodes + 4]
    graph = weighted(nodes, edges, [1] * nodes)
    found = [sorted(group) for group in nx.strongly_connected_components(graph)]
    found = [group for group in found if len(group) > 1 or graph.has_edge(group[0], group[0])]
    return {"graph": number, "nodes": nodes, "edges": edges, "cycles": sorted(found)}


def main():
    chance = random.Random(20270301)
    print(json.dumps({"made_by": "networkx " + nx.__version__, "by": "networkx_times.py, random seed 20270301"}))
    for number in range(200):
        print(json.dumps(times(chance, number)))
    for number in range(200, 260):
        print(json.dumps(cycles(chance, number)))


main()
