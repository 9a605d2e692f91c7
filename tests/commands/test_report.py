"""kitbuilder report: what belongs to each file, in one document."""

import json
import shutil

import pytest

from kitbuilder.report.words import CAUTIONS
from tests.commands.run import CAUTIOUS, CONFIGS, GOOD, TWINSET, run
from tests.html_reader import Document


def answer_to(*words, cwd=CONFIGS):
    return json.loads(run(*words, "--json", cwd=cwd).stdout)


def test_a_kit_has_its_figures_all_items_and_its_hoses_on_the_body():
    """Each answer is the one that its own command gives."""
    answer = answer_to("report", "twinset.toml")
    [check, fit] = answer["result"]["answers"]
    assert check == {"command": "check", "result": answer_to("check", "--items", "twinset.toml")["result"]}
    assert fit == {"command": "fit", "result": answer_to("fit", "twinset.toml")["result"]}
    assert [read["file"] for read in answer["files"]] == ["twinset.toml"]
    text = run("report", "twinset.toml", cwd=CONFIGS).stdout
    assert " ".join(text.split()).count(CAUTIONS[:60]) == 1
    assert "To buy, for each kit by itself" in text, "it names a gear file"


def test_kits_alone_are_set_side_by_side_before_the_answers_of_each():
    answer = answer_to("report", "warm-single.toml", "twinset.toml")
    compare, *others = answer["result"]["answers"]
    assert [each["command"] for each in others] == ["check", "fit"] * 2
    assert compare == {
        "command": "compare",
        "result": answer_to("compare", "warm-single.toml", "twinset.toml")["result"],
    }


def test_a_trip_has_its_card_its_spares_and_its_swaps(tmp_path):
    """Each answer is the one that its own command gives, below a heading; no swap would be no reason to look."""
    answers = answer_to("report", "trip-wreck.toml")["result"]["answers"]
    assert [each["command"] for each in answers] == ["trip", "card", "spares", "swaps"]
    for each in answers:
        assert each["result"] == answer_to(each["command"], "trip-wreck.toml")["result"]
    done = run("report", "trip-reef.toml", "-o", f"{tmp_path}/trip.html", cwd=CONFIGS)
    assert done.returncode == max(run(name, "trip-reef.toml", cwd=CONFIGS).returncode for name in ("trip", "card"))
    headings = [each.text for each in Document((tmp_path / "trip.html").read_text("utf-8")).headings if each.level == 2]
    places = [headings.index(name) for name in ("Card for the place of rental", "Spare parts", "Lighter items")]
    assert places == sorted(places)


def test_every_other_file_has_the_answer_of_what_it_holds():
    answer = answer_to("report", "trip-reef.toml", "gear.toml", "diver.toml", "stock.toml")
    assert [each["command"] for each in answer["result"]["answers"]] == [
        "trip",
        "card",
        "spares",
        "swaps",
        "gear",
        "check",
        "check",
    ]
    assert [read["holds"] for read in answer["files"]] == ["trip", "gear", "diver", "stock"]


def test_one_document_has_all_of_them(tmp_path):
    done = run("report", GOOD, f"{CONFIGS}/trip-reef.toml", "-o", f"{tmp_path}/all.html")
    assert done.returncode == 1
    document = Document((tmp_path / "all.html").read_text("utf-8"))
    assert document.wrong == []
    headings = [heading.text for heading in document.headings]
    assert headings[0] == "Reef single, warm water · Two weeks on the reef"
    assert {f"Hoses on the body: {GOOD}", "Lead and balance", "What it weighs"} <= {*headings}
    assert document.texts.count(CAUTIONS) == 1


def test_every_answer_about_several_files_stands_below_a_heading_that_names_its_file(tmp_path):
    """Those of the second level; what stands below one of them is about the same file."""
    run("report", GOOD, TWINSET, "-o", f"{tmp_path}/all.html")
    document = Document((tmp_path / "all.html").read_text("utf-8"))
    assert [heading.text for heading in document.headings if heading.level == 2] == [
        "Side by side",
        f"Reef single, warm water ({GOOD})",
        f"Hoses on the body: {GOOD}",
        f"Twinset, coast ({TWINSET})",
        f"Hoses on the body: {TWINSET}",
        "To buy, for each kit by itself",
    ]


def test_the_exit_code_is_the_worst_of_all(tmp_path):
    codes = [run("check", "--items", TWINSET).returncode, run("fit", TWINSET).returncode]
    assert run("report", TWINSET).returncode == max(codes)
    assert run("report", TWINSET, "gone.toml").returncode == 2
    done = run("report", "gone.toml", "-o", f"{tmp_path}/a.html")
    assert (done.returncode, done.stdout) == (2, "")
    assert not [*tmp_path.iterdir()]


@pytest.mark.parametrize("more", [(), ("--json",)])
def test_a_problem_is_said_once(tmp_path, more):
    """Though each command of a kit reads the files that it names."""
    kit = shutil.copy(CAUTIOUS, tmp_path / "kit.toml")
    done = run("report", "kit.toml", "gone.toml", *more, cwd=tmp_path)
    assert kit.exists()
    if not more:
        assert done.stderr.count("gone.toml") == 1
        return
    messages = [problem["message"] for problem in json.loads(done.stdout)["problems"]]
    assert len(messages) == len({*messages})
    assert [message for message in messages if "diver.toml" in message]
