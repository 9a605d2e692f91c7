"""An edit that is not accepted says why and changes nothing; nor does one that goes astray on its way."""

import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest
import tomlkit
from hypothesis import example, given
from hypothesis import strategies as st

from kitbuilder.catalogue import catalogue
from kitbuilder.kitfile import edits
from kitbuilder.kitfile.document import Document, RefusedEdit
from kitbuilder.kitfile.edits import TomlValue
from kitbuilder.kitfile.journal import journals_of
from tests.kitfile.support import SMALL, opened

KIT = SMALL + '\n# apart\n\n[[gauge]]\ntag = "gauge"\n'


def refuse(document: Document, edit: Callable[[], object]) -> str:
    """Why an edit was refused, after a look at everything that must be as before."""
    before = (document.text, document.reading, document.is_dirty, document.can_undo, document.can_redo)
    with pytest.raises(RefusedEdit) as refused:
        edit()
    assert (document.text, document.reading, document.is_dirty, document.can_undo, document.can_redo) == before
    assert not journals_of(document.path)
    return str(refused.value)


BODIES = ", ".join(f'"{name}"' for service, name in catalogue().bodies if service == "LP")


@pytest.mark.parametrize(
    ("item", "key", "value", "because"),
    [
        (0, "length", "75", '"75" has no unit. Write "75 cm" or "75 in".'),
        (0, "length", "7 kg", '"7 kg" is a mass, not a length. Write "75 cm" or "28 in".'),
        (0, "length", "9 m", 'found "9 m". Accepted: from 5 to 500 cm.'),
        (0, "length", 75, 'found 75, a number without a unit. Write it in quotes with its unit: "75 cm" or "75 in".'),
        (0, "length", "", 'the value is empty. Write "75 cm" or "28 in".'),
        (0, "length", None, 'this key is missing. Add a line such as: length = "75 cm"'),
        (0, "body", "ruber", f'found "ruber". Accepted: {BODIES}. Did you mean "rubber"?'),
        (0, "from", "LP1", 'found "LP1". Write the tag of a first stage, a space and the port: "first LP1".'),
        (0, "swivel_pin", "yes", 'found "yes". Accepted: true or false, without quotes.'),
        (0, "tag", "gauge", 'found "gauge" a second time'),
        (0, "notes", "x" * 2001, "found a text of 2001 characters. At most 2000."),
        (0, "notes", "half \ud83e", "found half a character in 'half \\ud83e'. Type the character again."),
        (1, "mass", "0 kg", 'found "0 kg". Accepted: from 0.005 to 40 kg.'),
        (1, "tag", None, "this key is missing. Add a line such as: tag = "),
        (None, "format", 2, "found format 2. This program reads format 1."),
        (None, "layout", None, 'this key is missing. Add a line such as: layout = "single"'),
        (None, "name", " ", 'found " ". Write at least one character, and no space at either end.'),
    ],
)
def test_a_value_that_is_not_accepted(
    item: int | None, key: str, value: TomlValue | None, because: str, tmp_path: Path
) -> None:
    document = opened(tmp_path, KIT)
    assert refuse(document, lambda: document.set_value(item, key, value)).startswith(because)
    assert refuse(document, lambda: document.preview(item, key, value)).startswith(because)


@pytest.mark.parametrize(
    ("kind", "values", "because"),
    [
        ("hose", {"tag": "new"}, "this key is missing. Add a line such as: role = "),
        ("gauge", {"tag": "gauge"}, 'found "gauge" a second time'),
        ("gauge", {"tag": "new", "colour": "black"}, "this key is not known. Accepted here: tag, preset, "),
        ("gage", {"tag": "new"}, 'the table "gage" is not known. '),
        ("gauge]]\n[[wing", {"tag": "new"}, "this key is missing. Add a line such as: tag = "),
        ("gauge", {"tag": "new", 'notes = ""\nmass': "1 kg"}, "This edit would change more of the file than it names"),
    ],
)
def test_a_item_that_cannot_be(kind: str, values: dict[str, TomlValue], because: str, tmp_path: Path) -> None:
    document = opened(tmp_path, KIT)
    assert because in refuse(document, lambda: document.add_item(kind, values, 0))


@given(value=st.text(max_size=30))
@example(value="1E10")
def test_any_text_that_is_typed_is_kept_or_refused(value: str, tmp_path_factory: pytest.TempPathFactory) -> None:
    """Never half of it, and never a file that does not read."""
    document = opened(tmp_path_factory.mktemp("kit"), KIT)
    for key in ("notes", "tag", "length", "from", "body"):
        before = document.text
        try:
            document.set_value(0, key, value)
        except RefusedEdit:
            assert document.text == before
        else:
            assert tomllib.loads(document.text)["hose"][0][key] == value


# ---- a TOML library that errs, and a slip of our own ----

HONEST = tomlkit.dumps
ASTRAY: dict[str, Callable[[object], str]] = {
    "swallows the line": lambda _: "",
    "forgets to change it": lambda _: 'length = "75 cm"\n',
    "writes another value": lambda document: HONEST(document).replace("80", "81"),
    "writes another kind": lambda document: HONEST(document).replace('"80 cm"', '["80 cm"]'),
    "changes the key": lambda document: HONEST(document).replace("length", "run"),
    "adds a key": lambda document: HONEST(document) + 'run = "70 cm"\n',
    "adds an item": lambda document: HONEST(document) + '\n[[gauge]]\ntag = "other"\n',
    "opens a table": lambda document: HONEST(document) + "[hose.more]\n",
    "leaves a text open": lambda document: HONEST(document).replace('cm"', "cm"),
    "hides what follows": lambda document: HONEST(document) + 'notes = """\n',
    "writes nothing readable": lambda _: "\x00",
}


@pytest.mark.parametrize("dumps", ASTRAY.values(), ids=ASTRAY)
def test_a_library_that_errs_is_found_out(
    dumps: Callable[[object], str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    document = opened(tmp_path, KIT)
    monkeypatch.setattr(tomlkit, "dumps", dumps)
    refuse(document, lambda: document.set_value(0, "length", "80 cm"))
    monkeypatch.undo()
    document.set_value(0, "length", "80 cm")
    assert document.text == KIT.replace("75", "80"), "honest, it is believed again"


def test_it_is_reported_what_to_do(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """When the file would be a kit and the edit is wrong all the same."""
    document = opened(tmp_path, KIT)
    monkeypatch.setattr(tomlkit, "dumps", ASTRAY["adds a key"])
    because = refuse(document, lambda: document.set_value(0, "length", "80 cm"))
    assert because == "This edit would change more of the file than it names. Use a text editor."


SLIPS: dict[str, tuple[str, Callable[..., str], Callable[[Document], object]]] = {
    "takes out another": (
        "remove_item",
        lambda text, *_: text.replace('\n[[gauge]]\ntag = "gauge"\n', ""),
        lambda document: document.remove_item(0),
    ),
    "takes out nothing": ("remove_item", lambda text, *_: text, lambda document: document.remove_item(0)),
    "does not move": ("swap_items", lambda text, *_: text, lambda document: document.move_item(0, 1)),
    "loses an item": (
        "swap_items",
        lambda text, *_: text.replace('[[gauge]]\ntag = "gauge"\n', ""),
        lambda document: document.move_item(0, 1),
    ),
    "adds at the end": (
        "insert_item",
        lambda text, _, lines: text + lines,
        lambda document: document.add_item("wing", {"tag": "wing"}, None),
    ),
    "copies nothing": ("insert_item", lambda text, *_: text, lambda document: document.copy_item(0)),
}


@pytest.mark.parametrize(("name", "slip", "edit"), SLIPS.values(), ids=SLIPS)
def test_a_slip_of_our_own_is_found_out(
    name: str,
    slip: Callable[..., str],
    edit: Callable[[Document], object],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    document = opened(tmp_path, KIT)
    monkeypatch.setattr(edits, name, slip)
    refuse(document, lambda: edit(document))
