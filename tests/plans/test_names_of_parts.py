"""What a part is called in a changeover, and how it is described to somebody who has to find it."""

from kitbuilder.kit.gear import OwnedAdapter
from kitbuilder.kit.resolved import NOTHING_LINKED, resolve
from kitbuilder.plans.changeover.build import Part, build_of, called, described
from kitbuilder.report.numbers import System
from kitbuilder.report.words import sentence
from tests.assess.kits import config, kit_of, lone_hose


def names(text: str) -> dict[str, str]:
    """Each part of a kit as it is called, with its description."""
    parts = build_of(resolve(kit_of(text), NOTHING_LINKED)).parts.values()
    return {called(part): sentence(described(part), System.METRIC) for part in parts}


def test_an_adapter_of_a_kit_is_called_after_its_hose_and_its_end() -> None:
    """It has no tag; whatever else has one is called by it."""
    both = lone_hose(to_adapter="elbow 90", from_adapter="elbow 90")
    assert names(both) == {
        "hose": "LP hose, rubber, 75 cm, LP 3/8 to second stage 9/16.",
        "the elbow 90 of hose": "elbow 90.",
        "the elbow 90 of hose at its port": "elbow 90.",
    }


def test_a_part_is_described_by_its_preset_or_by_what_it_takes() -> None:
    """By hand from the file."""
    found = names(config("sidemount"))
    assert found["right"] == "brass, DIN, turret 5 LP 2 HP."
    assert found["drysuit hose"] == "LP hose, braided, 35 cm, LP 3/8 to standard nipple coupling."
    assert found["left gauge"] == "brass gauge."
    assert "the elbow 90 of short hose" in found


def test_an_adapter_of_the_gear_file_has_a_tag() -> None:
    """And is called by it, without the space that keeps its key apart."""
    owned = OwnedAdapter(tag="bent one", adapter="elbow 90")
    build = build_of(resolve(kit_of(lone_hose(to_adapter="elbow 90")), NOTHING_LINKED))
    [own] = [part for part in build.parts.values() if part.kind == "adapter"]
    assert isinstance(own, Part)
    assert called(own._replace(key="bent one ", item=owned)) == "bent one"
