"""Starting points: a new kit of each layout, a new item of each kind, and the names files may have."""

from pathlib import Path

import pytest

from kitbuilder.catalogue import catalogue
from kitbuilder.catalogue.styles import styles
from kitbuilder.commands.making import title_of
from kitbuilder.kit.fields import fields_of
from kitbuilder.kit.items import KINDS, LAYOUTS, Drysuit, FirstStage, Lead, Suit, split_port
from kitbuilder.kitfile.cylinder_typed import RATED_CYLINDER, TYPED_CYLINDER, cylinder_values, cylinders_near
from kitbuilder.kitfile.disk import UnreadableFile, complain_of_name, kit_paths, rename_file, with_ending
from kitbuilder.kitfile.folder import files_holding
from kitbuilder.kitfile.reader import read_kit
from kitbuilder.kitfile.starters import (
    Adjusted,
    Answers,
    first_values,
    kit_text,
    starter_text,
)
from kitbuilder.kitfile.values import Refusal
from tests.kitfile.support import opened

NAMES = ("Reef", 'Reef "7"', "C:\\kits", "[[hose]]", "it's # one", "one\ntwo", "🤿")


@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize("name", NAMES)
def test_a_new_kit_reads_and_has_its_name(layout: str, name: str) -> None:
    text = starter_text(layout, name)
    kit = read_kit(text).kit
    assert kit is not None
    assert (kit.header.name, kit.header.layout) == (name, layout)
    other = starter_text(layout, "other").splitlines()
    assert [line for line in text.splitlines() if line not in other] == [
        line for line in text.splitlines() if line.startswith("name ")
    ]


def test_there_is_no_fourth_layout() -> None:
    with pytest.raises(KeyError):
        starter_text("../single", "x")


@pytest.mark.parametrize("layout", LAYOUTS)
def test_a_new_item_of_every_kind_is_accepted(layout: str, tmp_path: Path) -> None:
    """Of every preset, of every role, and of no preset at all."""
    document = opened(tmp_path, starter_text(layout, "x"))
    words: list[tuple[str, str | None]] = [("hose", role) for role in catalogue().roles]
    words += [*catalogue().presets, *(("cylinder", preset) for preset in catalogue().cylinders)]
    words += [(kind, None) for kind in KINDS]
    for kind, word in words:
        kit = document.reading.kit
        assert kit is not None
        tag = document.free_tag(word or kind)
        item = document.add_item(kind, first_values(kit.header.layout, kind, word, tag), None)
        added = document.reading.kit.items[item]
        assert (added.kind, added.tag) == (kind, tag)
        if word:
            assert document.raw_value(item, "role" if kind == "hose" else "preset") == word
        else:
            assert not document.has(item, "preset"), "nobody asked for one"
    assert {kind for kind, _ in words} == set(KINDS)


@pytest.mark.parametrize("kind", KINDS)
def test_a_new_item_has_the_keys_it_needs_and_no_others(kind: str) -> None:
    """What nobody said is not made up; a hose alone is given more, by its role."""
    kit = read_kit(starter_text("single", "x")).kit
    assert kit is not None
    needed = [field.key for field in fields_of(KINDS[kind]) if field.required]
    assert list(first_values(kit.header.layout, kind, None, "new")) == needed


# ---- names and folders ----


def test_the_kits_of_a_folder(tmp_path: Path) -> None:
    """By name, whatever the case; no hidden ones, no journals, nothing else."""
    for name in ("b.toml", "A.toml", "c.TOML", ".hidden.toml", ".b.toml.unsaved", "notes.txt", "toml"):
        (tmp_path / name).touch()
    assert [path.name for path in kit_paths(tmp_path)] == ["A.toml", "b.toml", "c.TOML"]


def test_a_folder_that_cannot_be_listed(refusable: Path) -> None:
    """Not ours to list, not there, or no folder."""
    (refusable / "closed").mkdir(mode=0o300)
    (refusable / "file").touch()
    for name in ("closed", "none", "file"):
        with pytest.raises(UnreadableFile, match=r"\. Open another folder$"):
            kit_paths(refusable / name)


@pytest.mark.parametrize(
    ("name", "complaint"),
    [
        ("reef 2.toml", None),
        ("REEF.TOML", None),
        (".TOML", "Write a name that ends in .toml"),
        ("reef", "Write a name that ends in .toml"),
        (".toml", "Write a name that ends in .toml"),
        ("../reef.toml", "Write a plain name: "),
        ("a\\b.toml", "Write a plain name: "),
        (".reef.toml", "Write a plain name: "),
        ("re\x1bef.toml", "Write a plain name: "),
        ("re\nef.toml", "Write a plain name: "),
        ("\u202ereef.toml", "Write a plain name: "),
        (f"{'ü' * 100}.toml", "Write a shorter name, of at most 200 bytes"),
        ("taken.toml", "A file with this name exists already"),
        ("dangling.toml", "A file with this name exists already"),
    ],
)
def test_a_name_for_a_new_file(name: str, complaint: str | None, tmp_path: Path) -> None:
    (tmp_path / "taken.toml").touch()
    (tmp_path / "dangling.toml").symlink_to("nowhere")
    found = complain_of_name(tmp_path, name)
    assert (found or "").startswith(complaint or "")
    assert (found is None) == (complaint is None)


@pytest.mark.parametrize(
    ("typed", "ending", "name"),
    [
        ("reef", ".toml", "reef.toml"),
        ("é.TOML", ".toml", "é.TOML"),
        ("reef.Toml", ".toml", "reef.Toml"),
        ("page", ".txt", "page.txt"),
        ("page.TXT", ".txt", "page.TXT"),
        ("kits/", ".toml", "kits/"),
        ("", ".toml", ""),
    ],
)
def test_an_ending_is_added_once_in_any_case(typed: str, ending: str, name: str) -> None:
    assert with_ending(typed, ending) == name


def test_a_file_whose_ending_is_in_capitals_is_found(tmp_path: Path) -> None:
    """On the shelf, and where one file names another."""
    (tmp_path / "REEF.TOML").write_text(starter_text("single", "x").replace("\n", '\ndiver = "ME.TOML"\n', 1))
    (tmp_path / "ME.TOML").write_text('format = 1\nholds = "diver"\nname = "me"\n')
    assert [path.name for path in kit_paths(tmp_path)] == ["ME.TOML", "REEF.TOML"]
    assert files_holding(tmp_path, "diver") == ("ME.TOML",)
    kit = read_kit((tmp_path / "REEF.TOML").read_text()).kit
    assert kit is not None
    assert (kit.header.diver, title_of("my-reef.TOML")) == ("ME.TOML", "my reef")


@pytest.mark.parametrize("taken", ["file", "dangling link"])
def test_a_file_is_not_renamed_over_another(taken: str, tmp_path: Path) -> None:
    path, other = tmp_path / "reef.toml", tmp_path / "other.toml"
    path.write_text("mine")
    if taken == "file":
        other.write_text("theirs")
    else:
        other.symlink_to("nowhere")
    with pytest.raises(FileExistsError):
        rename_file(path, "other.toml")
    assert path.read_text() == "mine"
    assert rename_file(path, "free.toml").read_text() == "mine"
    assert not path.exists()


# ---- a new kit by answers ----


@pytest.mark.parametrize("exposure", [None, *styles().exposures])
@pytest.mark.parametrize("style", styles().styles)
def test_every_style_in_every_suit_reads(style: str, exposure: str | None) -> None:
    """No hose leads to an item that was taken out, and every port has a hose or a plug."""
    kit = read_kit(kit_text(Answers("x", style, exposure))).kit
    assert kit is not None
    tags = {item.tag for item in kit.items}
    assert {hose.to for hose in kit.hoses} <= tags
    worn = styles().exposures[exposure or styles().styles[style].exposure]
    assert bool([item for item in kit.items if isinstance(item, Drysuit)]) == bool(worn.undersuit)
    assert [item.tag for item in kit.items if isinstance(item, Suit)] == [foam.tag for foam in worn.foam]
    for stage in (item for item in kit.items if isinstance(item, FirstStage)):
        used = {split_port(hose.from_ or "")[1] for hose in kit.hoses if (hose.from_ or "").startswith(f"{stage.tag} ")}
        ports = {name.split()[0] for name in catalogue().presets["first_stage", stage.preset or ""].ports}
        assert used | set(stage.plugged) == ports
        assert not used & set(stage.plugged)


@pytest.mark.parametrize(
    ("text", "values"),
    [
        ("steel 12 L 232 long", {"preset": "steel 12 L 232 long"}),
        ("Aluminium  11.1 l 207", {"preset": "aluminium 11.1 L 207"}),
        ("steel 10 L 300 bar 15.4 kg", ("steel", "10 L", "300 bar", "15.4 kg")),
        ("Steel, 10 L, 300 bar, 15.4 kg", ("steel", "10 L", "300 bar", "15.4 kg")),
        ("aluminium 0.4 ft3 3000 psi 31 lb", ("aluminium", "0.4 ft3", "3000 psi", "31 lb")),
        ("steel 12 L 232 bar 14,2 kg", ("steel", "12 L", "232 bar", "14,2 kg")),
        (RATED_CYLINDER, ("aluminium", "80 cu ft at 3000 psi", "3000 psi", "31.4 lb")),
        ("Aluminium 80 cuft @ 3,000 psi, 14,2 kg", ("aluminium", "80 cuft at 3,000 psi", "3,000 psi", "14,2 kg")),
    ],
)
def test_a_cylinder_by_name_or_by_its_stamps(text: str, values: dict[str, str] | tuple[str, ...]) -> None:
    if isinstance(values, tuple):
        values = dict(zip(("metal", "volume", "working_pressure", "stamped_mass"), values, strict=True))
    assert cylinder_values(text) == values
    assert read_kit(kit_text(Answers("x", "jacket", cylinder=text))).kit is not None


@pytest.mark.parametrize(
    "text",
    [
        "",
        "steel",
        "brass 12 L 232 bar 14 kg",
        "steel 12 L 232 bar",
        "steel 12 L 14 kg 232 bar",
        "steel 12 L 232 bar 9 g",
    ],
)
def test_a_cylinder_that_is_neither_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(Refusal, match=TYPED_CYLINDER.replace(".", r"\.")):
        cylinder_values(text)


@pytest.mark.parametrize(
    ("text", "missing"),
    [
        ("80 cu ft at 3000 psi", "The metal and the stamped mass are missing"),
        ("aluminium 80 cu ft at 3000 psi", "The stamped mass is missing"),
        ("80 cuft@3000psi 31 lb", "The metal is missing"),
    ],
)
def test_a_rated_capacity_without_metal_or_mass_names_what_is_missing_and_as_large(text: str, missing: str) -> None:
    """80 cu ft at 3000 psi hold about 11.1 L of water: a cylinder of aluminium known by both, from memory."""
    with pytest.raises(Refusal, match=r"31\.4 lb") as refused:
        cylinder_values(text)
    assert refused.value.accepted.startswith(missing)
    assert 'or take "aluminium 11.1 L 207", about as large' in refused.value.accepted


def test_stamps_without_a_mass_are_refused_for_it() -> None:
    with pytest.raises(Refusal, match="stamped mass is missing"):
        cylinder_values("steel 13 L 232 bar")


@pytest.mark.parametrize(
    ("text", "near"),
    [
        ("80 cu ft at 3000 psi", {"aluminium 11.1 L 207"}),
        # HP100: a steel cylinder of 100 cu ft at 3442 psi and 12.9 L; LP85: 85 cu ft at 2640 psi, 13 L. From memory.
        ("HP100", {"steel 12 L 232 long", "steel 12 L 232 short", "steel 12 L 300"}),
        ("lp 85", {"steel 12 L 232 long", "steel 12 L 232 short", "steel 12 L 300"}),
        ("2x12", {"steel 12 L 232 long", "steel 12 L 232 short", "steel 12 L 300", "aluminium 12 L 207"}),
        ("D12", {"steel 12 L 232 long", "steel 12 L 232 short", "steel 12 L 300", "aluminium 12 L 207"}),
        ("500 cu ft at 3000 psi", set()),
        ("rubbish", set()),
    ],
)
def test_a_cylinder_that_is_perhaps_meant(text: str, near: set[str]) -> None:
    assert set(cylinders_near(text)) == near
    with pytest.raises(Refusal) as refused:
        cylinder_values(text)
    assert all(f'"{name}"' in refused.value.accepted for name in near)


def test_lead_of_several_sizes_is_an_item_each() -> None:
    """Dealt as the style has it, three to the belt and three to the pockets; without lead no item is left."""
    three = read_kit(kit_text(Answers("x", "jacket"), Adjusted(lead=(("2 kg", 4), ("0.5 kg", 1))))).kit
    assert three is not None
    found = [(item.tag, item.mass_kg, item.pieces, item.droppable) for item in three.items if isinstance(item, Lead)]
    assert found == [("belt", 2.0, 3, True), ("trim pockets", 2.0, 1, None), ("trim pockets 2", 0.5, 1, None)]
    none = read_kit(kit_text(Answers("x", "jacket"), Adjusted(lead=()))).kit
    assert none is not None
    assert not [item for item in none.items if isinstance(item, Lead)]
