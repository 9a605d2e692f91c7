"""`kitbuilder completion`: its scripts say what the parsers of today take, and shells accept them."""

import json
import shutil
import subprocess
from pathlib import Path

import pytest

from kitbuilder.commands import NAMES
from kitbuilder.commands.completion import FOLDER, SHELLS
from tests.commands.completions import scripts
from tests.commands.run import run


def test_the_scripts_are_those_of_the_parsers():
    """Where this fails, run `.ci/check generate`."""
    kept = {shell: (FOLDER / f"kitbuilder.{shell}").read_text(encoding="utf-8") for shell in SHELLS}
    assert kept == dict(scripts())


@pytest.mark.parametrize("shell", SHELLS)
def test_the_script_is_printed_as_it_is(shell):
    done = run("completion", shell)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout == (FOLDER / f"kitbuilder.{shell}").read_text(encoding="utf-8")
    said = json.loads(run("completion", shell, "--json").stdout)["result"]
    assert said == {"shell": shell, "script": done.stdout}


def test_another_shell_is_refused():
    done = run("completion", "cmd")
    assert (done.returncode, done.stdout) == (2, "")
    assert "bash" in done.stderr


@pytest.mark.parametrize("shell", SHELLS)
def test_the_shell_accepts_its_script(shell):
    """Of those that are installed here."""
    program = shutil.which(shell)
    if program is None:
        pytest.skip(f"{shell} is not installed")
    done = subprocess.run([program, "-n", FOLDER / f"kitbuilder.{shell}"], capture_output=True, check=False)
    assert (done.returncode, done.stderr) == (0, b"")


def completed(folder: Path, *words: str) -> set[str]:
    """What bash offers for the last of some words, with the script loaded as its help says."""
    bash = shutil.which("bash")
    if bash is None:
        pytest.skip("bash is not installed")
    typed = " ".join(f"'{word}'" for word in ("kitbuilder", *words))
    asked = (
        f"source '{FOLDER}/kitbuilder.bash'; COMP_WORDS=({typed}); COMP_CWORD={len(words)}; "
        '_shtab_kitbuilder; printf "%s\\n" "${COMPREPLY[@]}"'
    )
    done = subprocess.run([bash, "-c", asked], cwd=folder, capture_output=True, text=True, check=True, timeout=20)
    return set(done.stdout.split())


def test_bash_completes_commands_options_words_and_files(tmp_path):
    for name in ("reef.toml", "river.toml"):
        (tmp_path / name).touch()
    assert completed(tmp_path, "che") == {"check"}
    assert completed(tmp_path, "") >= set(NAMES)
    assert completed(tmp_path, "--pl") == {"--plain-pictures"}
    assert completed(tmp_path, "ballast", "--cy") == {"--cylinder"}
    assert completed(tmp_path, "fit", "--layout", "side") == {"sidemount"}
    assert completed(tmp_path, "check", "re") == {"reef.toml"}
    assert completed(tmp_path, "fewest", "reef.toml", "ri") == {"river.toml"}
