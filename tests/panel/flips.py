"""Which verdicts of the examples and panels flip with the seed, and whether the output says that they lie on an edge.

`python -m tests.panel.flips [SEEDS] [FIRST] [PANEL ...]` screens every pairing with a few seeds from FIRST on, and those
that flip or say that they lie on an edge with all SEEDS. It prints each that flips: how often each verdict was given,
and how many of these runs said that it lies on an edge. A flip is silent where a run gives another verdict than the
commonest and does not name the commonest as close: who has only that run is told one thing where nearly all others are
told another. A run of the commonest need not name what one seed in many says.
"""

from __future__ import annotations

import sys
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

from tests.panel.agreement import PANELS, rows

from coswim.plans.reading import read_plan
from coswim.profiles.catalog import BUILT_IN, Catalog
from coswim.screening import screen
from coswim.simulation.scene import Effort
from coswim.verdict.rating import Verdict

EXAMPLES = "examples"
FEW = 6
"""Seeds with which all are screened; those that never flip or say an edge are left at that."""
CATALOG = Catalog((BUILT_IN,))


def plans(panels: Sequence[str]) -> Iterator[tuple[str, str]]:
    """Every plan with its name, `panel:id`."""
    for panel in panels:
        if panel == EXAMPLES:
            for file in sorted((Path(__file__).parents[2] / EXAMPLES).glob("*.yaml")):
                yield f"{panel}:{file.stem}", file.read_text(encoding="utf-8")
        else:
            yield from ((f"{panel}:{row.id}", row.plan) for row in rows(panel))


def verdicts(plan: tuple[str, str], seeds: Sequence[int]) -> dict[str, list[Verdict]]:
    """The verdicts on each proposal of a plan, a seed each; on the tank as it stands too where it is an example."""
    name, text = plan
    read = read_plan(text, name, CATALOG)
    found: dict[str, list[Verdict]] = defaultdict(list)
    for tried, seed in enumerate(seeds, start=1):
        screening = screen(read, CATALOG, Effort(seed=seed), remedies=False)
        for one in (*screening.proposals, *([screening.as_it_stands] if name.startswith(EXAMPLES) else [])):
            found[f"{name} {one.name}"].append(one.verdict)
        if tried == FEW and all(
            len({run.words for run in runs}) == 1 and not any(run.close_to for run in runs) for runs in found.values()
        ):
            break
    return found


def is_silent(runs: Sequence[Verdict]) -> bool:
    """A run gives another verdict than the commonest, and does not name the commonest as close."""
    ((commonest, _),) = Counter(run.words for run in runs).most_common(1)
    return any(commonest not in (run.words, *run.close_to) for run in runs)


def main(seeds: range, panels: Sequence[str]) -> None:
    """Print every flip, and for each panel the pairings, the flips, the silent ones, and how many runs say an edge."""
    show = sys.stdout.write
    told: dict[str, Counter[str]] = defaultdict(Counter)
    with ProcessPoolExecutor(2) as pool:
        for found in pool.map(partial(verdicts, seeds=seeds), plans(panels)):
            for name, runs in found.items():
                count = told[name.partition(":")[0]]
                flips = len({run.words for run in runs}) > 1
                first = runs[:FEW]
                count.update(all=1, flips=flips, silent=is_silent(runs), runs=len(first))
                count.update(edges=sum(bool(run.close_to) for run in first))
                if flips:
                    edges = Counter(run.words for run in runs if run.close_to)
                    said = [
                        f"{n} {words} ({edges[words]} on an edge)"
                        for words, n in Counter(r.words for r in runs).items()
                    ]
                    show(f"{name}: {', '.join(said)}{'; SILENT' if is_silent(runs) else ''}\n")
                    sys.stdout.flush()
    show(f"{'panel':22}{'pairings':>10}{'flip':>10}{'silent':>10}{'on an edge':>12}\n")
    for panel, count in told.items():
        told_edge = f"{count['edges'] / count['runs']:.1%}"
        show(f"{panel:22}{count['all']:>10}{count['flips']:>10}{count['silent']:>10}{told_edge:>12}\n")


if __name__ == "__main__":
    number, first = (int(word) for word in (sys.argv[1:3] + ["30", "1"][len(sys.argv[1:3]) :]))
    main(range(first, first + number), sys.argv[3:] or (EXAMPLES, *PANELS))
