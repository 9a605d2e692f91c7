"""A diver typed in one line: height, mass and sex, in any writing that a diver file takes."""

import pytest

from kitbuilder.kitfile.diver_typed import IMPERIAL_UNITS, METRIC_UNITS, TYPED_DIVER, diver_typed
from kitbuilder.kitfile.overrides import override_diver
from kitbuilder.kitfile.values import Refusal
from tests.each import each

INCH, POUND = 0.0254, 0.45359237
"""By definition (international yard and pound agreement, 1959)."""


def read(text: str, units: dict[str, str] = METRIC_UNITS) -> tuple[float | None, float | None, str | None]:
    diver = override_diver(None, diver_typed(text, units))
    assert diver is not None
    return diver.header.stature_m, diver.header.mass_kg, diver.header.sex


@each(
    ("text", "stature_m", "mass_kg", "sex"),
    [
        (TYPED_DIVER, 1.78, 82, "male"),
        ("178 82", 1.78, 82, None),
        ("178 82 female", 1.78, 82, "female"),
        ("178, 82, Woman", 1.78, 82, "female"),
        ("178;82;man", 1.78, 82, "male"),
        ("1.65 m 58,5 kg", 1.65, 58.5, None),
        ("1,65 m, 58,5 kg", 1.65, 58.5, None),
        ("178cm 82KG male", 1.78, 82, "male"),
        ("178", 1.78, None, None),
        ("82 kg", None, 82, None),
        ("82 kg female", None, 82, "female"),
        ("female", None, None, "female"),
        ("5 ft 10 in 180 lb", 70 * INCH, 180 * POUND, None),
        ("5'10 180 lb male", 70 * INCH, 180 * POUND, "male"),
        # One number with a unit says in which system the other is.
        ("5'10 180", 70 * INCH, 180 * POUND, None),
        ("180 lb 70", 70 * INCH, 180 * POUND, None),
        # A letter for the sex; the m of a height is its unit.
        ("178 cm, 82 kg, m", 1.78, 82, "male"),
        ("70 in 180 lb m", 70 * INCH, 180 * POUND, "male"),
        ("178 82 f", 1.78, 82, "female"),
        ("165 60 w", 1.65, 60, "female"),
        ("1.78 m", 1.78, None, None),
        ("f", None, None, "female"),
        # In any order.
        ("woman 165 60", 1.65, 60, "female"),
        ("m, 178 cm, 82 kg", 1.78, 82, "male"),
        ("180 lb 5'10", 70 * INCH, 180 * POUND, None),
        ("82 kg 178 cm", 1.78, 82, None),
    ],
)
def test_a_line_is_read(text: str, stature_m: float | None, mass_kg: float | None, sex: str | None) -> None:
    found = read(text)
    assert found == (pytest.approx(stature_m), pytest.approx(mass_kg), sex)


def test_bare_numbers_take_the_units_of_the_reader() -> None:
    assert diver_typed("70 180", IMPERIAL_UNITS) == {"stature": "70 in", "mass": "180 lb"}
    assert diver_typed("178 82", METRIC_UNITS) == {"stature": "178 cm", "mass": "82 kg"}


@each(
    ("text", "said"),
    [
        ("", TYPED_DIVER),
        ("tall", 'found "tall"'),
        ("178 cm tall", 'found "178 cm tall"'),
        ("178 cm 82 kg 3", 'found "178 cm 82 kg 3"'),
        ("178 8", 'mass: found "8 kg". Accepted: from 30 to 200 kg'),
        ("17 82", 'stature: found "17 cm". Accepted: from 120 to 220 cm'),
        ("70 in 180 lbx", 'found "70 in 180 lbx"'),
        ("178 cm 178 cm", 'found "178 cm 178 cm"'),
    ],
)
def test_what_is_refused_says_what_is_accepted(text: str, said: str) -> None:
    with pytest.raises(Refusal) as refused:
        diver_typed(text, METRIC_UNITS)
    assert said in str(refused.value)
