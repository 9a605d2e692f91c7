"""Ports in use in the shipped kits, against what layouts need by common practice, no source."""

from collections import Counter

import pytest

from kitbuilder.assess.hoses.ports import port_reference
from kitbuilder.kit.items import split_port
from tests.assess.kits import shipped

USED = {
    "warm-single": {"first": (3, 1)},
    "cold-single": {"first": (4, 2)},
    "twinset": {"right post": (2, 0), "left post": (2, 1)},
    "sidemount": {"right": (2, 1), "left": (2, 1)},
}
"""LP and HP ports of each first stage. Single: three LP and one gauge; with a drysuit four, with a transmitter another
HP. Twinset: long hose and wing on the right, backup, drysuit and gauge on the left. Sidemount: two LP and one HP each.
"""


@pytest.mark.parametrize("name", USED)
def test_ports_in_use_are_those_of_common_practice(name: str) -> None:
    used: dict[str, Counter[str]] = {}
    for item in shipped(name).kit.items:
        if reference := port_reference(item):
            stage, port = split_port(reference)
            used.setdefault(stage, Counter())[port[:2]] += 1
    assert {stage: (count["LP"], count["HP"]) for stage, count in used.items()} == USED[name]
