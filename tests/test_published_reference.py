"""The reference page and the schema in configs/ are what `kitbuilder format` prints."""

import json
from pathlib import Path

from kitbuilder.kitfile.reference import json_schema, reference_page

CONFIGS = Path(__file__).parents[1] / "configs"


def test_the_page_is_up_to_date():
    assert (CONFIGS / "FORMAT.md").read_text(encoding="utf-8") == reference_page()


def test_the_schema_is_up_to_date():
    assert json.loads((CONFIGS / "kit.schema.json").read_text(encoding="utf-8")) == json_schema()
