"""`python -m coswim` is the same as the `coswim` command."""

from coswim.cli.main import run

run()
