"""Which items of the gear file an item of a kit can be: those that can be joined where it stands."""

import pytest

from kitbuilder.assess.gear.joinable import Candidate, candidates_for
from kitbuilder.kit.file_kinds import GEAR_FILE
from kitbuilder.kit.resolved import LinkedFiles, ResolvedKit, resolve
from kitbuilder.kitfile.reader import parse_as
from tests.assess.kits import kit_of

GEAR = """format = 1
holds = "gear"
name = "x"

[[first_stage]]
tag = "small"
ports = ["LP1 3/8-24 UNF", "HP1 7/16-20 UNF"]
connection = "DIN 300"

[[first_stage]]
tag = "other thread"
ports = ["LP1 3/8-24 UNF", "LP2 1/2-20 UNF", "HP1 7/16-20 UNF"]
connection = "DIN 300"

[[first_stage]]
tag = "clamped"
ports = ["LP1 3/8-24 UNF", "LP2 3/8-24 UNF", "HP1 7/16-20 UNF"]
connection = "yoke"

[[first_stage]]
tag = "fits"
ports = ["LP1 3/8-24 UNF", "LP2 3/8-24 UNF", "HP1 7/16-20 UNF"]
connection = "DIN 300"

[[hose]]
tag = "to a coupling"
body = "rubber"
length = "75 cm"
from_end = "LP 3/8"
to_end = "standard nipple coupling"

[[hose]]
tag = "broken"
body = "rubber"
length = "75 cm"
from_end = "LP 3/8"
to_end = "second stage 9/16"
condition = "out of use"

[[hose]]
tag = "of high pressure"
body = "rubber"
length = "75 cm"
from_end = "HP 7/16"
to_end = "gauge swivel"

[[hose]]
tag = "in use"
body = "rubber"
length = "75 cm"
from_end = "LP 3/8"
to_end = "second stage 9/16"

[[hose]]
tag = "free"
body = "rubber"
length = "75 cm"
from_end = "LP 3/8"
to_end = "second stage 9/16"
"""
KIT = """format = 1
name = "x"
layout = "single"
gear = "gear.toml"

[[cylinder]]
tag = "tank"
preset = "steel 12 L 232 long"
outlet = "DIN 300"

[[first_stage]]
tag = "first"
ports = ["LP1 3/8-24 UNF", "LP2 3/8-24 UNF", "HP1 7/16-20 UNF"]
connection = "DIN 300"

[[hose]]
tag = "primary hose"
role = "primary"
from = "first LP1"
to = "second"
body = "rubber"
length = "61 cm"

[[hose]]
tag = "spare hose"
role = "alternate"
from = "first LP2"
to = "other second"
body = "rubber"
length = "100 cm"
owned = "in use"
from_end = "LP 3/8"

[[second_stage]]
tag = "second"
inlet = "9/16"

[[second_stage]]
tag = "other second"
inlet = "9/16"
"""
FIRST, PRIMARY = 1, 2


def linked(text: str = KIT, gear: str = GEAR) -> ResolvedKit:
    found = parse_as(gear, GEAR_FILE)
    assert found.gear is not None, found.problems
    return resolve(kit_of(text), LinkedFiles(gear=found.gear))


def reasons(found: tuple[Candidate, ...]) -> dict[str, str]:
    return {each.entry.tag: " ".join(each.reasons) for each in found}


def test_a_hose_is_one_that_joins_its_port_and_its_device_the_free_ones_first() -> None:
    """The end for a coupling and the hose of the other pressure class are not in the list."""
    found = candidates_for(linked(), PRIMARY)
    assert [(each.entry.tag, each.is_free, each.taken_by) for each in found] == [
        ("free", True, ""),
        ("broken", False, ""),
        ("in use", False, "spare hose"),
    ]


def test_a_first_stage_has_the_ports_that_hoses_leave_from_and_sits_on_its_valve() -> None:
    """One lacks a port, one has another thread there, one is clamped and does not go on a DIN valve of 300 bar."""
    assert reasons(candidates_for(linked(), FIRST)) == {"fits": ""}


def test_where_none_can_be_joined_all_are_listed_with_the_reason() -> None:
    """The port has another thread now: 1/2-20 UNF takes no end of 3/8-24 UNF."""
    found = candidates_for(linked(KIT.replace("LP1 3/8-24", "LP1 1/2-20")), PRIMARY)
    assert {each.entry.tag for each in found} == {"to a coupling", "broken", "of high pressure", "in use", "free"}
    assert all("1/2-20 UNF" in reason for reason in reasons(found).values())


@pytest.mark.parametrize("tag", ["to a coupling", "free"])
def test_what_an_item_is_already_stays_in_the_list(tag: str) -> None:
    text = KIT.replace('length = "61 cm"', f'length = "61 cm"\nowned = "{tag}"')
    assert tag in [each.entry.tag for each in candidates_for(linked(text), PRIMARY)]


def test_without_a_gear_file_there_is_nothing_to_choose() -> None:
    assert candidates_for(resolve(kit_of(KIT)), PRIMARY) == ()
