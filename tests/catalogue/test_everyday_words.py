"""The words divers use every day lead to what the catalogue has, and to one thing only where they say so."""

from itertools import chain

import pytest

from kitbuilder.catalogue import CatalogueError, catalogue, everyday_words
from kitbuilder.catalogue.everyday_words import EVERY, entry_of, find_word
from kitbuilder.catalogue.styles import styles
from kitbuilder.kit.gear import GEAR_KINDS
from kitbuilder.kit.items import KINDS, LAYOUTS
from kitbuilder.word_search import pieces

CYLINDERS = tuple(catalogue().cylinders)


def names_of_lists() -> dict[str, set[str]]:
    """All names that each list of everyday words may be about."""
    trade, known = catalogue(), styles()
    names = {kind: {record.title} for kind, record in (KINDS | GEAR_KINDS).items()}
    for kind, name in trade.presets:
        names[kind].add(name)
    names["cylinder"] |= set(trade.cylinders)
    names["hose"] |= set(trade.roles)
    names["suit"] |= {*trade.cuts, *known.exposures}
    names |= {"water": set(trade.waters), "style": set(known.styles), "layout": set(LAYOUTS)}
    return names | {"body": {name for _, name in trade.bodies}}


def test_every_phrase_stands_in_a_name_of_its_list():
    """Else nobody is ever led anywhere by its words."""
    lists = names_of_lists()
    lists[EVERY] = set(chain.from_iterable(lists.values()))
    for name, phrases in everyday_words.everyday_words().items():
        texts = [f" {' '.join(pieces(text))} " for text in lists[name]]
        for phrase in phrases:
            assert any(f" {' '.join(pieces(phrase))} " in text for text in texts), (name, phrase)


def test_a_word_is_written_once_for_a_phrase():
    for name, phrases in everyday_words.everyday_words().items():
        for phrase, words in phrases.items():
            spelled = [pieces(word) for word in words]
            assert len(set(spelled)) == len(spelled), (name, phrase)


@pytest.fixture
def words_file(tmp_path, monkeypatch):
    """Put another file in the place of the words; the words of before are read again afterwards."""

    def put(text: str) -> None:
        (tmp_path / everyday_words.FILE).write_text(text, encoding="utf-8")
        monkeypatch.setattr(everyday_words, "FOLDER", tmp_path)
        everyday_words.everyday_words.cache_clear()

    yield put
    everyday_words.everyday_words.cache_clear()


@pytest.mark.parametrize("text", ['every = "tank"', "[every]\ntank = []", "[every]\ntank = [1]", '[every]\ntank = "x"'])
def test_a_broken_file_is_named(words_file, text):
    words_file(text)
    with pytest.raises(CatalogueError, match=r"everyday_words\.toml"):
        everyday_words.everyday_words()


def test_a_list_without_words_has_those_of_all_lists():
    assert "alu" in entry_of("no such list", ("aluminium",)).names


# ---- the word that is meant ----


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("STEEL  12 l 232 LONG", "steel 12 L 232 long"),
        ("80", "aluminium 11.1 L 207"),
        ("al80", "aluminium 11.1 L 207"),
        ("Aluminum 80 cu ft", "aluminium 11.1 L 207"),
        ("100 cuft", "aluminium 13 L 228"),
        ("steel 15", "steel 15 L 232"),
        ("15 L tank", "steel 15 L 232"),
        ("12 L 300 bar", "steel 12 L 300"),
    ],
)
def test_a_cylinder_by_its_everyday_name(typed, meant):
    """80 and 100 are the ratings in cubic feet that the notes of these presets name."""
    assert find_word("cylinder", typed, CYLINDERS).word == meant


@pytest.mark.parametrize(
    ("typed", "candidates"),
    [
        ("steel 12 L", ("steel 12 L 232 long", "steel 12 L 232 short", "steel 12 L 300")),
        ("alumnium 80", ("aluminium 11.1 L 207",)),
        (
            "steel 11",
            ("steel 12 L 232 long", "steel 12 L 232 short", "steel 12 L 300", "steel 10 L 232", "steel 10 L 300"),
        ),
        ("brass 80", ("aluminium 11.1 L 207",)),
        ("", ()),
        ("xyz", ()),
    ],
)
def test_what_is_not_certain_gives_candidates(typed, candidates):
    """Several that fit; one with an error in it; near numbers; what fits a part of the words."""
    meant = find_word("cylinder", typed, CYLINDERS)
    assert (meant.word, meant.candidates) == (None, candidates)


def test_candidates_are_few_and_the_others_are_counted():
    """Twelve of the eighteen cylinders are of steel."""
    meant = find_word("cylinder", "steel", CYLINDERS)
    assert (meant.word, len(meant.candidates), meant.more) == (None, 6, 6)


@pytest.mark.parametrize(
    ("list_name", "typed", "meant"),
    [
        ("water", "salt", "ocean"),
        ("water", "Fresh water", "fresh"),
        ("water", "lake", "fresh"),
        ("layout", "doubles", "twinset"),
        ("suit", "wetsuit 5", "5 mm wetsuit"),
        ("suit", "heavy drysuit", "drysuit, heavy undersuit"),
        ("body", "PU", "polyurethane"),
        ("style", "BCD", None),
    ],
)
def test_other_words_of_the_command_line(list_name, typed, meant):
    words = {
        "water": tuple(catalogue().waters),
        "layout": LAYOUTS,
        "suit": tuple(styles().exposures),
        "style": tuple(styles().styles),
        "body": ("rubber", "braided", "polyurethane"),
    }
    assert find_word(list_name, typed, words[list_name]).word == meant
