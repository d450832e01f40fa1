"""The command line: parse, call, render; it decides nothing."""
