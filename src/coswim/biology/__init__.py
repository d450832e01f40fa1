"""Pure functions of the sciences: arrays in, arrays out. No species, no plan and no YAML here."""
