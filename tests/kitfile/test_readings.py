"""A reading of a scale with its spread: kept from the file to the figure, and nowhere else accepted."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.buoyancy.cylinder_weight import work_out_vessel
from kitbuilder.assess.water import water_named
from kitbuilder.kit.fields import Field, ValueKind, fields_of
from kitbuilder.kit.file_kinds import FILE_KINDS, GEAR_FILE, KIT_FILE, TRIP_FILE, FileKind, record_of
from kitbuilder.kit.items import Cylinder, Device
from kitbuilder.kit.resolved import LinkedFiles, resolve
from kitbuilder.kitfile.reader import parse_as, read_kit
from kitbuilder.kitfile.values import Refusal, parse_attributes
from tests.each import each
from tests.kitfile.support import opened

KIT = """format = 1
name = "one light"
layout = "single"

[[other]]
tag = "light"
"""
GEAR = """format = 1
holds = "gear"
name = "the cellar"

[[other]]
tag = "the light"
mass = "2.10 kg ± 0.05 kg"
buoyancy = "-0.80 +- 0.02 kg"
"""
FIELDS = [
    (file, table, field)
    for file in FILE_KINDS.values()
    for table in ("", *file.kinds)
    for field in fields_of(record_of(table, file))
    if field.kind is ValueKind.QUANTITY
]
BOTH = {"mass", "buoyancy"}
WEIGHED = {
    "hose": {"mass"},
    "first_stage": {"mass"},
    "cylinder": {"mass"},
    "second_stage": BOTH,
    "gauge": BOTH,
    "transmitter": BOTH,
    "wing": BOTH,
    "jacket": BOTH,
    "drysuit": BOTH,
    "suit": BOTH,
    "other": BOTH,
}
WEIGHED_ON_A_TRIP = {"": {"wet"}, "luggage": {"mass"}, "bag": {"mass"}}
"""The keys that the reference calls weighed, by table; a number stamped or cast on a part is none of them."""


def light(text: str, gear: str | None = None) -> Device:
    """The one item of a kit, with what the gear file says of it."""
    kit = read_kit(text).kit
    assert kit is not None
    owned = parse_as(gear, GEAR_FILE).gear if gear else None
    [item] = resolve(kit, LinkedFiles(gear=owned)).items
    assert isinstance(item, Device)
    return item


@pytest.mark.parametrize("written", ["2.10 kg ± 0.05 kg", "2.10 ± 0.05 kg", "2.10 kg +- 0.05 kg", "2.10 kg +/- 50 g"])
def test_a_spread_is_kept_beside_its_value(written: str) -> None:
    found = light(f'{KIT}mass = "{written}"\n')
    assert found.mass_kg == pytest.approx(2.10)
    assert found.mass_spread_kg == pytest.approx(0.05)
    assert found.buoyancy_spread_kgf is None


def test_a_value_without_a_spread_has_none() -> None:
    assert light(f'{KIT}mass = "2.10 kg"\n').mass_spread_kg is None


def test_the_spread_of_the_gear_file_comes_with_its_value() -> None:
    found = light(f'{KIT}owned = "the light"\n', GEAR)
    assert (found.mass_kg, found.mass_spread_kg) == (pytest.approx(2.10), pytest.approx(0.05))
    assert (found.buoyancy_kgf, found.buoyancy_spread_kgf) == (pytest.approx(-0.80), pytest.approx(0.02))


def test_a_value_of_the_kit_does_not_take_the_spread_of_another_weighing() -> None:
    found = light(f'{KIT}owned = "the light"\nmass = "2.3 kg"\n', GEAR)
    assert (found.mass_kg, found.mass_spread_kg) == (pytest.approx(2.3), None)
    assert found.buoyancy_spread_kgf == pytest.approx(0.02)


@each(("file", "table", "field"), FIELDS)
def test_only_what_was_weighed_takes_a_spread(file: FileKind, table: str, field: Field) -> None:
    """Other keys say so in a sentence."""
    weighed = WEIGHED_ON_A_TRIP if file is TRIP_FILE else WEIGHED if file in (KIT_FILE, GEAR_FILE) else {}
    assert field.takes_spread == (field.key in weighed.get(table, ()))
    written = field.example.strip('"')
    unit = written.partition(" ")[2]
    with_spread = f"{written} ± 0.001 {unit}"
    if field.takes_spread:
        assert parse_attributes(field, table, with_spread).keys() == {field.attribute, field.spread_attribute}
        return
    with pytest.raises(Refusal) as refused:
        parse_attributes(field, table, with_spread)
    assert refused.value.found == f'"{with_spread}" has a spread'
    assert "Only a weighed mass or buoyancy may have one" in refused.value.accepted


@pytest.mark.parametrize(
    ("written", "says"),
    [
        ("2 kg ± 2 kg", "Write a spread that is smaller than the mass."),
        ("2.10 kg ± 0 kg", "has a spread of zero"),
        ("2.10 kg - 0.05 kg", "is a calculation"),
        ("2.10 ± 0.05", "has a spread without a unit"),
        ("45 kg ± 1 kg", "Accepted: from 0.005 to 40 kg."),
    ],
)
def test_a_wrong_reading_is_a_problem_on_its_line(written: str, says: str) -> None:
    result = read_kit(f'{KIT}mass = "{written}"\n')
    assert result.kit is None
    [problem] = result.problems
    assert problem.line == 7
    assert says in f"{problem.found}. {problem.accepted}"


@given(
    value=st.integers(1000, 30000),
    spread=st.integers(1, 900),
    sign=st.sampled_from(["±", "+-", "+/-"]),
    space=st.sampled_from(["", " "]),
)
def test_what_is_typed_stands_in_the_file_as_it_was_typed(value: int, spread: int, sign: str, space: str) -> None:
    """And is read as the two numbers that were typed, in grams."""
    written = f"{value / 1000:.3f}{space}{sign}{space}{spread / 1000:.3f} kg"
    found = light(f'{KIT}mass = "{written}"\n')
    assert found.mass_kg == pytest.approx(value / 1000)
    assert found.mass_spread_kg == pytest.approx(spread / 1000)


def test_neutral_is_no_buoyancy_with_a_spread() -> None:
    """The spread is stated in the catalogue: 0.1 kg, common practice; one that is written counts instead."""
    found = light(f'{KIT}mass = "2.3 kg"\nbuoyancy = "neutral"\n')
    assert (found.buoyancy_kgf, found.buoyancy_spread_kgf) == (0.0, pytest.approx(0.1))
    found = light(f'{KIT}mass = "2.3 kg"\nbuoyancy = "Neutral ± 30 g"\n')
    assert (found.buoyancy_kgf, found.buoyancy_spread_kgf) == (0.0, pytest.approx(0.03))


def one_cylinder(volume: str) -> Cylinder:
    text = KIT.replace("[[other]]", "[[cylinder]]").replace('"light"', '"left"')
    kit = read_kit(
        f'{text}volume = "{volume}"\nmetal = "aluminium"\nworking_pressure = "3000 psi"\nmass = "15 kg"\n'
    ).kit
    assert kit is not None
    [cylinder] = kit.items
    assert isinstance(cylinder, Cylinder)
    return cylinder


@pytest.mark.parametrize("written", ["80 cu ft at 3000 psi", "80 cuft @ 3,000 PSI", " 80 ft3 AT 206.84 bar"])
def test_a_cylinder_by_its_rated_capacity(written: str) -> None:
    """Source: aluminium 80, 11.03 L, as a diver-training textbook prints it (found). The spread is 5 %."""
    found = one_cylinder(written)
    assert found.volume_m3 == pytest.approx(11.03e-3, rel=0.005)
    assert found.volume_spread_m3 == pytest.approx(0.05 * found.volume_m3)
    vessel = work_out_vessel(found, water_named("ocean"))
    assert vessel is not None
    assert (vessel.volume.value, vessel.volume.spread) == (found.volume_m3, found.volume_spread_m3)
    assert vessel.volume.origin == "from its rated capacity"


def test_a_stamped_volume_has_no_spread_of_its_own() -> None:
    assert one_cylinder("11.1 L").volume_spread_m3 is None


@pytest.mark.parametrize(
    "written",
    ["80 at 3000 psi", "80 cu ft at 3000", "80 cu ft at 0 psi", "80 kg at 3000 psi"],
)
def test_half_a_rating_is_refused_with_an_example(written: str) -> None:
    text = KIT.replace("[[other]]", "[[cylinder]]")
    [problem] = read_kit(f'{text}volume = "{written}"\n').problems
    assert "80 cu ft at 3000 psi" in problem.accepted
    assert "12 L" in problem.accepted


def test_an_edit_keeps_the_spread_and_undo_takes_it_back(tmp_path: Path) -> None:
    document = opened(tmp_path, f'{KIT}mass = "2.1 kg" # spring\n')
    document.set_value(0, "mass", "2.10 kg ± 0.05 kg")
    assert document.text.endswith('mass = "2.10 kg ± 0.05 kg" # spring\n')
    assert light(document.text).mass_spread_kg == pytest.approx(0.05)
    assert document.undo()
    assert light(document.text).mass_spread_kg is None
