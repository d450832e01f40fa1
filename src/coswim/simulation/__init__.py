"""Draws × months: the possible futures of the fish in one tank, as arrays."""
