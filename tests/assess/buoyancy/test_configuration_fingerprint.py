"""What a kit is made of: the words by which a float check knows the kit again."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.buoyancy.configuration_fingerprint import configuration_fingerprint, difference_of
from kitbuilder.kit.items import Cylinder, Drysuit, Hose, Item, Kit, Lead, Other, Suit
from tests.assess.kits import PLAIN, WHOLE, config, kit_of, swapped, with_header, with_items
from tests.laws import tried

KITS = {name: kit_of(config(name)) for name in WHOLE}
KIT = kit_of(PLAIN)
DRY = with_items(KIT, Drysuit(tag="drysuit", preset="trilaminate shell", undersuit="heavy"))


def without_lead_and_hoses(kit: Kit) -> Kit:
    return Kit(kit.header, tuple(item for item in kit.items if not isinstance(item, (Lead, Hose))))


def weighed(item: Item) -> Item:
    """As after a day with a scale, dry and in a bucket."""
    if isinstance(item, (Lead, Hose)):
        return item
    if isinstance(item, Cylinder):
        return replace(item, stamped_mass_kg=14.0, mass_kg=14.3)
    described = {"mass_kg": 1.5, "buoyancy_kgf": -0.3}
    return replace(item, **{key: value for key, value in described.items() if hasattr(item, key)})


def test_the_plain_kit_in_words() -> None:
    """Its cylinder, suit and wing; no lead."""
    assert configuration_fingerprint(KIT) == "aluminium 11.1 L 207; full suit 5 mm; single-cylinder wing"


@given(name=st.sampled_from(WHOLE), data=st.data())
@tried(15)
def test_the_order_of_items_does_not_matter(name: str, data: st.DataObject) -> None:
    kit = KITS[name]
    assert configuration_fingerprint(
        Kit(kit.header, tuple(data.draw(st.permutations(kit.items))))
    ) == configuration_fingerprint(kit)


@pytest.mark.parametrize("name", WHOLE)
def test_what_changes_no_kit(name: str) -> None:
    """A scale, other lead, other hoses, another water, another plan."""
    kit = KITS[name]
    same = [
        Kit(kit.header, tuple(weighed(item) for item in kit.items)),
        without_lead_and_hoses(kit),
        with_items(kit, Lead(tag="more lead", mass_kg=2.0)),
        with_header(kit, water="fresh", salinity_kg_per_kg=None, temperature_k=277.15),
        with_header(kit, name="renamed", diver="another.toml", deepest_m=40.0, stop_m=6.0),
    ]
    assert {configuration_fingerprint(each) for each in same} == {configuration_fingerprint(kit)}


@pytest.mark.parametrize(
    ("kit", "changed", "difference"),
    [
        (
            KIT,
            swapped(KIT, "tank", preset="steel 12 L 232 long"),
            "then aluminium 11.1 L 207, now steel 12 L 232 long",
        ),
        (KIT, swapped(KIT, "suit", thickness_m=0.007), "then full suit 5 mm, now full suit 7 mm"),
        (KIT, swapped(KIT, "suit", cut="shorty"), "then full suit 5 mm, now shorty 5 mm"),
        (
            DRY,
            swapped(DRY, "drysuit", undersuit="thin"),
            "then trilaminate shell over heavy, now trilaminate shell over thin",
        ),
        (DRY, swapped(DRY, "drysuit", undersuit=None), "then trilaminate shell over heavy, now trilaminate shell"),
        (KIT, with_items(KIT, Other(tag="torch", mass_kg=1.0)), "now torch"),
        (KIT, with_items(KIT, Suit(tag="hood", cut="hood", thickness_m=0.005)), "now hood 5 mm"),
        (KIT, Kit(KIT.header, KIT.items[1:]), "then aluminium 11.1 L 207"),
        (
            KIT,
            with_items(KIT, Cylinder(tag="second tank", preset="aluminium 11.1 L 207")),
            "other numbers of the same items",
        ),
    ],
)
def test_what_changes_a_kit(kit: Kit, changed: Kit, difference: str) -> None:
    """And how it is worded; the other way round then and now change places."""
    assert configuration_fingerprint(changed) != configuration_fingerprint(kit)
    assert difference_of(configuration_fingerprint(kit), configuration_fingerprint(changed)) == difference
    other = {"then": "now", "now": "then"}
    turned = {" ".join([other.get(first, first), *rest]) for first, *rest in map(str.split, difference.split(", "))}
    assert set(difference_of(configuration_fingerprint(changed), configuration_fingerprint(kit)).split(", ")) == turned


def test_a_cylinder_of_its_own_is_its_metal_and_size() -> None:
    """Without a preset the numbers of the file tell it apart."""
    own = swapped(KIT, "tank", preset=None, metal="steel", volume_m3=0.012)
    assert "steel 12.0 L" in configuration_fingerprint(own)
    assert configuration_fingerprint(swapped(own, "tank", volume_m3=0.015)) != configuration_fingerprint(own)
    assert configuration_fingerprint(swapped(own, "tank", metal="aluminium")) != configuration_fingerprint(own)
