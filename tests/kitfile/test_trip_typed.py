"""What an airline allows and when a trip is, in one line; the expected parts are what a traveller means by it."""

import pytest

from kitbuilder.kit.fields import field_named, fields_of
from kitbuilder.kit.trip import Leg, Luggage
from kitbuilder.kitfile.trip_typed import Allowance, allowance_typed, days_typed
from kitbuilder.kitfile.values import Refusal, parse_value

ALLOWED = [
    ("23 kg hold, 8 kg cabin", Allowance("23 kg", 1, "8 kg", 1)),
    ("2 x 23 kg hold, 8 kg cabin", Allowance("23 kg", 2, "8 kg", 1)),
    ("2×50 lb checked; 18 lb carry-on", Allowance("50 lb", 2, "18 lb", 1)),
    ("8 kg cabin and 20 hold", Allowance("20 kg", 1, "8 kg", 1)),
    ("10 KG Cabin", Allowance(None, 0, "10 KG", 1)),
    ("30kg hold", Allowance("30kg", 1, None, None)),
]


@pytest.mark.parametrize(("text", "meant"), ALLOWED)
def test_what_a_ticket_says_is_read(text: str, meant: Allowance) -> None:
    """And what is kept of it is read in the same way, whichever units the reader has."""
    found = allowance_typed(text, "kg")
    assert found == meant
    assert allowance_typed(found.as_typed, "lb") == meant


NOT_ALLOWED = ["", "23", "23 kg", "hold", "23 kg hold, 8 kg hold", "23 kg roof", "-3 kg hold", "900 kg hold"]
NOT_ALLOWED += ["0 x 23 kg hold", "99 x 2 kg hold"]


@pytest.mark.parametrize("text", NOT_ALLOWED)
def test_what_is_no_allowance_is_refused(text: str) -> None:
    with pytest.raises(Refusal, match=r"23 kg hold, 8 kg cabin|from 0 to 200 kg"):
        allowance_typed(text, "kg")


def test_a_limit_that_is_no_mass_is_answered_with_the_mass_of_a_bag() -> None:
    """8 kg are 17.6 lb, 23 kg 50.7 lb (international pound); an item is answered with grams as before."""
    for key, examples in (("cabin_piece", '"8 kg" or "18 lb"'), ("hold_piece", '"23 kg" or "51 lb"')):
        with pytest.raises(Refusal, match=f'^"heavy" is not a mass. Write {examples}.$'):
            parse_value(field_named(Leg, key), "leg", "heavy")
    with pytest.raises(Refusal, match=r'Write "0\.21 kg" or "210 g"'):
        parse_value(field_named(Luggage, "mass"), "luggage", "heavy")


def test_each_limit_of_a_leg_has_a_label_of_its_own() -> None:
    """A count and a mass read differently in the form, though their keys differ in one letter."""
    labels = {field.key: field.label for field in fields_of(Leg)}
    assert (labels["hold_pieces"], labels["hold_piece"]) == ("bags in the hold", "limit of each hold bag")
    assert (labels["cabin_pieces"], labels["cabin_piece"]) == ("bags in the cabin", "limit of each cabin bag")
    assert len(set(labels.values())) == len(labels)


def test_days_are_read_and_refused() -> None:
    assert days_typed(" 2031-05-10 to 2031-05-24 ") == ("2031-05-10", "2031-05-24")
    assert days_typed("2031-05 until 2031-06") == ("2031-05", "2031-06")
    for text in ("", "2031-05-10", "2031-05-24 to 2031-05-10", "may to june", "2031-05-10 to 2031-05-12 to 2031-05-14"):
        with pytest.raises(Refusal, match=r"2031-05-10 to 2031-05-24\.$|before it begins"):
            days_typed(text)
    with pytest.raises(Refusal) as refused:
        days_typed("10 may to 24 may")
    assert '"2024"' not in str(refused.value), "what a trip file accepts in quotes is no line of two days"
