"""A catalogue that contradicts itself is refused, with file, entry and key."""

from pathlib import Path
from shutil import copy

import pytest

from kitbuilder.catalogue import CatalogueError
from kitbuilder.catalogue.load import FILES, FOLDER, load_catalogue

PRACTICE = "common practice, no source"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the catalogue to break."""
    for file in FOLDER.glob("*.toml"):
        copy(file, tmp_path)
    return tmp_path


def replace(folder: Path, file: str, old: str, new: str) -> None:
    """Break the first place where a text stands."""
    text = (folder / file).read_text(encoding="utf-8")
    assert old in text
    (folder / file).write_text(text.replace(old, new, 1), encoding="utf-8")


def test_the_copy_is_whole(folder: Path) -> None:
    """Otherwise the breakages below would prove nothing."""
    assert load_catalogue(folder) == load_catalogue()


BREAKAGES = [
    pytest.param(
        "diver.toml",
        'ends = "95 %"',
        'ends = "90 %"',
        'diver.toml, body, density_male, ends: is left out for bounds, or "95 %" beside low and high',
        id="another share",
    ),
    pytest.param(
        "waters.toml",
        'temperature = { value = "15 °C", low = "4 °C", high = "25 °C",',
        'temperature = { value = "15 °C", ends = "95 %",',
        'waters.toml, water "fresh", temperature, ends: is left out for bounds, or "95 %" beside low and high',
        id="ends without a range",
    ),
    pytest.param(
        "bodies.toml",
        "surface =",
        "surfaces =",
        'bodies.toml, LP_body "rubber", surface: is missing',
        id="misspelt key",
    ),
    pytest.param(
        "limits.toml",
        "[mass]\n",
        "[masses]\n",
        'limits.toml, masses: unknown key; did you mean "mass"?',
        id="unknown table",
    ),
    pytest.param(
        "fittings.toml",
        'place = "first stage"\n',
        'place = "first stage"\ncolour = "black"\n',
        'fittings.toml, fitting "LP 3/8", colour: unknown key',
        id="unknown key of an entry",
    ),
    pytest.param(
        "bodies.toml",
        'bore = { value = "6.4 mm"',
        'bore = { typical = "6.4 mm"',
        'bodies.toml, LP_body "rubber", bore: unknown key typical',
        id="unknown key of a value",
    ),
    pytest.param(
        "bodies.toml",
        f'bore = {{ value = "6.4 mm", low = "6 mm", high = "6.8 mm", origin = "{PRACTICE}" }}',
        'bore = { value = "6.4 mm" }',
        'bodies.toml, LP_body "rubber", bore: has no origin',
        id="no origin",
    ),
    pytest.param(
        "bodies.toml",
        f'"6.8 mm", origin = "{PRACTICE}"',
        '"6.8 mm", origin = " "',
        'bodies.toml, LP_body "rubber", bore: has no origin',
        id="blank origin",
    ),
    pytest.param(
        "roles.toml",
        f'LP 3/8"\nto_end = "second stage 9/16"\nnote = "over the right shoulder to the mouth"\norigin = "{PRACTICE}"',
        'LP 3/8"\nto_end = "second stage 9/16"',
        'roles.toml, role "primary", origin: is missing',
        id="no origin of an entry",
    ),
    pytest.param(
        "fittings.toml",
        'joint = "3/8-24 UNF"',
        'joint = "3/8-24 UNC"',
        'fittings.toml, fitting "LP 3/8", joint: there is no "3/8-24 UNC"; did you mean "3/8-24 UNF"?',
        id="unknown joint",
    ),
    pytest.param(
        "fittings.toml",
        'far_side = { joint = "9/16-18 UNF"',
        'far_side = { joint = "9/16"',
        'fittings.toml, adapter "elbow 90", far_side, joint: there is no "9/16"',
        id="unknown joint of an adapter",
    ),
    pytest.param(
        "roles.toml",
        'to_end = "second stage 9/16"',
        'to_end = "second stage"',
        'roles.toml, role "primary", to_end: there is no "second stage"',
        id="unknown fitting of a role",
    ),
    pytest.param(
        "roles.toml",
        'from_end = "LP 3/8"',
        'from_end = "HP 7/16"',
        'roles.toml, role "primary", from_end: there is no "HP 7/16"',
        id="fitting of the other pressure",
    ),
    pytest.param(
        "roles.toml",
        "[role.customary]\nsingle",
        "[role.customary]\nsolo",
        'roles.toml, role "primary", customary, solo: unknown key',
        id="unknown layout",
    ),
    pytest.param(
        "presets.toml",
        'inlet = "9/16"',
        'inlet = "gauge swivel"',
        'presets.toml, second_stage "plastic body", inlet: there is no "gauge swivel"',
        id="inlet of the other pressure",
    ),
    pytest.param(
        "presets.toml",
        "LP2 3/8-24 UNF",
        "LP1 3/8-24 UNF",
        'presets.toml, first_stage "brass, DIN, 4 LP 2 HP", ports: "LP1 3/8-24 UNF" is not a new label',
        id="port label twice",
    ),
    pytest.param(
        "presets.toml",
        "LP2 3/8-24 UNF",
        "LP2 3/8",
        'presets.toml, first_stage "brass, DIN, 4 LP 2 HP", ports: "LP2 3/8" is not a new label and a known thread',
        id="port without a thread",
    ),
    pytest.param(
        "presets.toml",
        f'density = {{ value = "8400 kg/m3", origin = "brass, {PRACTICE}" }}\n',
        "",
        'presets.toml, first_stage "brass, DIN, 4 LP 2 HP", density: give either a density or a buoyancy_salt',
        id="neither density nor buoyancy",
    ),
    pytest.param(
        "bodies.toml",
        '"12 mm", low = "11 mm"',
        '"12 mm", low = "12.1 mm"',
        'bodies.toml, LP_body "rubber", outside_diameter: the value does not lie between low and high',
        id="low above the value",
    ),
    pytest.param(
        "bodies.toml",
        'low = "11 mm", high = "12.8 mm"',
        'low = "11 mm", high = "11.8 mm"',
        'bodies.toml, LP_body "rubber", outside_diameter: the value does not lie between low and high',
        id="value above high",
    ),
    pytest.param(
        "presets.toml",
        'low = "-0.12 kg", high = "-0.03 kg"',
        'low = "-0.03 kg", high = "-0.12 kg"',
        'presets.toml, second_stage "plastic body", buoyancy_salt: the value does not lie between low and high',
        id="low and high the wrong way round",
    ),
    pytest.param(
        "bodies.toml",
        'low = "11 mm", high = "12.8 mm"',
        'low = "11 mm"',
        'bodies.toml, LP_body "rubber", outside_diameter, high: is missing',
        id="low without high",
    ),
    pytest.param(
        "bodies.toml",
        'bore = { value = "6.4 mm"',
        "bore = { value = 6.4",
        'bodies.toml, LP_body "rubber", bore, value: is missing, or is not a quantity in quotes',
        id="bare number",
    ),
    pytest.param(
        "bodies.toml",
        'bore = { value = "6.4 mm"',
        'bore = { value = "6.4 kg"',
        'bodies.toml, LP_body "rubber", bore, value: "6.4 kg" is a mass, not a length',
        id="wrong unit",
    ),
    pytest.param(
        "roles.toml",
        '"necklace", "alternate"]',
        '"necklace"]',
        "roles.toml, second_stages: breathed and given do not have the same roles",
        id="a role that is given and never breathed",
    ),
    pytest.param(
        "roles.toml",
        'given = ["long hose"',
        'given = ["gauge"',
        'roles.toml, second_stages, given: there is no "gauge"',
        id="a gauge that is given",
    ),
    pytest.param(
        "roles.toml",
        '"15 cm", "23 cm"',
        '"23 cm", "15 cm"',
        "roles.toml, stock_lengths, LP: is not in order",
        id="stock lengths out of order",
    ),
    pytest.param(
        "roles.toml",
        "crosses_neck = true",
        'crosses_neck = "yes"',
        'roles.toml, role "long hose", crosses_neck: is not true or false',
        id="a flag in words",
    ),
    pytest.param(
        "waters.toml",
        'name = "brackish"',
        'name = "fresh"',
        'waters.toml, water "fresh", name: is there twice',
        id="name twice",
    ),
    pytest.param(
        "joints.toml",
        'Td2 = "0.142 mm"\n',
        "",
        'joints.toml, thread "G 5/8", tolerances, Td2: is missing',
        id="tolerance missing",
    ),
    pytest.param(
        "cylinders.toml",
        'metal = "steel"',
        'metal = "stele"',
        'cylinders.toml, cylinder "steel 3 L 232", metal: there is no "stele"; did you mean "steel"?',
        id="unknown metal",
    ),
    pytest.param(
        "cylinders.toml",
        'working_pressure = { value = "232 bar"',
        'working_pressure = { value = "232 L"',
        'cylinders.toml, cylinder "steel 3 L 232", working_pressure, value: "232 L" is a volume, not a pressure',
        id="wrong unit of a cylinder",
    ),
    pytest.param(
        "cylinders.toml",
        f'diameter = {{ value = "100 mm", origin = "{PRACTICE}" }}\n',
        "",
        'cylinders.toml, cylinder "steel 3 L 232", diameter: is missing',
        id="size of a cylinder missing",
    ),
    pytest.param(
        "cylinders.toml",
        'name = "steel 5 L 232"',
        'name = "steel 3 L 232"',
        'cylinders.toml, cylinder "steel 3 L 232", name: is there twice',
        id="cylinder twice",
    ),
    pytest.param(
        "cylinders.toml",
        'value = "4.2 kg", low = "3.8 kg"',
        'value = "4.2 kg", low = "4.3 kg"',
        'cylinders.toml, cylinder "steel 3 L 232", mass: the value does not lie between low and high',
        id="mass of a cylinder outside its range",
    ),
    pytest.param(
        "cylinders.toml",
        "strength = {",
        "strenght = {",
        'cylinders.toml, metal "steel", strength: is missing',
        id="strength of a metal misspelt",
    ),
    pytest.param(
        "cylinders.toml",
        'name = "none"\nmass = { value = "0 kg", origin = "by definition" }',
        'name = "none"\nmass = { value = "0 kg" }',
        'cylinders.toml, valve "none", mass: has no origin',
        id="no origin of a valve",
    ),
    pytest.param(
        "cylinders.toml",
        '[[valve]]\nname = "single outlet"',
        '[[tap]]\nname = "single outlet"',
        "cylinders.toml, tap: unknown key",
        id="unknown table of cylinders",
    ),
    pytest.param(
        "suits.toml",
        'density = { value = "230 kg/m3"',
        "density = { value = 230",
        'suits.toml, foam "standard", density, value: is missing, or is not a quantity in quotes',
        id="bare density of foam",
    ),
    pytest.param(
        "suits.toml",
        'coverage = { value = "81 %"',
        'coverage = { value = "0.81"',
        'suits.toml, cut "full suit", coverage, value: "0.81" has no unit',
        id="coverage without a unit",
    ),
    pytest.param(
        "suits.toml",
        'place = "whole body"',
        'place = "whole boddy"',
        'suits.toml, cut "full suit", place: there is no "whole boddy"; did you mean "whole body"?',
        id="unknown place of a cut",
    ),
    pytest.param(
        "suits.toml",
        'gas = { low = "5 L", high = "7 L"',
        'gas = { low = "5 kg", high = "7 kg"',
        'suits.toml, undersuit "light", gas, low: "5 kg" is a mass, not a volume',
        id="gas of an undersuit in kilograms",
    ),
    pytest.param(
        "places.toml",
        "hangs_from = true",
        'hangs_from = "yes"',
        'places.toml, place "back cylinder", hangs_from: is not true or false',
        id="a flag of a place in words",
    ),
    pytest.param(
        "places.toml",
        'behind = { value = "0 cm", low = "-3 cm"',
        'behind = { value = "0 %", low = "-3 cm"',
        'places.toml, place "head", behind, value: "0 %" is a fraction, not a length',
        id="wrong unit of a place",
    ),
    pytest.param(
        "places.toml",
        'lead         = "waist"',
        'lead         = "belt"',
        'places.toml, usual, every, lead: there is no "belt"',
        id="unknown usual place",
    ),
    pytest.param(
        "places.toml",
        'lead         = "waist"\n',
        "",
        "places.toml, usual, every, lead: is missing",
        id="no usual place of a kind of item",
    ),
    pytest.param(
        "places.toml",
        'lead         = "waist"',
        'lead         = "waist"\nweights      = "waist"',
        "places.toml, usual, every, weights: unknown key",
        id="usual place of nothing",
    ),
    pytest.param(
        "places.toml",
        "[usual.sidemount]\nfirst_stage ",
        "[usual.sidemount]\nfirst_staeg ",
        'places.toml, usual, sidemount, first_staeg: unknown key; did you mean "first_stage"?',
        id="misspelt kind in a layout",
    ),
    pytest.param(
        "places.toml",
        "[usual.twinset]",
        "[usual.triples]",
        "places.toml, usual, triples: unknown key",
        id="unknown layout of places",
    ),
    pytest.param(
        "diver.toml",
        "[foam_suit]",
        "[foam_suits]",
        "diver.toml, foam_suit, lining: is missing",
        id="unknown table of a diver",
    ),
    pytest.param(
        "diver.toml",
        'argon    = { value = "0.92 %"',
        'argon    = { value = "0.92 g"',
        'diver.toml, air, argon, value: "0.92 g" is a mass, not a fraction',
        id="part of air in grams",
    ),
    pytest.param(
        "diver.toml",
        "breath      = {",
        "breath_out  = {",
        "diver.toml, body, breath: is missing",
        id="misspelt fact of the body",
    ),
    pytest.param(
        "diver.toml",
        'lining  = { value = "0.35 kg/m2"',
        'lining  = { value = "0.35 kg"',
        'diver.toml, foam_suit, lining, value: "0.35 kg" is a mass, not an area density',
        id="wrong unit of linings",
    ),
    pytest.param(
        "presets.toml",
        'lift = { low = "13 kg", high = "18 kg"',
        'lift = { low = "13 L", high = "18 L"',
        'presets.toml, wing "single-cylinder wing", lift, low: "13 L" is a volume, not a buoyancy',
        id="lift in litres",
    ),
    pytest.param(
        "presets.toml",
        f'lift = {{ low = "13 kg", high = "18 kg", origin = "{PRACTICE}" }}\n',
        "",
        'presets.toml, wing "single-cylinder wing", lift: is missing',
        id="a wing without lift",
    ),
    pytest.param(
        "presets.toml",
        'place = "back"',
        'place = "bakc"',
        'presets.toml, other "back-plate, steel 3 mm", place: there is no "bakc"; did you mean "back"?',
        id="unknown place of a preset",
    ),
    pytest.param(
        "presets.toml",
        "foam = true",
        "foam = 1",
        'presets.toml, other "boots, 5 mm", foam: is not true or false',
        id="a flag in numbers",
    ),
    pytest.param(
        "limits.toml",
        'level = { value = "10 °"',
        'level = { value = "10 °C"',
        'limits.toml, angle, level, value: "10 °C" is not an angle',
        id="an angle in degrees of temperature",
    ),
    pytest.param(
        "routes.toml",
        'name = "gauge up to the right of the chest"',
        'name = "sender along the left cylinder"',
        'routes.toml, route "sender along the left cylinder", name: is there twice',
        id="a route with the name of another one mirrored",
    ),
    pytest.param(
        "landmarks.toml",
        'on = "right collarbone"',
        'on = "right collar bone"',
        'landmarks.toml, landmark "front of the right shoulder", on: there is no "right collar bone"; '
        'did you mean "right collarbone"?',
        id="a landmark on skin that is not there",
    ),
    pytest.param("waters.toml", "[[water]]\nname", "[[water]\nname", "waters.toml: is not TOML: ", id="not TOML"),
]


@pytest.mark.parametrize(("file", "old", "new", "message"), BREAKAGES)
def test_a_broken_catalogue_says_where(folder: Path, file: str, old: str, new: str, message: str) -> None:
    """File, entry and key stand in the message, in this order."""
    replace(folder, file, old, new)
    with pytest.raises(CatalogueError) as refused:
        load_catalogue(folder)
    assert str(refused.value).startswith(message)


@pytest.mark.parametrize("name", FILES)
def test_a_missing_file_is_named(folder: Path, name: str) -> None:
    """All of them are needed."""
    (folder / f"{name}.toml").unlink()
    with pytest.raises(CatalogueError, match=rf"^{name}\.toml: cannot be read"):
        load_catalogue(folder)


def test_there_is_no_file_that_is_not_read() -> None:
    """Eleven are read when first asked, each by a loader of its own."""
    on_demand = (
        "air_rules", "allowances", "bench_work", "everyday_words", "rental", "rules_of_thumb", "spares", "styles",
        "swaps", "travel_facts", "upkeep",
    )  # fmt: skip
    assert sorted((*FILES, *on_demand)) == sorted(path.stem for path in FOLDER.glob("*.toml"))
