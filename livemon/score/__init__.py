"""How good is the warning? Scenarios with known truth, an oracle, and the figures."""
