"""A spark seen while it will not start hot clears what would have taken the spark."""

from __future__ import annotations

import pytest

from knowngood.app.weigh import weigh_notes
from knowngood.library.load import load

CAR = "petrol, 4 cylinders inline, {ignition}, port injection\nstalls hot\nwill not start when hot\n"


@pytest.mark.parametrize(
    ("ignition", "fault"),
    [("coil on plug", "crank_sensor_hot"), ("distributor", "module_hot"), ("distributor", "main_coil_hot")],
)
def test_spark_good_hot_clears(ignition: str, fault: str) -> None:
    """The suspect falls to under a tenth of what it was."""
    told = CAR.format(ignition=ignition)
    before, after = (
        max((kind.chance for one in answer.suspects for kind in one.kinds if kind.fault == fault), default=0.0)
        for answer in (weigh_notes(told, load()), weigh_notes(told + "spark good hot\n", load()))
    )
    assert before > 0.03
    assert after < 0.1 * before
