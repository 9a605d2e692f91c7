"""What pyproject promises: the licence's text and the types ship with the package, and no types go unchecked."""

import tomllib
from importlib.resources import files
from pathlib import Path

ROOT = Path(__file__).parents[1]
PYPROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))


def test_the_licence_ships_in_the_package():
    text = (files("kitbuilder") / "LICENSE").read_text(encoding="utf-8")
    assert text.startswith("MIT License\n\nCopyright (c) 2026 the kitbuilder contributors\n")
    assert "The above copyright notice and this permission notice shall be included in all" in text
    assert PYPROJECT["project"]["license"] == "MIT"
    assert PYPROJECT["project"]["license-files"] == ["kitbuilder/LICENSE"]


def test_the_package_says_that_it_has_types():
    assert (files("kitbuilder") / "py.typed").is_file()


def test_every_module_of_ours_is_checked_strictly():
    """A disabled error code lets a misspelt attribute of a screen pass. Libraries may lack types, ours do not."""
    mypy = PYPROJECT["tool"]["mypy"]
    assert mypy["packages"] == ["kitbuilder"]
    assert mypy["strict"] is True
    assert "disable_error_code" not in mypy
    ours = [override for override in mypy.get("overrides", ()) if "kitbuilder" in str(override["module"])]
    assert ours == []
