"""The command line: parse, call, render; it decides nothing."""

import os

# Pydantic looks through every installed package for plugins, which takes longer than reading a plan.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
