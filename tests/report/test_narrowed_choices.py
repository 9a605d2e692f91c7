"""Choices of a form are found by the same everyday words as everything else."""

from pathlib import Path

import pytest

from kitbuilder.kit.fields import fields_of
from kitbuilder.kitfile.read import read
from kitbuilder.report.form import Choice, choices_of, narrowed
from kitbuilder.report.numbers import System

SINGLE = Path(__file__).parents[2] / "configs" / "warm-single.toml"


@pytest.mark.parametrize(
    ("kind", "key", "typed", "first"),
    [
        ("other", "preset", "light", "back-up torch"),
        ("cylinder", "preset", "al80", "aluminium 11.1 L 207"),
        ("hose", "role", "octopus", "alternate"),
        (None, "water", "lake", "fresh"),
        (None, "layout", "doubles", "twinset"),
    ],
)
def test_a_choice_is_found_by_an_everyday_word(kind, key, typed, first):
    kit = read(SINGLE).kit
    number = next((number for number, item in enumerate(kit.items) if item.kind == kind), None)
    record = kit.header if number is None else kit.items[number]
    field = next(field for field in fields_of(type(record)) if field.key == key)
    choices = choices_of(kit, number, field, System.METRIC)
    assert narrowed(typed, choices)[0].word == first
    assert narrowed("", choices) == choices


@pytest.mark.parametrize("typed", ["2.1 KG", "2.10", "kg", "4.6 lb"])
def test_a_reading_of_a_scale_is_no_search(typed):
    """The note of a preset has the masses it may have; its words still count."""
    choices = (Choice("canister torch", "1.20 to 2.60 kg"), Choice("camera", "2.10 kg, in a housing, 4.60 lb"))
    assert narrowed(typed, choices) == ()
    assert narrowed("housing", choices) == choices[1:]
