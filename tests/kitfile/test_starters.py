"""Starting points: a new kit of each layout, a new item of each kind, and the names files may have."""

from pathlib import Path

import pytest

from kitbuilder.catalogue import catalogue
from kitbuilder.kit.fields import fields_of
from kitbuilder.kit.items import KINDS, LAYOUTS
from kitbuilder.kitfile.disk import UnreadableFile, complain_of_name, kit_paths, rename_file
from kitbuilder.kitfile.reader import read_kit
from kitbuilder.kitfile.starters import first_values, starter_text
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
        item = document.add_item(kind, first_values(kit, kind, word, tag), None)
        added = document.reading.kit.items[item]
        assert (added.kind, added.tag) == (kind, tag)
        if word:
            assert document.raw_value(item, "role" if kind == "hose" else "preset") == word
        else:
            assert not document.has(item, "preset"), "nobody asked for one"
    assert {kind for kind, _ in words} == set(KINDS)


@pytest.mark.parametrize("kind", KINDS)
def test_a_new_item_has_the_keys_it_needs_and_no_others(kind: str) -> None:
    """What nobody said is not made up; a hose alone is told more, by its role."""
    kit = read_kit(starter_text("single", "x")).kit
    assert kit is not None
    needed = [field.key for field in fields_of(KINDS[kind]) if field.required]
    assert list(first_values(kit, kind, None, "new")) == needed


# ---- names and folders ----


def test_the_kits_of_a_folder(tmp_path: Path) -> None:
    """By name, whatever the case; no hidden ones, no journals, nothing else."""
    for name in ("b.toml", "A.toml", "c.TOML", ".hidden.toml", ".b.toml.unsaved", "notes.txt", "toml"):
        (tmp_path / name).touch()
    assert [path.name for path in kit_paths(tmp_path)] == ["A.toml", "b.toml"]


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
        ("reef", "The name of a file here ends in .toml"),
        (".toml", "The name of a file here ends in .toml"),
        ("../reef.toml", "A plain name: "),
        ("a\\b.toml", "A plain name: "),
        (".reef.toml", "A plain name: "),
        ("re\x1bef.toml", "A plain name: "),
        ("re\nef.toml", "A plain name: "),
        ("\u202ereef.toml", "A plain name: "),
        (f"{'ü' * 100}.toml", "Shorter, please"),
        ("taken.toml", "There is such a file already"),
        ("dangling.toml", "There is such a file already"),
    ],
)
def test_a_name_for_a_new_file(name: str, complaint: str | None, tmp_path: Path) -> None:
    (tmp_path / "taken.toml").touch()
    (tmp_path / "dangling.toml").symlink_to("nowhere")
    found = complain_of_name(tmp_path, name)
    assert (found or "").startswith(complaint or "")
    assert (found is None) == (complaint is None)


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
