"""After buying: the dated steps, the stop rules, the diary and what follows from it."""
