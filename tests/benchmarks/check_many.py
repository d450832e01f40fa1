"""How long `coswim profile check` takes for large families; run by hand: `python tests/benchmarks/check_many.py`.

The profiles are the neon tetra's under invented names. Twice as many should take twice as long. Asserts nothing.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from itertools import islice, product
from pathlib import Path
from string import ascii_lowercase

from coswim.profiles.catalog import BUILT_IN, Catalog

SIZES = (500, 1000, 2000, 4000)


def write_family(folder: Path, size: int) -> None:
    """A family of invented species."""
    text = Catalog((BUILT_IN,)).find("neon tetra").path.read_text(encoding="utf-8")
    body = text[text.index("adult_length:") :]
    for letters in islice(product(ascii_lowercase, repeat=4), size):
        epithet = "".join(letters)
        head = f"scientific_name: Exemplum {epithet}\ncommon_names: [example {epithet}]\nfamily: Exemplidae\n"
        (folder / f"exemplum-{epithet}.yaml").write_text(head + body, encoding="utf-8")


def main() -> None:
    """Check each family once."""
    for size in SIZES:
        with tempfile.TemporaryDirectory() as folder:
            write_family(Path(folder), size)
            started = time.perf_counter()
            subprocess.run(
                [sys.executable, "-m", "coswim", "profile", "check", folder], check=True, capture_output=True
            )
            taken = time.perf_counter() - started
        print(f"{size:5} profiles {taken:6.2f} s, {1000 * taken / size:.2f} ms each")  # noqa: T201


if __name__ == "__main__":
    main()
