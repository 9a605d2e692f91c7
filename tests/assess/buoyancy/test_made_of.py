"""What a kit is made of: the words by which a float check knows the kit again."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.buoyancy.made_of import difference_of, made_of
from kitbuilder.kit.things import Cylinder, Drysuit, Hose, Kit, Lead, Other, Suit, Thing
from tests.assess.kits import PLAIN, WHOLE, config, kit_of, swapped, with_header, with_things
from tests.laws import tried

KITS = {name: kit_of(config(name)) for name in WHOLE}
KIT = kit_of(PLAIN)
DRY = with_things(KIT, Drysuit(tag="drysuit", preset="trilaminate shell", undersuit="heavy"))


def without_lead_and_hoses(kit: Kit) -> Kit:
    return Kit(kit.header, tuple(thing for thing in kit.things if not isinstance(thing, (Lead, Hose))))


def weighed(thing: Thing) -> Thing:
    """As after a day with a scale, dry and in a bucket."""
    if isinstance(thing, (Lead, Hose)):
        return thing
    if isinstance(thing, Cylinder):
        return replace(thing, stamped_mass_kg=14.0, mass_kg=14.3)
    told = {"mass_kg": 1.5, "buoyancy_kgf": -0.3}
    return replace(thing, **{key: value for key, value in told.items() if hasattr(thing, key)})


def test_the_plain_kit_in_words() -> None:
    """Its cylinder, suit and wing; no lead."""
    assert made_of(KIT) == "aluminium 11.1 L 207; full suit 5 mm; single-cylinder wing"


@given(name=st.sampled_from(WHOLE), data=st.data())
@tried(15)
def test_the_order_of_things_does_not_matter(name: str, data: st.DataObject) -> None:
    kit = KITS[name]
    assert made_of(Kit(kit.header, tuple(data.draw(st.permutations(kit.things))))) == made_of(kit)


@pytest.mark.parametrize("name", WHOLE)
def test_what_changes_no_kit(name: str) -> None:
    """A scale, other lead, other hoses, another water, another plan."""
    kit = KITS[name]
    same = [
        Kit(kit.header, tuple(weighed(thing) for thing in kit.things)),
        without_lead_and_hoses(kit),
        with_things(kit, Lead(tag="more lead", mass_kg=2.0)),
        with_header(kit, water="fresh", salinity_kg_per_kg=None, temperature_k=277.15),
        with_header(kit, name="renamed", diver="another.toml", deepest_m=40.0, stop_m=6.0),
    ]
    assert {made_of(each) for each in same} == {made_of(kit)}


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
        (KIT, with_things(KIT, Other(tag="torch", mass_kg=1.0)), "now torch"),
        (KIT, with_things(KIT, Suit(tag="hood", cut="hood", thickness_m=0.005)), "now hood 5 mm"),
        (KIT, Kit(KIT.header, KIT.things[1:]), "then aluminium 11.1 L 207"),
        (
            KIT,
            with_things(KIT, Cylinder(tag="second tank", preset="aluminium 11.1 L 207")),
            "other numbers of the same things",
        ),
    ],
)
def test_what_changes_a_kit(kit: Kit, changed: Kit, difference: str) -> None:
    """And how it is told; the other way round then and now change places."""
    assert made_of(changed) != made_of(kit)
    assert difference_of(made_of(kit), made_of(changed)) == difference
    other = {"then": "now", "now": "then"}
    turned = {" ".join([other.get(first, first), *rest]) for first, *rest in map(str.split, difference.split(", "))}
    assert set(difference_of(made_of(changed), made_of(kit)).split(", ")) == turned


def test_a_cylinder_of_its_own_is_its_metal_and_size() -> None:
    """Without a preset the numbers of the file tell it apart."""
    own = swapped(KIT, "tank", preset=None, metal="steel", volume_m3=0.012)
    assert "steel 12.0 L" in made_of(own)
    assert made_of(swapped(own, "tank", volume_m3=0.015)) != made_of(own)
    assert made_of(swapped(own, "tank", metal="aluminium")) != made_of(own)
