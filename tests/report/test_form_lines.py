"""How a form is shown: in groups, the empty keys folded away, nothing cut, and the help for one key."""

from pathlib import Path

import pytest

from kitbuilder.assess.assessment import assess
from kitbuilder.assess.defaults import default_in_kit
from kitbuilder.foreign import visible
from kitbuilder.kit.diver import DiverHeader, FloatCheck
from kitbuilder.kit.fields import Field, Group, ValueKind, field_named, fields_of
from kitbuilder.kit.gear import GEAR_KINDS, GearHeader
from kitbuilder.kit.items import KINDS, Cylinder, Header, Hose, Kit
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.read import read
from kitbuilder.report.diver import default_for_diver
from kitbuilder.report.form import FormRow, form_rows, format_default
from kitbuilder.report.form_lines import (
    FormPart,
    Head,
    More,
    form_parts,
    label_width,
    more_help,
    part_lines,
    row_help,
)
from kitbuilder.report.gear_form import gear_rows
from kitbuilder.report.lines import plain, wrapped
from kitbuilder.report.numbers import System
from tests.assess.kits import CASES_FOLDER, CONFIGS
from tests.each import each

CHOSEN = {
    ValueKind.CHOICE,
    ValueKind.WHOLE,
    ValueKind.FLAG,
    ValueKind.FILE,
    ValueKind.OWNED,
    ValueKind.TAG,
    ValueKind.PORT,
}
"""The kinds of values that are chosen from a list."""

METRIC, IMPERIAL = System
NOBODY: frozenset[str] = frozenset()
IN_A_PANE = {"80 columns": 35, "120 columns": 32, "a narrow pane": 24}
"""The columns that the bench has for a row of the form: its pane less the cursor and the scroll bar."""


def rows_of(record: type, **values: str) -> tuple[FormRow, ...]:
    """The rows of a form that has these values and no notes."""
    return tuple(FormRow(field, field.label, values.get(field.key, ""), "") for field in fields_of(record))


def names(parts: tuple[FormPart, ...]) -> list[str]:
    """The parts of a form as words: keys, heads in capitals, and how many keys are folded."""
    return [
        part.field.key
        if isinstance(part, FormRow)
        else part.title.upper()
        if isinstance(part, Head)
        else f"{part.keys}"
        for part in parts
    ]


# ---- groups and folding ----


def test_a_hose_is_shown_by_what_its_keys_are_about() -> None:
    """Of its 30 keys 23 are the hose's and 7 every item's. 8 are always shown, 2 more are given, 20 are folded."""
    rows = rows_of(Hose, tag="h", role="primary", body="rubber", length="75 cm", span="40 cm", to_end="x")
    assert len(rows) == 30
    assert names(form_parts(rows, NOBODY, is_open=False)) == [
        *("tag", "role", "body", "WHERE IT GOES", "from", "to", "LENGTH AND RUN", "length", "run", "span"),
        *("ENDS AND THREADS", "to_end", "WEIGHED", "mass", "20"),
    ]


def test_keys_that_are_asked_for_are_never_folded() -> None:
    """Required ones, those that a form always shows, and those with a finding; which item it is comes second."""
    rows = rows_of(Hose)
    shown = names(form_parts(rows, {"owned", "bore"}, is_open=False))
    assert shown[:5] == ["tag", "owned", "role", "body", "bore"]
    assert shown[-1] == "20"


def test_unfolded_keys_stand_below_their_line_and_none_is_lost() -> None:
    for record in (Header, *KINDS.values(), DiverHeader, FloatCheck, GearHeader, *GEAR_KINDS.values()):
        rows = rows_of(record)
        closed, opened = (form_parts(rows, NOBODY, is_open=is_open) for is_open in (False, True))
        assert opened[: len(closed) - 1] == closed[:-1]
        more = opened[len(closed) - 1]
        assert isinstance(more, More)
        assert more.keys == len(opened) - len(closed)
        assert sorted(part.field.key for part in opened if isinstance(part, FormRow)) == sorted(
            field.key for field in fields_of(record)
        )


def test_the_name_comes_first_and_what_the_program_needs_last() -> None:
    """The declaration of a kit file begins with the version of its format, that of a gear file also with `holds`."""
    assert names(form_parts(rows_of(Header), NOBODY, is_open=False))[:3] == ["name", "layout", "format"]
    assert names(form_parts(rows_of(GearHeader), NOBODY, is_open=False))[:3] == ["name", "format", "holds"]


def test_a_measured_run_says_that_it_is_by_string() -> None:
    """In both units; a length, which anyone can have stated, says nothing."""
    run = {row.label: row for row in forms_of(CONFIGS / "cold-single.toml")[2]}
    assert (run["run"].note, run["length"].note) == ("by string", "")
    document = Document(CONFIGS / "cold-single.toml", read(CONFIGS / "cold-single.toml").file)
    rows = form_rows(document.reading.contents, {"run": "134 cm"}, 1, IMPERIAL, lambda _: "")
    assert next(row.note for row in rows if row.label == "run") == "= 52.8 in, by string"


def test_a_form_with_every_key_given_has_nothing_folded() -> None:
    rows = rows_of(Hose, **{field.key: "x" for field in fields_of(Hose)})
    assert not any(isinstance(part, More) for part in form_parts(rows, NOBODY, is_open=False))


@pytest.mark.parametrize(
    ("record", "key", "group"),
    [
        (Hose, "path", Group.WHERE),
        (Hose, "stowed", Group.LENGTH),
        (Hose, "from_adapter", Group.ENDS),
        (Cylinder, "oxygen", Group.GAS),
        (Cylinder, "stamped_mass", Group.WEIGHED),
        (GEAR_KINDS["hose"], "from_end", Group.ENDS),
        (GEAR_KINDS["cylinder"], "tested", Group.UPKEEP),
        (GEAR_KINDS["gauge"], "kept_in", Group.WHERE),
        (DiverHeader, "neck", Group.BODY),
        (FloatCheck, "by", Group.CHECK),
        (Header, "stop", Group.DIVE),
        (Header, "gear", Group.FILES),
        (Header, "notes", Group.NOTES),
    ],
)
def test_what_a_key_is_about(record: type, key: str, group: Group) -> None:
    assert field_named(record, key).group is group


# ---- lines ----


def lines_of(part: FormPart, width: int, labels: int) -> list[str]:
    return [plain(line) for line in part_lines(part, width, labels)]


def test_a_note_stands_behind_its_value_or_below_it() -> None:
    """12 columns of labels, 12 and 20 for values; a note without a value takes its place, and else a dot does."""
    field = field_named(Hose, "mass")
    row = FormRow(field, "mass", "0.2 kg", "as given")
    assert lines_of(row, 32, 12) == ["mass        0.2 kg  as given"]
    assert lines_of(row, 24, 12) == ["mass        0.2 kg", "            as given"]
    assert lines_of(row._replace(value=""), 32, 12) == ["mass        as given"]
    assert lines_of(row._replace(value="", note=""), 32, 12) == ["mass        ·"]
    assert [[span.role for span in line] for line in part_lines(row, 32, 12)] == [["label", "", "note"]]


def test_long_labels_and_values_take_more_lines() -> None:
    row = FormRow(field_named(KINDS["gauge"], "buoyancy"), "buoyancy in fresh water", "-0.12 kg", "")
    labels = label_width([row])
    assert lines_of(row, 30, labels) == ["buoyancy in    -0.12 kg", "fresh water    "]
    path = FormRow(field_named(Hose, "path"), "path", "left hip ring, left flank", "")
    assert lines_of(path, 20, 6) == ["path  left hip ring,", "      left flank"]


def test_heads_and_the_last_line_fill_the_width() -> None:
    assert lines_of(Head("weighed"), 16, 6) == ["─ weighed ──────"]
    assert lines_of(More(1, is_open=False), 34, 6) == ["─ more: 1 key at its default ─────"]
    assert lines_of(More(15, is_open=True), 34, 6) == ["─ more: 15 keys at their default ─"]
    assert lines_of(More(15, is_open=True), 32, 6) == ["─ more: 15 keys at their default"]
    assert lines_of(More(15, is_open=True), 31, 6) == ["─ more: 15 ".ljust(31, "─")]


def shipped_files() -> list[Path]:
    """Every kit, diver and gear file that is shipped, and those of users, that can be read."""
    paths = sorted((*CONFIGS.glob("*.toml"), *CASES_FOLDER.glob("*/*.toml")))
    found = [path for path in paths if (reading := read(path)).contents is not None and reading.file.name != "stock"]
    assert len(found) >= 15
    return found


def forms_of(path: Path) -> list[tuple[FormRow, ...]]:
    """The forms of a file: of its top, and of every item."""
    document = Document(path, read(path).file)
    contents = document.reading.contents
    assert contents is not None
    assessment = assess(document.resolved_kit()) if isinstance(contents, Kit) else None
    forms = []
    for number in (None, *range(len(contents.items))):
        record = contents.header if number is None else contents.items[number]
        keys = [field.key for field in fields_of(type(record)) if document.has(number, field.key)]
        raw = {key: document.raw_value(number, key) for key in keys}

        def taken(field: Field, number: int | None = number) -> str:
            if assessment is not None:
                return format_default(default_in_kit(assessment, number, field), METRIC)
            entry = None if number is None else contents.items[number]
            return default_for_diver(contents, entry, field, METRIC)

        is_gear = document.file.name == "gear"
        make = gear_rows(contents, raw, number, METRIC) if is_gear else form_rows(contents, raw, number, METRIC, taken)
        forms.append(make)
    return forms


def squeezed(text: str) -> str:
    """A text without its spaces, so that it is the same however it is wrapped."""
    return "".join(text.split())


@each("path", shipped_files())
def test_nothing_is_cut_off(path: Path) -> None:
    """Every label, value and note stands in the lines in full, and no line is wider than its pane."""
    for rows in forms_of(path):
        labels = label_width(rows)
        for row in rows:
            for pane, width in IN_A_PANE.items():
                lines = part_lines(row, width, labels)
                assert all(len(plain(line)) <= width for line in lines), f"{row.label}, {pane}"
                shown = squeezed("".join(span.text for line in lines for span in line[1:]))
                assert shown == squeezed(visible(row.value + row.note) or "·"), f"{row.label}, {pane}"
                assert squeezed("".join(line[0].text for line in lines)) == squeezed(row.label)


# ---- help ----


@pytest.mark.parametrize(
    ("record", "key", "value", "note", "system", "says"),
    [
        (Hose, "length", "75 cm", "", METRIC, "Length that the seller states. A bare number is taken as cm."),
        (Hose, "length", "", "", IMPERIAL, "Length that the seller states. A bare number is taken as in. Required."),
        (Hose, "length", "2 ft", "", METRIC, "Length that the seller states. A bare number is taken as ft."),
        (Hose, "make", "", "", METRIC, f"{field_named(Hose, 'make').meaning} Default: none."),
        (Hose, "make", "red", "", METRIC, field_named(Hose, "make").meaning),
        (DiverHeader, "stature", "", "171 cm, average", METRIC,
         "Body height. A bare number is taken as cm. Default: 171 cm, average."),
    ],
)  # fmt: skip
def test_the_help_says_meaning_unit_and_default(
    record: type, key: str, value: str, note: str, system: System, says: str
) -> None:
    field = field_named(record, key)
    assert row_help(FormRow(field, field.label, value, note), system) == says


def test_a_default_of_the_schema_comes_last_and_once() -> None:
    """The unit stands before it."""
    field = field_named(Cylinder, "reserve")
    assert field.meaning.endswith(" Default: 50 bar.")
    found = row_help(FormRow(field, "reserve", "", "50 bar, as usual"), METRIC)
    assert found.endswith(" A bare number is taken as bar. Default: 50 bar.")
    assert found.count("Default") == 1


def test_what_a_key_means_fits_above_its_choices() -> None:
    """In three lines of a dialog of 76 columns, four of them its border and padding."""
    records = (Header, *KINDS.values(), DiverHeader, FloatCheck, GearHeader, *GEAR_KINDS.values())
    for record in records:
        for field in fields_of(record):
            assert len(wrapped(field.meaning, 72)) <= 3 or field.kind not in CHOSEN, field.key


def test_a_buoyancy_says_that_it_is_read_in_fresh_water() -> None:
    for kind, record in KINDS.items():
        fields = [field for field in fields_of(record) if field.key == "buoyancy"]
        assert all(field.label == "buoyancy in fresh water" and "fresh water" in field.meaning for field in fields), (
            kind
        )


def test_the_last_line_says_what_enter_does() -> None:
    assert more_help(More(9, is_open=False), "bore").startswith('"bore" is among them. ')
    assert more_help(More(9, is_open=False), "") == "The file does not give these keys. Enter shows them."
    assert more_help(More(9, is_open=True), "bore") == "Enter hides the keys below."
