"""A catalogue that contradicts itself is refused, with file, entry and key."""

from pathlib import Path
from shutil import copy

import pytest

from kitbuilder.catalogue import CatalogueError
from kitbuilder.catalogue.load import FOLDER, load_catalogue

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
        f'bore = {{ value = "6.4 mm", origin = "{PRACTICE}" }}',
        'bore = { value = "6.4 mm" }',
        'bodies.toml, LP_body "rubber", bore: has no origin',
        id="no origin",
    ),
    pytest.param(
        "bodies.toml",
        f'"6.4 mm", origin = "{PRACTICE}"',
        '"6.4 mm", origin = " "',
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
    pytest.param("waters.toml", "[[water]]\nname", "[[water]\nname", "waters.toml: is not TOML: ", id="not TOML"),
]


@pytest.mark.parametrize(("file", "old", "new", "message"), BREAKAGES)
def test_a_broken_catalogue_says_where(folder: Path, file: str, old: str, new: str, message: str) -> None:
    """File, entry and key stand in the message, in this order."""
    replace(folder, file, old, new)
    with pytest.raises(CatalogueError) as refused:
        load_catalogue(folder)
    assert str(refused.value).startswith(message)


def test_a_missing_file_is_named(folder: Path) -> None:
    """All seven are needed."""
    (folder / "limits.toml").unlink()
    with pytest.raises(CatalogueError, match=r"^limits\.toml: cannot be read"):
        load_catalogue(folder)
