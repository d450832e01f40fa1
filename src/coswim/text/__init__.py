"""Text at the border: strict YAML, quantities, and problems that say where and what is allowed."""
