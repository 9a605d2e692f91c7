"""One resolved kit: what a kit takes from its gear counts in every answer, and what cannot be read is named in all.

The kits of `cases/technical` take nearly everything by `owned` and say little themselves.
"""

import ast
import json
import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from kitbuilder.assess.assessment import assess
from kitbuilder.assess.buoyancy.float_checks import evaluate_check, evaluate_checks
from kitbuilder.assess.findings import Unchecked
from kitbuilder.cli import main
from kitbuilder.commands import NAMES
from kitbuilder.kit.diver import FloatCheck
from kitbuilder.kit.items import Cylinder
from kitbuilder.kit.resolved import ResolvedKit, resolve
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.folder import kit_in, kit_worn_by
from kitbuilder.kitfile.read import read
from kitbuilder.plans.ballast import what_if
from kitbuilder.report.diver import check_page, first_check
from tests.report.pages import page_text

CASES = Path(__file__).parent / "cases" / "technical"
PACKAGE = Path(__file__).parents[1] / "kitbuilder"
WRONG = PACKAGE.parent / "configs" / "wrong-on-purpose.toml"
KITS = ("twin", "side", "twinstage", "fewer")
TRIP = "trip.toml"
LENT = "lent.toml"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the kits and their gear file, a trip of one of them, and one lent to another diver."""
    made = Path(shutil.copytree(CASES, tmp_path / "technical"))
    side = (made / "side.toml").read_text(encoding="utf-8")
    (made / LENT).write_text(side.replace('"me.toml"', '"you.toml"'), encoding="utf-8")
    shutil.copy(made / "me.toml", made / "you.toml")
    (made / TRIP).write_text('format = 1\nholds = "trip"\nname = "x"\nkits = ["twin.toml"]\n', encoding="utf-8")
    return made


def kit_named(name: str) -> ResolvedKit:
    kit = read(CASES / f"{name}.toml").resolved
    assert kit is not None
    return kit


def printed(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    main(words)
    return capsys.readouterr().out


# ---- one lead ----


@pytest.mark.parametrize("name", KITS)
def test_check_ballast_and_the_balance_screen_give_one_lead(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    path = str(CASES / f"{name}.toml")
    [checked] = json.loads(printed(capsys, "check", "--json", path))["result"]["files"]
    answers = json.loads(printed(capsys, "ballast", "--json", path))["result"]["answers"]
    on_screen = what_if(kit_named(name), None, None)
    assert on_screen is not None
    lead = answers[0]["balance"]["lead_needed_kg"]
    assert lead == checked["balance"]["lead_needed_kg"]
    assert lead["value"] == pytest.approx(on_screen.lead.value, abs=on_screen.lead.spread / 100)


def test_the_lead_counts_what_only_the_gear_file_weighs() -> None:
    """Without its gear file the kit has cylinders of which nothing is known, and no answer."""
    kit = kit_named("twin")
    assert assess(kit).balance is not None
    assert any(isinstance(item, Cylinder) and item.preset is None for item in kit.unresolved.items)
    assert assess(resolve(kit.unresolved)).balance is None


def test_an_edited_kit_is_resolved_again(folder: Path) -> None:
    """The bench shows what the gear file says about an item that has just been named."""
    from kitbuilder.kitfile.read import resolve_at

    document = Document(folder / "twin.toml")
    number = next(n for n, item in enumerate(document.reading.kit.items) if isinstance(item, Cylinder))
    owned = document.raw_value(number, "owned")
    assert resolve_at(document.path, document.reading.kit).items[number].preset is not None
    document.set_value(number, "owned", None)
    assert resolve_at(document.path, document.reading.kit).items[number].preset is None
    document.set_value(number, "owned", owned)
    assert resolve_at(document.path, document.reading.kit).items[number].preset is not None


# ---- float checks ----


def test_a_float_check_made_with_owned_cylinders_is_counted(folder: Path) -> None:
    """It is saved with what the cylinders are, and the kit is known again."""
    kit = kit_in(folder, "twin.toml")
    values = first_check("twin.toml", "pier", kit)
    assert "steel 12 L 232 long" in values["worn"]
    assert " 0.0 L" not in values["worn"]
    diver = Document(folder / "me.toml")
    diver.add_item(FloatCheck.kind, values | {"seen": "neutral"}, None)
    diver.save()
    [seen] = evaluate_checks(read(folder / "twin.toml").resolved)
    assert (seen.is_counted, seen.because) == (True, "")


def test_a_check_in_another_kit_counts_what_that_kit_takes_from_the_gear_file(folder: Path) -> None:
    diver = Document(folder / "me.toml")
    values = first_check("side.toml", "pier", kit_in(folder, "side.toml"))
    diver.add_item(FloatCheck.kind, values | {"seen": "neutral"}, None)
    diver.save()
    [seen] = evaluate_checks(read(folder / "twin.toml").resolved)
    assert seen.is_counted


def test_a_check_in_a_kit_whose_gear_file_cannot_be_used_is_not_counted(folder: Path) -> None:
    """That kit is not known, and the reason names its gear file. A diver file written by hand may leave out `worn`."""
    text = (folder / "side.toml").read_text(encoding="utf-8").replace("cellar.toml", "garage.toml")
    text = text.replace("[[cylinder]]\n", '[[cylinder]]\npreset = "aluminium 11.1 L 207"\n')
    (folder / "side.toml").write_text(text, encoding="utf-8")
    (folder / "garage.toml").write_text("format = 1\nholds = ", encoding="utf-8")
    diver = Document(folder / "me.toml")
    values = first_check("side.toml", "pier", kit_in(folder, "side.toml")) | {"seen": "neutral"}
    del values["worn"]
    diver.add_item(FloatCheck.kind, values, None)
    diver.save()
    [seen] = evaluate_checks(read(folder / "twin.toml").resolved)
    assert not seen.is_counted
    assert "garage.toml:2: " in seen.because


def test_the_page_of_the_diver_names_the_gear_file_of_the_kit_that_was_worn(folder: Path) -> None:
    diver = Document(folder / "me.toml")
    diver.add_item(FloatCheck.kind, first_check("twin.toml", "pier", kit_in(folder, "twin.toml")), None)
    (folder / "cellar.toml").write_text("format = 1\nholds = ", encoding="utf-8")
    contents = diver.reading.contents
    kit = kit_worn_by(diver.path, "twin.toml", contents)
    lines = page_text(check_page(contents.items[0], kit, evaluate_check(contents.items[0], kit))).splitlines()
    assert [line for line in lines if line.startswith("Not used: cellar.toml:2: ")]


# ---- linked files that cannot be read ----


BROKEN = {"gear": "cellar.toml", "diver": "me.toml"}
ANSWERS = {
    "check": ("twin.toml",),
    "ballast": ("twin.toml",),
    "fit": ("twin.toml",),
    "losses": ("twin.toml",),
    "compare": ("twin.toml", "side.toml"),
    "pair": ("twin.toml", LENT),
    "changeover": ("twin.toml", "side.toml"),
    "fewest": ("twin.toml", "side.toml"),
    "trip": (TRIP,),
    "swaps": ("twin.toml",),
    "card": (TRIP,),
    "spares": ("twin.toml", "side.toml"),
    "report": ("twin.toml",),
}
"""A question for each command that reads kits."""
READ_NO_KIT = {"completion", "demo", "new", "gear", "threads", "format", "settings"}
"""Commands without a kit, or, as that of the gear file, with the kits that name it."""


def test_every_command_is_asked() -> None:
    assert {*ANSWERS, *READ_NO_KIT} == set(NAMES)


@pytest.mark.parametrize("name", BROKEN.values(), ids=BROKEN)
@pytest.mark.parametrize("command", ANSWERS)
def test_every_command_names_the_linked_file_it_cannot_use(
    command: str, name: str, folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(folder)
    (folder / name).write_text("format = 1\nholds = ", encoding="utf-8")
    main([command, *ANSWERS[command]])
    answer = capsys.readouterr()
    assert f"{name}:2: " in " ".join((answer.out or answer.err).split()), "answered or refused, it is named"
    found = json.loads(printed(capsys, command, "--json", *ANSWERS[command]))
    problems = [problem["message"] for problem in found["problems"]]
    assert [problem for problem in problems if f"{name}:2: " in problem]


def test_every_command_names_the_stock_it_cannot_use(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(folder)
    for name in ("twin.toml", "side.toml"):
        text = (folder / name).read_text(encoding="utf-8")
        (folder / name).write_text(text.replace("\nlayout", '\nstock = "shop.csv"\nlayout', 1), encoding="utf-8")
    (folder / "shop.csv").write_text("colour\nblue\n", encoding="utf-8")
    for command, words in ANSWERS.items():
        assert "shop.csv:1: " in " ".join(printed(capsys, command, *words).split()), command


# ---- lines ----


@pytest.mark.parametrize("path", [WRONG, CASES / "twin.toml"], ids=lambda path: path.stem)
def test_what_the_rules_say_carries_its_line(path: Path) -> None:
    """The line holds the key, or begins the item that lacks it, or is the first of the file."""
    rows = ["", *path.read_text(encoding="utf-8").splitlines()]
    for kit in (read(path).resolved, kit_in(path.parent, path.name)):
        found = assess(kit)
        assert found.findings
        for item in (*found.findings, *found.unchecked):
            if isinstance(item, Unchecked) and not item.key:
                assert item.line is None
            elif not re.match(rf"{item.key}\s*=", rows[item.line]):
                assert item.line == 1 if item.item is None else rows[item.line].startswith("[[")


def test_a_kit_that_was_not_read_from_a_file_has_no_lines() -> None:
    found = assess(resolve(kit_named("twin").unresolved))
    assert found.findings
    assert found.unchecked
    assert {item.line for item in (*found.findings, *found.unchecked)} == {None}


# ---- the type ----


def functions(*parts: str) -> Iterator[tuple[Path, ast.FunctionDef]]:
    for path in (path for part in parts for path in sorted((PACKAGE / part).rglob("*.py"))):
        nodes = ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        yield from ((path, node) for node in nodes if isinstance(node, ast.FunctionDef))


def test_nothing_that_assesses_or_plans_takes_a_kit_as_written() -> None:
    """Only the type of a resolved kit is taken, so that the type checker refuses a kit that lacks its linked files."""
    takes = [
        f"{path.relative_to(PACKAGE)}: {function.name}"
        for path, function in functions("assess", "plans")
        for argument in function.args.args
        if argument.annotation is not None and ast.unparse(argument.annotation).strip("'\"") == "Kit"
    ]
    assert takes == []


def test_only_resolve_makes_a_resolved_kit() -> None:
    makers = {
        path.name
        for path in PACKAGE.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text()))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "ResolvedKit"
    }
    assert makers == {"resolved.py"}
