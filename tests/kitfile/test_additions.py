"""What can be added, and which everyday words find it."""

import pytest

from kitbuilder.assess.body import assess_body
from kitbuilder.assess.buoyancy.weigh_alone import weigh_alone
from kitbuilder.assess.water import water_named
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.fields import field_named
from kitbuilder.kit.file_kinds import GEAR_FILE, KIT_FILE
from kitbuilder.kit.items import LAYOUTS
from kitbuilder.kitfile.additions import Addition, additions, first_item, search_additions
from kitbuilder.kitfile.choices import choices_for
from kitbuilder.kitfile.starters import first_owned, first_values, which_key


@pytest.mark.parametrize(
    ("typed", "first"),
    [
        ("torch", "back-up torch"),
        ("torhc", "back-up torch"),
        ("light", "back-up torch"),
        ("canister light", "canister torch"),
        ("wetsuit", "full suit, 5 mm"),
        ("regulator", "brass, DIN, 4 LP 2 HP"),
        ("reg yoke", "brass, yoke, 4 LP 2 HP"),
        ("computer", "wrist computer"),
        ("camera", "camera, small action"),
        ("buoy", "surface marker buoy"),
        ("SMB", "surface marker buoy"),
        ("dsmb", "surface marker buoy"),
        ("reel", "reel"),
        ("spool", "finger spool"),
        ("knife", "knife"),
        ("knives", "knife"),
        ("cutter", "line cutter"),
        ("tank", "steel 3 L 232"),
        ("bottle 15", "steel 15 L 232"),
        ("al80", "aluminium 11.1 L 207"),
        ("BCD", "single-cylinder wing"),
        ("jacket", "standard jacket"),
        ("stab", "standard jacket"),
        ("boots", "boots, 5 mm"),
        ("hood", "hood, 5 mm"),
        ("gloves", "gloves, 5 mm"),
        ("7 mm hood", "hood, 7 mm"),
        ("slate", "slate"),
        ("lead", "lead"),
        ("weights", "lead"),
        ("drysuit", "trilaminate shell"),
        ("dry suit hose", "drysuit hose"),
        ("octopus", "plastic body"),
        ("octopus hose", "alternate hose"),
        ("inflator", "wing inflator hose"),
        ("long hose", "long hose"),
        ("SPG", "brass gauge"),
        ("fins", "fins, open heel rubber"),
        ("snorkel", "snorkel"),
        ("compass", "compass"),
        ("backplate", "back-plate, steel 3 mm"),
        ("scissors", "shears"),
    ],
)
def test_everyday_words(typed, first):
    assert search_additions(typed)[0].name == first


@pytest.mark.parametrize("typed", ["torch", "lamp", "torches", "Light"])
def test_all_torches_come_before_anything_else(typed):
    torches = {name for _, name in catalogue().presets if name.endswith("torch")}
    assert {addition.name for addition in search_additions(typed)[: len(torches)]} == torches


@pytest.mark.parametrize("file", [KIT_FILE, GEAR_FILE], ids=lambda file: file.name)
def test_everything_there_is_can_be_added(file):
    """Every word of every kind, and what may be left open; each by a name of its own within its kind."""
    known = additions(file)
    assert len({(addition.kind, addition.name) for addition in known}) == len(known)
    assert {addition.kind for addition in known} == set(file.kinds)
    for kind, record in file.kinds.items():
        if (key := which_key(kind, file)) and kind != "hose":
            words = {addition.word for addition in known if addition.kind == kind}
            assert words - {None} == set(choices_for(field_named(record, key), kind))
            assert (None in words) == (key == "preset")


@pytest.mark.parametrize("addition", additions(), ids=lambda addition: addition.name)
def test_what_is_added_with_a_word_has_mass_and_buoyancy(addition: Addition):
    """Both with a spread: nothing of the catalogue is exact. Without a preset nothing is known."""
    item = first_item(addition, LAYOUTS[0])
    assert item is not None
    weight = weigh_alone(item, water_named("ocean"), assess_body(None))
    if addition.name.endswith("without preset"):
        assert weight is None
    else:
        assert weight.mass.value > 0
        assert weight.mass.spread > 0
        assert weight.buoyancy.spread > 0


@pytest.mark.parametrize("file", [KIT_FILE, GEAR_FILE], ids=lambda file: file.name)
def test_the_tag_says_what_it_is(file):
    """A hose and any other item are called by what they are, so that two of them differ."""
    tags = {addition.name: addition.tag for addition in additions(file)}
    assert tags["hand-held torch"] == "hand-held torch"
    assert tags["fins, light travel"] == "fins"
    assert tags["plastic body"] == "second stage"
    assert tags["gauge hose"] == "gauge hose"
    assert tags["long hose"] == "long hose"


def test_the_word_goes_into_the_file():
    (torch,) = search_additions("hand-held torch")
    assert first_values("single", torch.kind, torch.word, "t") == {"tag": "t", "preset": "hand-held torch"}
    assert first_owned(torch.kind, torch.word, "t") == {"tag": "t", "preset": "hand-held torch"}
