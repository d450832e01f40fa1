"""coswim screens proposed tankmates against the fish already in a freshwater aquarium."""

__version__ = "0.1.0"
