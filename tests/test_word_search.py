"""The search by words: which entries are found, and in which order. Entries here are made up for each test."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.word_search import Entry, pieces, search

ENTRIES = (
    Entry(("reel", "other item"), "60 m of line, below the torch"),
    Entry(("fins, light travel", "other item"), "a pair"),
    Entry(("back-up torch", "other item", "light", "lamp")),
    Entry(("line cutter", "other item")),
    Entry(("boots, 5 mm", "other item")),
    Entry(("steel 12 L 232", "cylinder", "tank")),
    Entry(("aluminium 11.1 L 207", "cylinder", "tank", "80", "al")),
)


def found(typed: str) -> list[str]:
    return [ENTRIES[each.number].names[0] for each in search(typed, ENTRIES)]


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        # names before notes
        ("torch", ["back-up torch", "reel"]),
        ("line", ["line cutter", "reel"]),
        # an everyday word counts as a name; what follows a comma counts less
        ("light", ["back-up torch", "fins, light travel"]),
        # a beginning, any letter case, a plural
        ("TOR", ["back-up torch", "reel"]),
        ("torches", ["back-up torch", "reel"]),
        ("boot", ["boots, 5 mm"]),
        ("Boots", ["boots, 5 mm"]),
        # several words narrow, in any order
        ("12 steel", ["steel 12 L 232"]),
        ("tank 12", ["steel 12 L 232"]),
        ("tank torch", []),
        # numbers and letters written together, a decimal comma, needless digits
        ("AL80", ["aluminium 11.1 L 207"]),
        ("12l", ["steel 12 L 232"]),
        ("11,10", ["aluminium 11.1 L 207"]),
        # one letter wrong, missing, too many, or moved; half a word too
        ("toxch", ["back-up torch", "reel"]),
        ("alumnium", ["aluminium 11.1 L 207"]),
        ("cuttter", ["line cutter"]),
        ("torhc", ["back-up torch", "reel"]),
        ("alunin", ["aluminium 11.1 L 207"]),
        # two letters wrong, or one of a short word
        ("toxxh", []),
        ("ree1", []),
        ("lyn", []),
        # a number close by, the closest first, where none is the same
        ("tank 11.5", ["aluminium 11.1 L 207", "steel 12 L 232"]),
        ("tank 15", []),
    ],
)
def test_what_is_found(typed, expected):
    assert found(typed) == expected


def test_an_error_is_allowed_only_when_nothing_fits_without_one():
    entries = (Entry(("hose",)), Entry(("nose",)))
    assert [each.number for each in search("hose", entries)] == [0]


def test_a_near_number_is_allowed_only_when_no_entry_has_the_number():
    entries = (Entry(("steel 12",)), Entry(("steel 13",)))
    assert [each.number for each in search("stel 13", entries)] == [1]
    assert [each.number for each in search("steel 12.4", entries)] == [0, 1]


def test_nothing_typed_finds_everything_in_its_order():
    assert [each.number for each in search("  ", ENTRIES)] == list(range(len(ENTRIES)))


@pytest.mark.parametrize(("typed", "is_sure"), [("torch", True), ("torc", False), ("torhc", False), ("pair", False)])
def test_sure_is_what_fits_a_name_completely(typed, is_sure):
    """Not a beginning, not with an error, not a note."""
    assert search(typed, ENTRIES)[0].is_sure is is_sure


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.names[0])
def test_each_entry_is_found_first_by_its_own_name(entry):
    assert search(entry.names[0], ENTRIES)[0].number == ENTRIES.index(entry)


WORDS = st.text(st.characters(codec="utf-8"), max_size=12)


@given(WORDS, st.lists(WORDS, max_size=4))
def test_any_text_is_accepted_and_letter_case_does_not_matter(typed, names):
    """Whatever is typed and whatever entries are called, and each entry comes once at most."""
    entries = [Entry((name,)) for name in names]
    numbers = [each.number for each in search(typed, entries)]
    assert len(set(numbers)) == len(numbers)
    assert {each.number for each in search(typed.upper().lower(), entries)} >= (
        set(numbers) if typed.isascii() else set()
    )


@given(st.from_regex(r"[a-z]{4,10}", fullmatch=True), st.integers(0, 9))
def test_one_letter_left_out_still_finds_the_word(word, place):
    """The law of one error, for words as they are typed."""
    shorter = word[: place % len(word)] + word[place % len(word) + 1 :]
    if len(shorter) >= 4 and pieces(word) == (word,) and pieces(shorter) == (shorter,):
        assert search(shorter, [Entry((word,))])
