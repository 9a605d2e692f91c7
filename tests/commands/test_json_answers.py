"""JSON is a contract: every answer of every command is held against the schema that the command publishes."""

import json
import shutil
from collections.abc import Iterator
from itertools import permutations
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from kitbuilder.commands import NAMES, all_commands, command_named
from kitbuilder.report.meanings import MEANINGS
from kitbuilder.report.renderers.json import SUFFIXES
from kitbuilder.report.shapes import answer_schema
from tests.commands.run import CONFIGS, ROOT, run
from tests.commands.test_registry import example_words
from tests.each import each

KITS = ("warm-single.toml", "cold-single.toml", "twinset.toml", "sidemount.toml", "wrong-on-purpose.toml")
TECHNICAL = ("twin.toml", "twinstage.toml", "side.toml", "fewer.toml", "two.toml")
OTHERS = ("diver.toml", "gear.toml", "stock.toml", "trip-reef.toml", "trip-wreck.toml")
CHECKED, HOSE_ONLY, UNLINKED = "checked.toml", "hose-only.toml", "unlinked.toml"
TIGHT, SHOP, SHOP_TRIP = "tight.toml", "shop.toml", "shop-trip.toml"
WITH_A_SPARE = "with-a-spare.toml"
SPARE = """[[second_stage]]
tag       = "spare second"
preset    = "plastic body"
in_spares = true
"""
TOO_MUCH = """
[[luggage]]
tag  = "magazines"
mass = "2 kg"

[[option]]
item  = "magazines"
do    = "leave"
price = 1

[[bag]]
tag  = "chest"
goes = "hold"
mass = "30 kg"

[[leave]]
item = "torch"

[[luggage]]
tag     = "large battery"
mass    = "1 kg"
battery = "120 Wh"

[[luggage]]
tag  = "books"
mass = "4 kg"
bag  = "backpack"

[[luggage]]
tag  = "more books"
mass = "3.5 kg"
bag  = "backpack"

# ---- what travels"""
FLOAT_CHECKS = """
[[float_check]]
tag  = "ladder"
kit  = "checked.toml"
seen = "neutral"
lead = "2 kg"

[[float_check]]
tag      = "pier"
kit      = "checked.toml"
seen     = "sank"
by       = "-3 kg"
excluded = true

# [[float_check]]"""
BROKEN, ABSENT = "broken.toml", "absent.toml"


def questions() -> Iterator[tuple[str, ...]]:
    """Every command on every file that it may be given, and on files that it cannot use."""
    for file in (*KITS, *TECHNICAL, CHECKED, *OTHERS, BROKEN, ABSENT):
        yield "check", file
    yield "check", *KITS, BROKEN, *OTHERS
    yield "check", "--items", *KITS, *TECHNICAL, CHECKED, BROKEN, *OTHERS
    yield "check", "--sort", "share", *KITS
    for command in ("losses", "ballast", "fit"):
        yield from ((command, file) for file in (*KITS, *TECHNICAL, "diver.toml", BROKEN, ABSENT))
    yield "ballast", CHECKED
    yield "ballast", "twinset.toml", "--water", "fresh", "--water", "ocean", "--cylinder", "steel 12 L 232 long"
    yield "fit", "--layout", "sidemount", "--stature", "178 cm", "--mass", "82 kg"
    yield "fit", "twinset.toml", "--stock", "stock.toml", "--run", "long hose=190 cm"
    yield "fit", "wrong-on-purpose.toml", "--stock", "stock.toml"
    yield "fit", "--layout", "twinset", "--stock", HOSE_ONLY
    yield "fit", "twinset.toml", "--run", "nothing"
    for command in ("compare", "changeover"):
        yield from ((command, *pair) for pair in permutations(KITS[:4], 2))
        yield from (
            (command, "twin.toml", other) for other in (*TECHNICAL[1:], "wrong-on-purpose.toml", BROKEN, ABSENT)
        )
    yield from (("pair", "twin.toml", other) for other in (*KITS, *TECHNICAL[1:], BROKEN, ABSENT))
    yield "pair", "pair/host.toml", "pair/guest.toml", "cold-single.toml"
    yield "pair", "wrong-on-purpose.toml", UNLINKED
    yield "pair", WITH_A_SPARE, "warm-single.toml"
    yield "changeover", "cold-single.toml", "twinset.toml", "--gear", "gear.toml"
    yield "changeover", "cold-single.toml", "twinset.toml", "--gear", "twinset.toml"
    yield "fewest", "twin.toml", "side.toml", "--gear", "cellar.toml"
    yield "fewest", "side.toml", "twinstage.toml"
    yield "fewest", "cold-single.toml", "warm-single.toml", "--order", "lightest", "--any-body"
    yield "fewest", "cold-single.toml", "twinset.toml", "--from", "stock", "--stock", "stock.toml"
    yield "fewest", "cold-single.toml", "twinset.toml", "--from", "gear", "--gear", "gear.toml"
    yield "fewest", "cold-single.toml", "twinset.toml", "--from", "stock", "--stock", HOSE_ONLY, "--order", "cheapest"
    yield "fewest", "twin.toml", "wrong-on-purpose.toml", "--from", "stock", "--stock", HOSE_ONLY
    yield "fewest", "cold-single.toml", BROKEN
    yield from (("trip", file) for file in ("trip-reef.toml", "trip-wreck.toml", "twinset.toml", BROKEN, ABSENT))
    yield "trip", TIGHT, "--time", "60"  # with time for the best: another run would find another packing
    yield from (("swaps", file) for file in (SHOP, SHOP_TRIP, "wrong-on-purpose.toml", "diver.toml", BROKEN))
    yield "swaps", "warm-single.toml", "--gear", "gear.toml"
    yield from (
        ("card", file) for file in ("trip-reef.toml", "twinset.toml", "wrong-on-purpose.toml", BROKEN, "diver.toml")
    )
    yield "spares", "twinset.toml", "boxed.toml", "--level", "remote"
    yield from (("spares", file) for file in ("wrong-on-purpose.toml", BROKEN, ABSENT))
    yield "report", "twinset.toml", "gear.toml", "trip-reef.toml", "diver.toml", "stock.toml", BROKEN
    yield "report", "cold-single.toml", "warm-single.toml"
    yield "report", BROKEN
    yield from (("gear", file) for file in ("gear.toml", "cellar.toml", "twinset.toml", BROKEN, ABSENT))
    yield "gear", "gear.toml", "--day", "2031-01-01"
    yield "threads", "--major", "9.5 mm"
    yield "threads", "--minor", "8.6 mm", "--pitch", "24 tpi"
    yield "threads", "--major", "11.7 mm"
    yield ("threads",)
    yield ("format",)
    yield "new", "own", "--layout", "twinset", "--diver", "diver.toml"
    yield "new", "own-wing", "--style", "wing", "--stature", "178 cm", "--mass", "82 kg"
    yield "new", "own"
    yield "new", "another", "--style", "wnig"
    yield ("settings",)
    yield (
        "settings",
        "units=imperial",
        "theme=nord",
        "plain_pictures=true",
        "last_folder=/kits",
        "shelf_order=mass",
        "keys.units=U",
    )
    yield "settings", "units=furlongs"
    yield "completion", "bash"
    yield "demo", "first"
    yield "demo", "."


@pytest.fixture(scope="module")
def folder(tmp_path_factory) -> Path:
    """The shipped files, those of a technical diver, and one that cannot be read."""
    made = tmp_path_factory.mktemp("answers")
    for source in (CONFIGS, ROOT / "tests" / "cases" / "technical"):
        for file in source.glob("*.toml"):
            shutil.copy(file, made)
    shutil.copytree(CONFIGS / "pair", made / "pair")
    changed(made, "diver.toml", "seen.toml", "# [[float_check]]", FLOAT_CHECKS)
    changed(made, "twinset.toml", CHECKED, '"diver.toml"', '"seen.toml"')
    changed(made, "stock.toml", HOSE_ONLY, "[[hose]]\n", '[[hose]]\nmeasured = "hose only"\n')
    changed(made, "trip-wreck.toml", TIGHT, "\n# ---- what travels", TOO_MUCH)
    changed(made, TIGHT, TIGHT, '"twinset.toml"', '"twin.toml"')
    changed(made, TIGHT, TIGHT, '"35 kg"', '"22 kg"')
    changed(made, "twinset.toml", SHOP, '"diver.toml"', '"diver.toml"\nstock = "stock.toml"')
    changed(made, "trip-reef.toml", SHOP_TRIP, '["warm-single.toml"]', f'["{SHOP}", "wrong-on-purpose.toml"]')
    changed(made, "warm-single.toml", "boxed.toml", 'tag    = "mask"', 'tag    = "mask"\nin_spares = true')
    changed(made, "twinset.toml", WITH_A_SPARE, "[[gauge]]\n", f"{SPARE}\n[[gauge]]\n")
    changed(made, "twinset.toml", UNLINKED, '"diver.toml"', '"gone.toml"')
    (made / BROKEN).write_text('format = 1\nname = "broken"\nlayout = "triple"\n', encoding="utf-8")
    return made


@pytest.fixture(scope="module")
def answers(folder) -> dict[tuple[str, ...], dict[str, Any]]:
    """What each question is answered, once what holds for all of them is asserted."""
    return {words: answer_to(*words, cwd=folder) for words in questions()}


def changed(folder: Path, file: str, new: str, old: str, by: str) -> None:
    """Put a file beside another that differs from it in one text."""
    text = (folder / file).read_text(encoding="utf-8")
    assert old in text
    (folder / new).write_text(text.replace(old, by), encoding="utf-8")


def answer_to(*words: str, cwd: Path) -> dict[str, Any]:
    done = run(*words, "--json", cwd=cwd)
    assert done.stderr == "", words
    answer: dict[str, Any] = json.loads(done.stdout)
    if answer["result"] is None:
        assert done.returncode == 2, words
        assert answer["problems"], words
    return answer


def schema_of(name: str) -> dict[str, Any]:
    return answer_schema(name, command_named(name).shape())


def test_every_command_is_asked():
    assert {words[0] for words in questions()} == set(NAMES)


@each("name", NAMES)
def test_a_schema_is_one(name):
    jsonschema.Draft202012Validator.check_schema(schema_of(name))


@pytest.mark.parametrize("name", NAMES)
def test_every_answer_keeps_to_its_schema(name, answers):
    validator = jsonschema.Draft202012Validator(schema_of(name))
    for words, answer in answers.items():
        if words[0] == name:
            wrong = [
                f"{' '.join(words)}: {error.json_path}: {error.message[:200]}"
                for error in validator.iter_errors(answer)
            ]
            assert not wrong, "\n".join(wrong[:5])


def test_every_figure_says_where_it_comes_from(answers):
    silent = {(words[0], path) for words, answer in answers.items() for path in paths_to("origin", "", answer)}
    assert not silent


def test_a_part_without_a_port_has_none(answers):
    """Null, as everywhere in place of what is not there, and not an empty word."""
    assert not [words for words, answer in answers.items() if [*paths_to("slot", "", answer)]]


def paths_to(key: str, value: Any, data: Any, path: str = "") -> Iterator[str]:
    """The paths of a key that has a value; places in arrays are left out."""
    if isinstance(data, dict):
        yield from (f"{path}.{name}" for name, below in data.items() if name == key and below == value)
        for name, below in data.items():
            yield from paths_to(key, value, below, f"{path}.{name}")
    elif isinstance(data, list):
        for below in data:
            yield from paths_to(key, value, below, path)


def keys_of(schema: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """The keys that a schema names, each with its own schema."""
    for key, below in schema.get("properties", {}).items():
        yield key, below
        yield from keys_of(below)
    for part in (schema.get("items"), schema.get("additionalProperties"), *schema.get("anyOf", ())):
        if isinstance(part, dict):
            yield from keys_of(part)


def test_every_quantity_says_in_the_schema_what_it_is():
    """A unit in the name says neither what is measured nor which way is plus."""
    keys = [pair for name in NAMES for pair in keys_of(schema_of(name))]
    bare = {key for key, below in keys if key.endswith(tuple(SUFFIXES.values())) and not below.get("description")}
    assert not bare, sorted(bare)


def test_every_meaning_belongs_to_a_key():
    assert set(MEANINGS) <= {key for name in NAMES for key, _ in keys_of(schema_of(name))}


NEVER_FILLED = {".hoses.present.price"}
"""The hose that is there is described as those on offer are, and has no price."""


@pytest.mark.parametrize("name", [name for name in NAMES if name != "report"])
def test_every_key_of_a_result_has_a_value_in_some_answer(name, answers):
    """A promise that is never kept would be found by nobody else. A report has the answers of other commands."""
    given = {
        path for words, answer in answers.items() if words[0] == name for path in paths_with_value(answer["result"])
    }
    schema = schema_of(name)
    promised = set(paths_of(schema["properties"]["result"], schema)) - NEVER_FILLED
    assert not promised - given, "\n".join(sorted(promised - given))


def test_a_lopsided_figure_has_both_its_ends_in_some_answer(answers):
    """And a figure whose sides are alike has neither."""
    given = {path for answer in answers.values() for path in paths_with_value(answer["result"])}
    lopsided = {path.removesuffix(".low") for path in given if path.endswith(".low") and f"{path[:-4]}.spread" in given}
    assert lopsided
    assert all(f"{path}.high" in given for path in lopsided)


def test_every_key_of_the_envelope_has_a_value_in_some_answer(answers):
    given = {path for answer in answers.values() for path in paths_with_value(answer | {"result": None})}
    schema = schema_of("check")
    promised = {path for path in paths_of(schema, schema) if not path.startswith(".result.")}
    assert promised - given == {".result"}


def paths_with_value(data: Any, path: str = "") -> Iterator[str]:
    """The paths of all keys whose value is not null; places in arrays are left out."""
    if isinstance(data, dict):
        for key, value in data.items():
            if value is not None:
                yield f"{path}.{key}"
                yield from paths_with_value(value, f"{path}.{key}")
    elif isinstance(data, list):
        for value in data:
            yield from paths_with_value(value, path)


def paths_of(schema: dict[str, Any], whole: dict[str, Any], path: str = "") -> Iterator[str]:
    """The paths of all keys that a schema names, without those that only some objects of one kind have."""
    if "$ref" in schema:
        schema = whole["$defs"][schema["$ref"].rpartition("/")[2]]
    for key, below in schema.get("properties", {}).items():
        if key in schema.get("dependentRequired", {}):  # both ends of a lopsided figure
            continue
        yield f"{path}.{key}"
        yield from paths_of(below, whole, f"{path}.{key}")
    if "items" in schema:
        yield from paths_of(schema["items"], whole, path)
    for choice in schema.get("anyOf", ()):
        yield from paths_of(choice, whole, path)


@pytest.mark.parametrize("file", [BROKEN, ABSENT])
@pytest.mark.parametrize("name", ["check", "losses", "ballast", "fit", "gear"])
def test_a_file_that_cannot_be_used_is_a_problem_with_its_place(name, file, answers):
    answer = answers[name, file]
    assert answer["result"] is None
    problem = answer["problems"][0]
    assert problem["file"] == file
    assert problem["found"]
    assert problem["accepted"]
    assert problem["message"].startswith(file)


def test_a_wrong_value_is_named_with_its_line_and_key(answers):
    problems = answers["check", BROKEN]["problems"]
    [layout] = [problem for problem in problems if problem["place"].endswith("layout")]
    assert layout["line"] == 3
    assert layout["found"] == '"triple"', "the value alone, as the file writes it"
    assert layout["message"].startswith(f'{BROKEN}:3: layout: found "triple". ')


WRONG_WORDS = {
    ("ballast", "twinset.toml", "--water", "mercury"): ("ballast: --water", "mercury", '"ocean"'),
    ("ballast", "twinset.toml", "--cylinder", "tin 3 L"): ("ballast: --cylinder", "tin 3 L", '"steel 12 L 232 long"'),
    ("fit", "--layout", "quad"): ("fit: --layout", "quad", '"sidemount"'),
}


@pytest.mark.parametrize("words", WRONG_WORDS)
def test_an_argument_that_is_refused_is_a_problem_in_its_parts(words, folder):
    place, found, accepted = WRONG_WORDS[words]
    [problem] = answer_to(*words, cwd=folder)["problems"]
    assert (problem["place"], problem["found"]) == (place, f'"{found}"')
    assert accepted in problem["accepted"]
    assert problem["message"].startswith(f'{place}: found "{found}".')


@pytest.mark.parametrize("name", ["check", "ballast", "fit", "losses"])
def test_what_is_wrong_with_a_linked_file_names_the_kit(name, folder):
    [problem] = answer_to(name, UNLINKED, cwd=folder)["problems"]
    assert problem["file"] == UNLINKED
    assert "gone.toml" in problem["message"]


@pytest.mark.parametrize(
    "name",
    # Of a new kit the units decide which pieces of lead are written into its file.
    [command.name for command in all_commands() if not command.without_units and command.name != "new"],
)
def test_json_does_not_depend_on_units_or_width(name, monkeypatch, folder, answers):
    """Every answer to every question above."""
    monkeypatch.setenv("COLUMNS", "60")
    for words, metric in answers.items():
        if words[0] == name:
            assert answer_to(*words, "--units", "imperial", cwd=folder) == metric, words


@pytest.mark.parametrize("command", [*all_commands()], ids=lambda command: command.name)
@pytest.mark.parametrize("width", [60, 80, 100])
def test_no_line_of_a_text_is_wider_than_the_terminal(command, width, monkeypatch, folder):
    """But for what is written for files: the reference page in Markdown, and the script of a shell."""
    monkeypatch.setenv("COLUMNS", str(width))
    words = [word.removeprefix("configs/") for word in example_words(command)]
    shutil.rmtree(folder / "my-first-kits", ignore_errors=True)
    (folder / "my-kit.toml").unlink(missing_ok=True)
    lines = run(*words, cwd=folder).stdout.splitlines()
    assert command.name in ("format", "completion") or max(map(len, lines)) <= width
