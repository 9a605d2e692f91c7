"""`kitbuilder check` on a thousand kit files against `tomllib.load` alone on the same files, in pairs in one run."""

import contextlib
import io
import statistics
import tempfile
import time
import tomllib
from pathlib import Path

from kitbuilder.cli import main as kitbuilder

FILES, PAIRS, MOST = 1000, 5, 3.0
CONFIGS = Path(__file__).parents[2] / "configs"


def write_files(folder: Path) -> list[Path]:
    """A thousand kits, no two alike: the shipped ones with other names, lengths and runs."""
    diver = CONFIGS / "diver.toml"
    (folder / diver.name).write_text(diver.read_text())
    texts = [path.read_text() for path in sorted(CONFIGS.glob("*.toml")) if path != diver]
    paths = []
    for number in range(FILES):
        text = texts[number % len(texts)].replace('name   = "', f'name   = "{number} ')
        text = text.replace('"61 cm"', f'"{56 + number % 30} cm"').replace('"30 cm"', f'"{30 + number / 100:.2f} cm"')
        path = folder / f"{number:04}.toml"
        path.write_text(text)
        paths.append(path)
    return paths


def time_loading(paths: list[Path]) -> float:
    """Seconds to parse all files with tomllib alone."""
    start = time.perf_counter()
    for path in paths:
        with path.open("rb") as file:
            tomllib.load(file)
    return time.perf_counter() - start


def time_checking(paths: list[Path]) -> float:
    """Seconds to check all files, the text printed to memory."""
    start = time.perf_counter()
    with contextlib.redirect_stdout(io.StringIO()):
        kitbuilder(["check", *map(str, paths)])
    return time.perf_counter() - start


def main() -> None:
    """Take the pairs and print the median ratio."""
    with tempfile.TemporaryDirectory() as folder:
        paths = write_files(Path(folder))
        time_checking(paths[:10]), time_loading(paths[:10])
        pairs = [(time_checking(paths), time_loading(paths)) for _ in range(PAIRS)]
    ratios = [checking / loading for checking, loading in pairs]
    print(f"check of {FILES} files: median ratio {statistics.median(ratios):.2f} to tomllib alone", end="")
    print(f" (min {min(ratios):.2f}, max {max(ratios):.2f}); at most {MOST}")
    checking, loading = (statistics.median(column) for column in zip(*pairs, strict=True))
    print(f"  medians: check {checking:.2f} s, load {loading:.2f} s")


if __name__ == "__main__":
    main()
