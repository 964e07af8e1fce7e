"""Losses along a path against nodal analysis by a general-purpose solver (numpy.linalg)."""

import numpy
import pytest

from knowngood.measure.joint import joint_resistance, path_loss


@pytest.mark.parametrize("ohms", [(0.0005, 0.004, 0.0002), (0.02, 0.001, 0.05)])
def test_path_against_nodal_analysis(ohms: tuple[float, ...]) -> None:
    """Battery, three parts in a row, a load: node voltages solved as a matrix, then read as losses."""
    load, battery = 0.1, 12.4
    parts = [*ohms, load]
    conductance = [1.0 / ohm for ohm in parts]
    size = len(parts) - 1
    matrix, right = numpy.zeros((size, size)), numpy.zeros(size)
    for node in range(size):
        matrix[node, node] = conductance[node] + conductance[node + 1]
        if node:
            matrix[node, node - 1] = matrix[node - 1, node] = -conductance[node]
    right[0] = battery * conductance[0]
    nodes = [battery, *numpy.linalg.solve(matrix, right)]
    current = nodes[-1] / load
    loss = path_loss([nodes[k] - nodes[k + 1] for k in range(size)], current)
    assert loss.ohms == pytest.approx(ohms, rel=1e-9)
    assert joint_resistance(nodes[0] - nodes[-1], current)[0] == pytest.approx(sum(ohms), rel=1e-9)
