"""How long a shortlist takes, beside the import floor and as the library grows; run by hand.

`python tests/benchmarks/shortlist.py` times the command at 500 draws for three tanks beside the import floor.
`python tests/benchmarks/shortlist.py 1000 10000` makes libraries of so many generated species, each like one of the
built-in ones under another name, and prints time, processor time (of both processes, which tells more on a busy
machine) and memory. Asserts nothing.
"""

from __future__ import annotations

import re
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from coswim.profiles.catalog import BUILT_IN, SOURCES_FILE, profile_files

EXAMPLES = Path(__file__).parents[2] / "examples"
FLOOR = [sys.executable, "-c", "import typer, pydantic, yaml, rich.console, numpy"]
RUNS = 5
MEGABYTE = 1024  # ru_maxrss is in kilobytes
PLAN = """
tank: {size: 180 x 60 x 60 cm, temperature: 26 C, ph: 7.0, hardness: 6 dGH}
residents: [{species: Polypterus endlicherii, length: 38 cm}]
"""
CODE = """
import sys
from pathlib import Path
from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.shortlist.making import shortlist
from coswim.simulation.scene import Effort
catalog = Catalog((Path(sys.argv[1]),))
read = read_plan(sys.argv[2], "plan.yaml", catalog)
found = shortlist(read, catalog, effort=Effort(draws=500), processes=2)
print(f"{found.looked_at} species, {len(found.entries)} would do")
"""


def seconds(command: list[str]) -> float:
    """Wall time of one run."""
    started = time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - started


def beside_the_floor() -> None:
    """Print medians and best times, all commands in turn so that a busy moment hits all."""
    commands = {"import floor": FLOOR} | {
        path.stem: [sys.executable, "-m", "coswim", "shortlist", str(path), "--draws", "500"]
        for path in sorted(EXAMPLES.glob("*.yaml"))
    }
    times: dict[str, list[float]] = {name: [] for name in commands}
    for _ in range(RUNS):
        for name, command in commands.items():
            times[name].append(seconds(command))
    floor, least = statistics.median(times["import floor"]), min(times["import floor"])
    for name, runs in times.items():
        middle = statistics.median(runs)
        print(  # noqa: T201
            f"{name:14} median {middle:.2f} s, {middle / floor:.1f} times the floor; "
            f"best {min(runs):.2f} s, {min(runs) / least:.1f} times"
        )


def generated(folder: Path, number: int) -> None:
    """Fill a folder with a library of so many species."""
    folder.mkdir()
    (folder / SOURCES_FILE).write_bytes((BUILT_IN / SOURCES_FILE).read_bytes())
    known = [path.read_text(encoding="utf-8") for path in profile_files(BUILT_IN)]
    for count in range(number):
        again, which = divmod(count, len(known))
        epithet = re.compile(r"^(scientific_name: \S+ [a-z]+)", re.MULTILINE)
        letters = "".join(chr(ord("a") + int(digit)) for digit in str(again))
        text = epithet.sub(rf"\1{letters if again else ''}", known[which])
        (folder / f"species-{count}.yaml").write_text(text, encoding="utf-8")


def as_it_grows(numbers: list[int]) -> None:
    """Print time and memory for libraries of so many species."""
    for number in numbers:
        with tempfile.TemporaryDirectory() as place:
            folder = Path(place) / "species"
            generated(folder, number)
            started, before = time.perf_counter(), processor_seconds()
            ran = subprocess.run(
                [sys.executable, "-c", CODE, folder, PLAN], check=True, stdout=subprocess.PIPE, text=True
            )
            spent, worked = time.perf_counter() - started, processor_seconds() - before
        most = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / MEGABYTE
        print(  # noqa: T201
            f"{number:6} species: {spent:.1f} s; {worked:.1f} s of processor, {1000 * worked / number:.1f} ms each; "
            f"largest process so far {most:.0f} MB ({ran.stdout.strip()})",
            flush=True,
        )


def processor_seconds() -> float:
    """Of all processes that were started and have ended."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


if __name__ == "__main__":
    if sys.argv[1:]:
        as_it_grows([int(number) for number in sys.argv[1:]])
    else:
        beside_the_floor()
