"""After the fact: bouts, kinetics, comparison, what limits, the pace that holds."""
