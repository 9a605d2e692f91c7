"""Values of kit, gear and diver files that are more likely a slip than true."""

import pytest

from kitbuilder.assess.assessment import assess
from kitbuilder.assess.doubts import NO_DOUBT, doubt_in_diver, doubt_in_gear, doubt_in_kit
from kitbuilder.assess.findings import Amount
from kitbuilder.kit.diver import Diver, DiverHeader
from kitbuilder.kit.file_kinds import GEAR_FILE, KIT_FILE
from kitbuilder.kit.items import Header, Hose, Kit
from kitbuilder.kit.resolved import resolve
from kitbuilder.kitfile.reader import parse_as

HEAD = 'format = 1\nholds = "gear"\nname = "x"\n\n'
HOSE = '[[hose]]\ntag = "a"\nbody = "rubber"\nlength = "75 cm"\n'
TO_SECOND = 'from_end = "LP 3/8"\nto_end = "second stage 9/16"\n'
TO_GAUGE = 'from_end = "HP 7/16"\nto_end = "gauge swivel"\n'


@pytest.mark.parametrize(
    ("item", "key", "is_doubted"),
    [
        # A hose of 75 cm weighs a few hundred grams; a slip of the comma makes it kilograms.
        (f'{HOSE}{TO_SECOND}mass = "2.9 kg"', "mass", True),
        (f'{HOSE}{TO_SECOND}mass = "0.15 kg"', "mass", False),
        (f'{HOSE}{TO_GAUGE}mass = "2.9 kg"', "mass", True),
        # The catalogue's brass gauge weighs 0.15 to 0.3 kg.
        ('[[gauge]]\ntag = "a"\npreset = "brass gauge"\nmass = "2.2 kg"', "mass", True),
        ('[[gauge]]\ntag = "a"\npreset = "brass gauge"\nmass = "0.2 kg"', "mass", False),
        # 0.75 kg of steel do not hold 12 L at 232 bar.
        ('[[cylinder]]\ntag = "a"\npreset = "steel 12 L 232 long"\nmass = "1.5 kg"', "mass", True),
        # Nothing is heavier under water than in air.
        ('[[other]]\ntag = "a"\nmass = "1 kg"\nbuoyancy = "-2 kg"', "buoyancy", True),
        ('[[other]]\ntag = "a"\nmass = "1 kg"\nbuoyancy = "-0.2 kg"', "buoyancy", False),
        # Another key than the one that is typed, and kinds that no kit has.
        (f'{HOSE}{TO_SECOND}mass = "2.9 kg"', "length", False),
        ('[[plug]]\ntag = "a"\nthread = "3/8-24 UNF"\npieces = 4', "pieces", False),
    ],
)
def test_a_value_of_a_gear_file(item: str, key: str, is_doubted: bool) -> None:
    reading = parse_as(f"{HEAD}{item}\n", GEAR_FILE)
    assert reading.gear is not None, reading.problems
    assert (doubt_in_gear(reading.gear, reading.gear, 0, key) != NO_DOUBT) == is_doubted
    assert doubt_in_gear(reading.gear, reading.gear, None, key) == NO_DOUBT


TORCH = '[[other]]\ntag = "a"\npreset = "back-up torch"\n'
PLAIN = '[[other]]\ntag = "a"\nmass = "1 kg"\n'


@pytest.mark.parametrize(
    ("before", "typed", "is_doubted"),
    [
        # The catalogue's back-up torch sinks by 0.05 to 0.25 kg; a scale under water reads 0.15 and shows no minus.
        (TORCH, f'{TORCH}buoyancy = "0.15 kg"', True),
        (TORCH, f'{TORCH}buoyancy = "-0.15 kg"', False),
        (TORCH, f'{TORCH}buoyancy = "neutral"', False),
        # A wrong sign is corrected without a question.
        (f'{TORCH}buoyancy = "0.15 kg"', f'{TORCH}buoyancy = "-0.15 kg"', False),
        # Without a preset an earlier reading says how it floats.
        (f'{PLAIN}buoyancy = "-0.2 kg"', f'{PLAIN}buoyancy = "0.2 kg"', True),
        (PLAIN, f'{PLAIN}buoyancy = "0.2 kg"', False),
    ],
)
def test_a_buoyancy_of_the_other_sign(before: str, typed: str, is_doubted: bool) -> None:
    earlier, now = (parse_as(f"{HEAD}{item}\n", GEAR_FILE) for item in (before, typed))
    assert earlier.gear is not None, earlier.problems
    assert now.gear is not None, now.problems
    doubt = doubt_in_gear(earlier.gear, now.gear, 0, "buoyancy")
    assert (doubt != NO_DOUBT) == is_doubted
    assert doubt_in_gear(earlier.gear, now.gear, 0, "mass") == NO_DOUBT


@pytest.mark.parametrize(
    ("role", "length_m", "is_doubted"),
    [
        # A long hose is 150 to 213 cm long; 8 cm and 21 cm are none, and 210 in is a wrong unit.
        ("long hose", 0.08, True),
        ("long hose", 0.21, True),
        ("long hose", 210 * 0.0254, True),
        ("long hose", 1.0, False),
        ("long hose", 2.10, False),
        # A gauge hose is 15 cm in sidemount and up to 90 cm otherwise; what layout the kit has is not asked.
        ("gauge", 0.15, False),
        ("gauge", 0.90, False),
        ("gauge", 90 * 0.0254, True),
        ("other LP", 0.08, False),
    ],
)
def test_a_length_of_a_hose(role: str, length_m: float, is_doubted: bool) -> None:
    hose = Hose(tag="a", role=role, body="rubber", length_m=length_m)
    typed = assess(resolve(Kit(Header(format=1, name="", layout="sidemount"), (hose,))))
    assert (doubt_in_kit(typed, 0, "length") != NO_DOUBT) == is_doubted
    assert doubt_in_kit(typed, 0, "run") == NO_DOUBT
    assert doubt_in_kit(typed, None, "length") == NO_DOUBT


def diver(**measures: float) -> Diver:
    return Diver(DiverHeader(format=1, holds="diver", name="x", **measures), ())


USUAL = {"stature_m": 1.78, "mass_kg": 82.0}


@pytest.mark.parametrize(
    ("before", "typed", "key", "amount"),
    [
        # Next to nobody: 128 cm for 182, and 182 kg for 82.
        ({"mass_kg": 82.0}, {"stature_m": 1.28}, "stature", Amount(1.28, "length")),
        ({"stature_m": 1.78}, {"mass_kg": 182.0}, "mass", Amount(182.0, "body mass")),
        # 170 cm round the chest do not go with 178 cm and 82 kg; nor would 101 cm with the chest of another body.
        (USUAL, {"chest_m": 1.70}, "chest", Amount(1.70, "length")),
        (USUAL, {"chest_m": 1.01}, "chest", None),
        (USUAL, {"stature_m": 1.80}, "stature", None),
        # What did not go together before is not asked about with every other key.
        (USUAL | {"chest_m": 1.70}, {"waist_m": 0.88}, "waist", None),
        (USUAL | {"chest_m": 1.70}, {"chest_m": 1.71}, "chest", Amount(1.71, "length")),
    ],
)
def test_a_measure_of_a_body(
    before: dict[str, float], typed: dict[str, float], key: str, amount: Amount | None
) -> None:
    found = doubt_in_diver(diver(**before), diver(**before | typed), key)
    assert (amount in found) if amount else (found == NO_DOUBT)


@pytest.mark.parametrize(
    ("written", "is_doubted"),
    # The point of thousands read as that of a decimal: 0.2 bar. An empty cylinder and 3000 psi are no slip.
    [("3.000 psi", True), ("0.2 bar", True), ("0 bar", False), ("3000 psi", False), ("50 bar", False)],
)
@pytest.mark.parametrize("key", ["filled", "turn", "reserve"])
def test_a_pressure_next_to_nothing(key: str, written: str, is_doubted: bool) -> None:
    text = 'format = 1\nname = "x"\nlayout = "single"\n\n[[cylinder]]\ntag = "a"\npreset = "steel 12 L 232 long"\n'
    reading = parse_as(f'{text}{key} = "{written}"\n', KIT_FILE)
    assert reading.kit is not None, reading.problems
    assert (doubt_in_kit(assess(resolve(reading.kit)), 0, key) != NO_DOUBT) == is_doubted
