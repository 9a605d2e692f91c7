"""Quantities as people write them: every spelling that is accepted, and what is refused with which hint."""

import csv
import json
import re
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.spellings import (
    DIMENSIONS,
    OF_TWO_CASES,
    SCALES,
    WHOLE_UNITS,
    factors,
    folded,
    spellings_of,
    with_sign,
    with_unit,
)
from kitbuilder.units import QuantityError, parse_quantity, parse_reading, pattern_of, plausible_forms, unit_written
from tests.each import each

SP_811 = Path(__file__).parent / "sp811.tsv"
INCH = 0.0254
"""Metres; international yard and pound agreement of 1959."""


def published() -> list[tuple[str, str, str, bool]]:
    lines = [line for line in SP_811.read_text("utf-8").splitlines() if not line.startswith("#")]
    rows = csv.DictReader(lines, delimiter="\t")
    return [(row["dimension"], row["text"], row["factor"], row["exact"] == "exact") for row in rows]


@each(("dimension", "text", "factor", "exact"), published())
def test_units_have_the_published_factors(dimension: str, text: str, factor: str, exact: bool) -> None:
    """NIST Special Publication 811 (2008), appendix B.9; the tolerance is half of its last printed digit."""
    digits, _, exponent = factor.partition("E")
    tolerance = 0.0 if exact else 0.5 * 10.0 ** (int(exponent) - len(digits.partition(".")[2]))
    assert parse_quantity(f"1 {text}", dimension) == pytest.approx(float(factor), rel=1e-14, abs=tolerance)


AS_WRITTEN = [
    ("75CM", "length", 0.75),
    ("75 Cm", "length", 0.75),
    ("3000 PSI", "pressure", 3000 * 6894.757293168361),
    ("2.1 KG", "mass", 2.1),
    ("232BAR", "pressure", 232e5),
    ("12l", "volume", 0.012),
    ("12,5 kg", "mass", 12.5),
    ("-0,4 kg", "buoyancy", -0.4),
    (",5 kg", "mass", 0.5),
    ("0,500 kg", "mass", 0.5),
    ("1,2345 m", "length", 1.2345),
    ("1000,250 kg", "mass", 1000.25),
    ("3,000 psi", "pressure", 3000 * 6894.757293168361),
    ("1,250 g", "mass", 1.25),
    ("1,025 kg/m3", "density", 1025.0),
    ("1,234,567 Pa", "pressure", 1234567.0),
    ("3,000.5 mm", "length", 3.0005),
    ("28 1/2 in", "length", 28.5 * INCH),
    ("28½ in", "length", 28.5 * INCH),
    ("28 ½ in", "length", 28.5 * INCH),
    ("½ in", "length", 0.5 * INCH),
    ("28 1⁄2 in", "length", 28.5 * INCH),
    ('29½"', "length", 29.5 * INCH),
    ("30''", "length", 30 * INCH),
    ("30”", "length", 30 * INCH),
    ("30″", "length", 30 * INCH),
    ("30′′", "length", 30 * INCH),
    ("2'4", "length", 28 * INCH),
    ("2' 4\"", "length", 28 * INCH),
    ("2′ 4″", "length", 28 * INCH),
    ("2’ 4”", "length", 28 * INCH),
    ("2'4½", "length", 28.5 * INCH),
    ("-2'4", "length", -28 * INCH),
    ("2 ft. 4 in.", "length", 28 * INCH),
    ("75 centimetres", "length", 0.75),
    ("75 Centimeters", "length", 0.75),
    ("1 m 75 cm", "length", 1.75),
    ("1 kilo", "mass", 1.0),
    ("2 kilos", "mass", 2.0),
    ("5 lbs", "mass", 5 * 0.45359237),
    ("5 LBS.", "mass", 5 * 0.45359237),
    ("12 litres", "volume", 0.012),
    ("12 Liters", "volume", 0.012),
    ("80 cu ft", "volume", 80 * 0.3048**3),
    ("80 cuft", "volume", 80 * 0.3048**3),
    ("80 CF", "volume", 80 * 0.3048**3),
    ("80 cubic feet", "volume", 80 * 0.3048**3),
    ("neutral", "buoyancy", 0.0),
    (" Neutral ", "buoyancy", 0.0),
    ("–0.4 kg", "buoyancy", -0.4),
    ("18 c", "temperature", 291.15),
    ("64,4 ° F", "temperature", 291.15),
    ("18 celsius", "temperature", 291.15),
    ("24 TPI", "pitch", INCH / 24),
    ("60 l/MIN", "flow", 0.001),
    ("1.025 KG / L", "density", 1025.0),
    ("32 percent", "fraction", 0.32),
    # Units beyond the table, by definition: 6 survey feet; 14 pounds; the pascal; conventional mercury (SP 811).
    ("0.45 fathom", "length", 0.45 * 6 * 1200 / 3937),
    ("0.45 Fathoms", "length", 0.45 * 6 * 1200 / 3937),
    ("2.2 stone", "mass", 2.2 * 14 * 0.45359237),
    ("1500 kPa", "pressure", 1.5e6),
    ("1500 hPa", "pressure", 1.5e5),
    ("2,000,000 hPa", "pressure", 2e8),
    ("3 nautical miles", "length", 5556.0),
    ("2 stone", "buoyancy", 28 * 0.45359237),
    ("1 kN", "buoyancy", 1000 / 9.80665),
]
"""By hand, from the definitions of the units."""


@each(("text", "dimension", "exact"), AS_WRITTEN)
def test_as_people_write_it(text: str, dimension: str, exact: float) -> None:
    assert parse_quantity(text, dimension) == pytest.approx(exact, rel=1e-12, abs=1e-12)


LENGTHS, MASSES = 'write "75 cm" or "28 in"', 'write "0.21 kg" or "210 g" or "7.4 oz"'
REFUSED = [
    # The comma stands between two parts; read as that of a decimal, it was 6 ft and 0.2 in.
    ("6ft,2in", "length", '"6ft,2in" is not a length; write "75 cm" or "28 in"'),
    ("1kg,1g", "mass", '"1kg,1g" is not a mass; write "0.21 kg" or "210 g" or "7.4 oz"'),
    ("2',4", "length", '"2\',4" is not a length; write "75 cm" or "28 in"'),
    (
        "1,250 kg",
        "mass",
        '"1,250 kg" may be 1.250 kg or 1250 kg; write it without a comma: "1.250 kg" or "1250 kg"',
    ),
    (
        "-1,250 kg",
        "buoyancy",
        '"-1,250 kg" may be 1.250 kg or 1250 kg; write it without a comma: "1.250 kg" or "1250 kg"',
    ),
    (
        "3,000 bar",
        "pressure",
        '"3,000 bar" may be 3.000 bar or 3000 bar; write it without a comma: "3.000 bar" or "3000 bar"',
    ),
    (
        "1,200 fathom",
        "length",
        '"1,200 fathom" may be 1.200 fathom or 1200 fathom; write it without a comma: "1.200 fathom" or "1200 fathom"',
    ),
    ("2 m 3 in", "length", '"2 m 3 in" mixes metric and imperial units; write one of them, such as "75 cm" or "28 in"'),
    (
        "2 kg 3 oz",
        "mass",
        f'"2 kg 3 oz" mixes metric and imperial units; {MASSES.replace("write", "write one of them, such as")}',
    ),
    (
        "20 mPa",
        "pressure",
        '"20 mPa" has the unit mPa, a billion times more or less than MPa; write MPa if you mean that unit',
    ),
    (
        "75 Mm",
        "length",
        '"75 Mm" has the unit Mm, a billion times more or less than mm; write mm if you mean that unit',
    ),
    ("10–20 cm", "length", '"10–20 cm" is a calculation; write the result, such as "75 cm" or "28 in"'),
    ("2 gallon", "volume", '"2 gallon" has an unknown unit; write "12 L" or "0.4 ft3"'),
    ("2 TONS", "mass", f'"2 TONS" has an unknown unit; {MASSES}'),
    ("75 c", "length", f'"75 c" has an unknown unit; {LENGTHS}'),
    ("2'4'5", "length", f"\"2'4'5\" is not a length; {LENGTHS}"),
    ("2 ft 4 ft", "length", f'"2 ft 4 ft" is not a length; {LENGTHS}'),
    ("neutral", "mass", f'"neutral" is not a mass; {MASSES}'),
    ("2 kg*m", "mass", f'"2 kg*m" is not a mass; {MASSES}'),
    ("12,5", "mass", '"12,5" has no unit; write "12.5 kg" or "12.5 g" or "12.5 oz"'),
    ("28½", "length", '"28½" has no unit; write "28 1/2 cm" or "28 1/2 in"'),
]


@each(("text", "dimension", "message"), REFUSED)
def test_refused_with_a_hint(text: str, dimension: str, message: str) -> None:
    with pytest.raises(QuantityError) as refused:
        parse_quantity(text, dimension)
    assert str(refused.value) == message


# ---- laws of the table ----


@each("dimension", list(DIMENSIONS))
def test_letter_case_never_changes_what_a_unit_of_the_table_means(dimension: str) -> None:
    by_fold: dict[str, set[float]] = {}
    for spelling, factor in DIMENSIONS[dimension].units.items():
        by_fold.setdefault(folded(spelling), set()).add(factor)
    assert all(len(found) == 1 for found in by_fold.values())
    assert factors(dimension).keys() == by_fold.keys()
    scales = [folded(name) for names in SCALES.values() for name in set(map(folded, names))]
    assert len(scales) == len(set(scales))


def test_units_in_which_a_comma_sets_off_thousands_are_of_the_table() -> None:
    assert {unit for name in DIMENSIONS for unit in factors(name)} >= WHOLE_UNITS


DIGITS = st.text("0123456789", min_size=1, max_size=4)


@given(
    number=st.decimals(min_value=0, max_value=99999, places=2),
    dimension=st.sampled_from(sorted(set(DIMENSIONS) - {"temperature", "pitch"})),
    style=st.sampled_from(["point", "comma", "thousands"]),
    space=st.sampled_from(["", " ", "  ", "\N{NO-BREAK SPACE}"]),
    minus=st.sampled_from(["", "-", "+", "\N{MINUS SIGN}", "\N{EN DASH}"]),
    data=st.data(),
)
def test_every_spelling_in_every_letter_case(  # what a law draws
    number, dimension: str, style: str, space: str, minus: str, data: st.DataObject
) -> None:
    """The number times the factor of the unit as the table has it, however number, unit and sign are written."""
    unit, factor = data.draw(st.sampled_from(sorted(DIMENSIONS[dimension].units.items())))
    cased = "".join(
        data.draw(st.sampled_from([sign.lower(), sign.upper()])) if sign.isascii() else sign for sign in unit
    )
    written = {"point": f"{number}", "comma": f"{number}".replace(".", ","), "thousands": f"{number:,}"}[style]
    if cased in OF_TWO_CASES:
        cased = unit
    exact = float(number) * factor * (-1 if minus in ("-", "\N{MINUS SIGN}", "\N{EN DASH}") else 1)
    if abs(exact) < 1e10:
        assert parse_quantity(f"{minus}{written}{space}{cased}", dimension) == pytest.approx(exact, rel=1e-12)


@given(feet=st.integers(0, 99), inches=st.integers(0, 11), eighths=st.integers(0, 7), data=st.data())
def test_feet_inches_and_eighths(feet: int, inches: int, eighths: int, data: st.DataObject) -> None:
    """With any signs for feet and inches, and the inches without one."""
    foot = data.draw(st.sampled_from(["'", "\N{PRIME}", "\N{RIGHT SINGLE QUOTATION MARK}", " ft ", "ft. ", " FEET "]))
    inch = data.draw(st.sampled_from(['"', "''", "\N{DOUBLE PRIME}", "\N{RIGHT DOUBLE QUOTATION MARK}", " in", "in."]))
    fraction = {0: "", 4: "\N{VULGAR FRACTION ONE HALF}", 2: " 1/4"}.get(eighths, f" {eighths}/8")
    exact = (12 * feet + inches + eighths / 8) * INCH
    assert parse_quantity(f"{feet}{foot}{inches}{fraction}{inch}", "length") == pytest.approx(
        exact, rel=1e-12, abs=1e-15
    )
    if foot.strip() in ("'", "\N{PRIME}", "\N{RIGHT SINGLE QUOTATION MARK}"):
        assert parse_quantity(f"{feet}{foot}{inches}{fraction}", "length") == pytest.approx(exact, rel=1e-12, abs=1e-15)


# ---- the pattern of the schemas ----

NUMBERS = [
    "0",
    "75",
    "1.5",
    ".5",
    "7.",
    "1,5",
    ",5",
    "0,500",
    "1,250",
    "12,500",
    "1,234,567",
    "3,000.5",
    "1000,250",
    "01,250",
]
NUMBERS += [
    "1/2",
    "28 1/2",
    "½",
    "28½",
    "28 ½",
    "1e2",
    "1E-3",
    "1/0",
    "1,2,3",
    "1..2",
    "1,",
    "",
    "1 2",
    "9⁄16",
    "1,50,000",
]
SIGNS = ["", "", "", "-", "+", "\N{MINUS SIGN}", "\N{EN DASH}", "--"]
FOREIGN = ["fathom", "fathoms", "FATHOM", "stone", "mmHg", "MMHG", "hPa", "hpa", "kN", "mi", "at", "gallon", "ton"]
FOREIGN += ["nautical_mile", "tonne", "km", "mPa", "Mm", "cn", "c", "kgm", "m²"]
JOINTS = [" ", "", "  ", " - ", ", ", ","]
SPREADS = [" ± ", "±", " +- ", "+/-", " + / - ", " \N{EN DASH} ", " ± -"]
SEMANTIC = (
    "out of all proportion",
    "absolute zero",
    "is not above zero",
    "has a spread of zero",
    "far outside the range",
)
"""What the form of a text cannot show."""


@cache
def pattern(dimension: str, spread: bool) -> re.Pattern[str]:
    return re.compile(pattern_of(dimension, spread=spread))


@st.composite
def terms(draw: st.DrawFn, dimension: str) -> str:
    """A number and a unit, of the dimension more often than not, in any letter case."""
    own = st.sampled_from(spellings_of(dimension))
    unit = draw(st.one_of(own, own, own, st.sampled_from([*FOREIGN, "", "nautical mile", "neutral"])))
    other = draw(st.sampled_from([str, str, str.upper, str.lower, str.title]))
    return f"{draw(st.sampled_from(NUMBERS))}{draw(st.sampled_from(['', ' ', '  ']))}{other(unit)}"


def is_read(text: str, dimension: str, spread: bool) -> bool:
    try:
        (parse_reading if spread else parse_quantity)(text, dimension)
    except QuantityError as refused:
        return any(said in str(refused) for said in SEMANTIC)
    return True


@given(dimension=st.sampled_from(sorted(DIMENSIONS)), spread=st.booleans(), data=st.data())
def test_the_pattern_takes_what_the_reader_takes_and_nothing_else(
    dimension: str, spread: bool, data: st.DataObject
) -> None:
    """Of one term, of two and three in parts, and of a reading with its spread."""
    parts = data.draw(st.lists(terms(dimension), min_size=1, max_size=3))
    text = data.draw(st.sampled_from(SIGNS)) + data.draw(st.sampled_from(JOINTS)).join(parts)
    if data.draw(st.booleans()):
        text += data.draw(st.sampled_from(SPREADS)) + data.draw(terms(dimension))
    assert (pattern(dimension, spread).fullmatch(text) is not None) == is_read(text, dimension, spread), text


@given(
    text=st.text("0123456789.,/½ '\"kgmcinftlboz°CFneutral±+-–", max_size=14),
    dimension=st.sampled_from(sorted(DIMENSIONS)),
)
def test_the_pattern_agrees_on_any_text(text: str, dimension: str) -> None:
    assert (pattern(dimension, False).fullmatch(text) is not None) == is_read(text, dimension, False), text


@each("dimension", list(DIMENSIONS))
def test_the_pattern_is_one_that_javascript_reads_too(dimension: str) -> None:
    """No groups but plain ones, and it survives JSON."""
    written = pattern_of(dimension, spread=True)
    assert json.loads(json.dumps(written)) == written
    assert not re.search(r"\(\?(?!:)", written)


# ---- what a form asks ----


@each(
    ("text", "unit", "dimension", "completed"),
    [
        ("75", "cm", "length", "75 cm"),
        (" 12,5 ", "kg", "mass", "12,5 kg"),
        ("28½", "in", "length", "28½ in"),
        ("-0.4", "kg", "buoyancy", "-0.4 kg"),
        ("2.1 ± 0.05", "kg", "mass", "2.1 ± 0.05 kg"),
        ("32", "%", "fraction", "32 %"),
        ("0.32", "%", "fraction", "0.32"),
        ("75 cm", "in", "length", "75 cm"),
        ("30 + 2", "cm", "length", "30 + 2"),
        ("", "cm", "length", ""),
        ("75", "", "length", "75"),
    ],
)
def test_a_number_without_a_unit_takes_one(text: str, unit: str, dimension: str, completed: str) -> None:
    assert with_unit(text, unit, dimension) == completed


@each(
    ("text", "dimension", "unit"),
    [
        ("28½ in", "length", "in"),
        ('29"', "length", '"'),
        ("7 ft 2 in", "length", ""),
        ("18 °C", "temperature", "°C"),
        ("75 cm", "mass", ""),
        ("75", "length", ""),
        ("2.2 stone", "mass", "stone"),
    ],
)
def test_the_unit_as_it_is_written(text: str, dimension: str, unit: str) -> None:
    assert unit_written(text, dimension) == unit


@each(
    ("typed", "signed"),
    [
        ("sinks 150 g", "-150 g"),
        ("Sinks 0,15 kg ± 0.02 kg", "-0,15 kg ± 0.02 kg"),
        ("floats 0.2 kg", "+0.2 kg"),
        ("0.15 kg negative", "-0.15 kg"),
        ("0.15 positive", "+0.15"),
        ("150 g sinks", "-150 g"),
        # A second sign, no number, and what has its sign in digits stay as they are.
        ("sinks -150 g", "sinks -150 g"),
        ("sinks", "sinks"),
        ("-0.4 kg", "-0.4 kg"),
        ("neutral", "neutral"),
    ],
)
def test_the_sign_of_a_buoyancy_may_be_a_word(typed: str, signed: str) -> None:
    assert with_sign(typed) == signed


@each(
    ("number", "dimension", "lowest", "highest", "units", "forms"),
    [
        # A body of 178 in is taller than any person; 1.78 is in metres, and 180 in neither grams nor ounces.
        ("178", "length", 1.2, 2.2, (), '"178 cm"'),
        ("1,78", "length", 1.2, 2.2, (), '"1.78 m"'),
        ("180", "mass", 30.0, 200.0, (), '"180 kg" or "180 lb"'),
        ("9.5", "length", 0.0, 0.05, ("mm", "in"), '"9.5 mm"'),
        # Nothing makes sense: what is usual is listed.
        ("9000", "length", 0.1, 3.0, (), '"9000 cm" or "9000 in"'),
        ("0.32", "fraction", 0.0, 1.0, (), '"32 %"'),
        ("9.5 mm", "length", 0.1, 3.0, (), ""),
    ],
)
def test_a_number_without_a_unit_is_given_those_that_make_sense(
    number: str, dimension: str, lowest: float, highest: float, units: tuple[str, ...], forms: str
) -> None:
    assert plausible_forms(number, dimension, lowest, highest, units) == forms
