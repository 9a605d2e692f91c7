"""The reference page and the schemas in configs/ are what `kitbuilder format` prints."""

import json
from pathlib import Path

import pytest

from kitbuilder.kit.file_kinds import FILE_KINDS
from kitbuilder.kitfile.reference import json_schema, reference_page

CONFIGS = Path(__file__).parents[1] / "configs"


def test_the_page_is_up_to_date():
    assert (CONFIGS / "FORMAT.md").read_text(encoding="utf-8") == reference_page()


@pytest.mark.parametrize("holds", FILE_KINDS)
def test_the_schema_is_up_to_date(holds):
    assert json.loads((CONFIGS / f"{holds}.schema.json").read_text(encoding="utf-8")) == json_schema(FILE_KINDS[holds])
